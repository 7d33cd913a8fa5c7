// Schedule of circuits: what to connect, what to expect.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

#include "paper/install.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr const char* dash = "–";

Column number(const char* title, const std::string& unit = "") { return {title, unit, Anchor::end}; }

template <class Things>
std::string id_of(const Things& things, int index) {
  return index == piping::none ? std::string(dash) : things[at(index)].id;
}

std::string run_list(const Pack& pack, const power::Circuit& circuit) {
  std::string text;
  for (const int run : circuit.runs) text += (text.empty() ? "" : ", ") + pack.job.runs[at(run)].id;
  return text;
}

std::string limits_passed(const power::Circuit& circuit) {
  std::string text;
  if (circuit.over_length) text += "too long ";
  if (circuit.over_load) text += "overloaded ";
  if (!circuit.ground_fault) text += "no ground-fault protection";
  return text.empty() ? "" : "\n! " + text;
}

std::string place_text(const Pack& pack, const power::Circuit& circuit) {
  return unbroken(
      fmt::format("{}: {}", id_of(pack.job.panels, circuit.panel), fmt::join(circuit.places, ", ")));
}

std::string switch_text(const Pack& pack, const power::Circuit& circuit) {
  if (circuit.group == piping::none) return dash;
  return pack.job.groups[at(circuit.group)].id +
         (switching_of(pack.plan, circuit.group).contactor ? ", contactor" : ", own contacts");
}

std::string or_dash(const std::string& text) { return text.empty() ? dash : unbroken(text); }

std::string conduit_text(const power::BranchWiring& wiring) {
  if (wiring.conduit.empty()) return dash;
  std::string text = unbroken(wiring.conduit_kind + " " + wiring.conduit);
  if (wiring.circuits_in_conduit > 1) text += fmt::format(" for {}", wiring.circuits_in_conduit);
  return text;
}

std::vector<std::string> connect_row(const Pack& pack, const power::Circuit& circuit) {
  const auto length = [&](double length_m) { return pack.show.number(length_m, Kind::length); };
  return {circuit.id,
          place_text(pack, circuit),
          circuit.phase,
          count(circuit.breaker_a),
          fmt::format("{}", circuit.poles),
          circuit.ground_fault ? count(circuit.ground_fault_trip_a * 1000) : "none!",
          switch_text(pack, circuit),
          circuit.wiring.conductor.empty() ? "none will do!" : unbroken(circuit.wiring.conductor),
          or_dash(circuit.wiring.earth),
          conduit_text(circuit.wiring),
          length(circuit.wiring.one_way_m),
          node_name(pack.plan, circuit.feed_node),
          cable_name(pack.job, circuit.cable),
          length(circuit.cable_length_m),
          length(circuit.max_length_m),
          fmt::format("{}", circuit.tee_nodes.size()),
          fmt::format("{}", circuit.end_nodes.size()),
          run_list(pack, circuit) + limits_passed(circuit)};
}

Table connect_table(const Pack& pack) {
  const std::string length = pack.show.unit(Kind::length);
  Table table;
  table.columns = {{"Circuit", ""},
                   {"Panel and positions", ""},
                   {"Line", ""},
                   number("Breaker", "A"),
                   number("Poles"),
                   number("Ground fault", "mA"),
                   {"Controller, switched by", ""},
                   {"Wires, 2 of", ""},
                   {"Earth", ""},
                   {"Conduit", ""},
                   number("One way", length),
                   {"Fed at", ""},
                   {"Heating cable", ""},
                   number("Cable", length),
                   number("Longest allowed", length),
                   number("Tees"),
                   number("Ends"),
                   {"Runs, upstream first", "", Anchor::start, 26}};
  table.size_pt = 6.6;
  table.pad_y_mm = 0.5;
  for (const power::Circuit& circuit : pack.plan.circuits)
    table.rows.push_back({Row::Kind::plain, connect_row(pack, circuit)});
  return table;
}

// The verdict alone: what it asks for stands once above the table.
std::string verdict_text(const power::StartVerdict& start) {
  if (start.course.empty()) return "not judged";
  const std::string_view words = rules::words(start.check.verdict);
  return std::string(words.substr(0, words.find(':')));
}

// What must not be used where no steady state was found.
std::string if_steady(const power::Circuit& circuit, std::string text) {
  return circuit.steady ? std::move(text) : dash;
}

std::vector<std::string> expect_row(const Pack& pack, const power::Circuit& circuit) {
  const auto volts = [&](double value_v) { return value_v > 0 ? count(value_v, 1) : std::string(dash); };
  return {circuit.id,
          if_steady(circuit, count(circuit.working_a, 1)),
          if_steady(circuit, count(circuit.working_w)),
          count(circuit.settled_a, 1),
          count(circuit.peak_a, 1),
          count(circuit.breaker_a),
          if_steady(circuit, volts(circuit.feed_v)),
          if_steady(circuit, volts(circuit.far_v)),
          if_steady(circuit, node_name(pack.plan, circuit.far_node)),
          if_steady(circuit, count(circuit.feeder_drop_frac * 100, 1)),
          if_steady(circuit, count(circuit.far_drop_frac * 100, 1)),
          count(circuit.leakage_a * 1000, 1),
          verdict_text(circuit.start),
          circuit.start.course.empty() ? dash : count(circuit.start.delay_s)};
}

Table expect_table(const Pack& pack) {
  Table table;
  table.columns = {{"Circuit", ""},
                   number("At maintain", "A"),
                   number("At maintain", "W"),
                   number("300 s after start", "A"),
                   number("Peak at start", "A"),
                   number("Breaker", "A"),
                   number("At the power connection", "V"),
                   number("At the lowest end", "V"),
                   {"Lowest end", ""},
                   number("Drop in wiring", "%"),
                   number("Drop in cable", "%"),
                   number("Leakage", "mA"),
                   {"Start, by the breaker standard", ""},
                   number("Starts after", "s")};
  table.size_pt = 7;
  table.pad_y_mm = 0.5;
  for (const power::Circuit& circuit : pack.plan.circuits)
    table.rows.push_back({Row::Kind::plain, expect_row(pack, circuit)});
  return table;
}

}  // namespace

void circuit_schedule(Book& book, const Pack& pack) {
  part(book, "Circuit schedule", Book::Way::wide);
  heading(book, "What to connect", 30);
  paragraph(book,
            "Positions are a proposal: see the panel schedules. One way: length of the wiring from the panel "
            "to the "
            "power connection, an estimate. Longest allowed: of cable on this breaker.",
            small_style);
  flow(book, connect_table(pack));
  heading(book, "What to expect", 30);
  paragraph(
      book,
      "Panel at nominal voltage. At maintain: switched on, pipes at what they hold; volts and drops too, in "
      "per cent of the panel's voltage. Start: from the coldest pipe. A start that is not assured by the "
      "standard may well ride through: ask for the breaker maker's curve.",
      small_style);
  flow(book, expect_table(pack));
}

}  // namespace firstdraw::paper
