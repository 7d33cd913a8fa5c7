// Schedule of runs: what to build, what it holds.
#include <fmt/format.h>

#include <algorithm>

#include "paper/sheets.hpp"

namespace firstdraw::paper {
namespace {

constexpr const char* dash = "–";

const plan::RunPlan& plan_of(const Pack& pack, int run) {
  return pack.plan.runs[static_cast<std::size_t>(run)];
}

std::string circuit_id(const Pack& pack, int circuit) {
  return circuit == piping::none ? dash : pack.plan.circuits[static_cast<std::size_t>(circuit)].id;
}

// Runs by level, lowest first, in the job's order within a level; levels the job does not know come last.
template <class MakeRow>
void rows_by_level(const Pack& pack, Table& table, MakeRow make_row) {
  std::vector<job::Level> levels = pack.job.levels;
  std::ranges::stable_sort(levels, {}, &job::Level::elevation_m);
  const auto known = [&](const std::string& id) {
    return std::ranges::find(levels, id, &job::Level::id) != levels.end();
  };
  const auto add = [&](const std::string& heading, auto belongs) {
    bool first = true;
    for (int run = 0; run < std::ssize(pack.job.runs); ++run) {
      if (!belongs(pack.job.runs[static_cast<std::size_t>(run)])) continue;
      std::vector<std::string> cells = make_row(run);
      if (cells.empty()) continue;
      if (first) table.rows.push_back({Row::Kind::group, {heading}});
      first = false;
      table.rows.push_back({Row::Kind::plain, std::move(cells)});
    }
  };
  for (const job::Level& level : levels)
    add(level.name.empty() ? level.id : level.name,
        [&](const job::Run& run) { return run.level == level.id; });
  add("Other", [&](const job::Run& run) { return !known(run.level); });
}

std::string thickness(const Pack& pack, int run) {
  const physics::InsulationSize& size = plan_of(pack, run).insulation;
  return size.nominal_thickness_m > 0 ? pack.show.number(size.nominal_thickness_m, Kind::size) : dash;
}

std::vector<std::string> build_row(const Pack& pack, int index) {
  const job::Run& run = pack.job.runs[static_cast<std::size_t>(index)];
  const plan::RunPlan& planned = plan_of(pack, index);
  const bool traced = planned.cable != piping::none;
  return {run.id,
          run.from + " – " + run.to,
          space_name(pack.job, run.space),
          pipe_name(run.pipe),
          pack.show.number(run.length_m, Kind::length),
          insulation_name(run.insulation),
          thickness(pack, index),
          planned.insulation.made_for.empty() ? dash : unbroken(planned.insulation.made_for),
          traced ? cable_name(pack.job, planned.cable) : "not traced",
          traced ? fmt::format("{}", planned.passes) : dash,
          traced ? pack.show.number(planned.cable_length_m, Kind::length) : dash,
          circuit_id(pack, planned.circuit)};
}

void build_table(Book& book, const Pack& pack) {
  const std::string length = pack.show.unit(Kind::length);
  Table table;
  table.columns = {{"Run", ""},
                   {"From – to", ""},
                   {"Space", ""},
                   {"Pipe", ""},
                   {"Length", length, Anchor::end},
                   {"Insulation", ""},
                   {"Thick- ness", pack.show.unit(Kind::size), Anchor::end},
                   {"Sized for", ""},
                   {"Heating cable", ""},
                   {"Passes", "", Anchor::end},
                   {"Cable", length, Anchor::end},
                   {"Circuit", ""}};
  rows_by_level(pack, table, [&](int run) { return build_row(pack, run); });
  table.rows.push_back({Row::Kind::total,
                        {"Traced", "", "", "", pack.show.number(pack.plan.totals.traced_m, Kind::length), "",
                         "", "", "", "", pack.show.number(pack.plan.totals.cable_m, Kind::length), ""}});
  flow(book, table);
}

std::vector<std::string> hold_row(const Pack& pack, int index) {
  const plan::RunPlan& planned = plan_of(pack, index);
  if (planned.cable == piping::none) return {};
  const job::Run& run = pack.job.runs[static_cast<std::size_t>(index)];
  const auto degrees = [&](double temp_c) { return pack.show.number(temp_c, Kind::temperature); };
  return {run.id,
          run.group,
          planned.run_class,
          pack.show.number(planned.loss_w_per_m, Kind::power_per_length),
          pack.show.number(planned.output_w_per_m, Kind::power_per_length),
          percent(planned.spare_frac),
          degrees(planned.at_maintain_c),
          degrees(planned.at_setback_c),
          degrees(planned.worst_cold_c),
          degrees(planned.worst_hot_c),
          degrees(planned.stuck_on_c),
          degrees(planned.open_loop_c),
          degrees(planned.water_c.p5),
          degrees(planned.water_c.p50),
          degrees(planned.water_c.p95),
          probability(planned.holds_prob),
          hours(planned.warm_up_s),
          count(planned.energy_kwh_per_day, 2)};
}

void hold_table(Book& book, const Pack& pack) {
  const std::string per_length = pack.show.unit(Kind::power_per_length),
                    degree = pack.show.unit(Kind::temperature);
  const auto number = [](const char* title, const std::string& unit) {
    return Column{title, unit, Anchor::end};
  };
  Table table;
  table.columns = {{"Run", ""},
                   {"Group", ""},
                   {"Class", ""},
                   number("Loss", per_length),
                   number("Cable output", per_length),
                   number("Spare at worst", ""),
                   number("Held at maintain", degree),
                   number("Held at setback", degree),
                   number("Worst cold", degree),
                   number("Worst hot", degree),
                   number("Control stuck on", degree),
                   number("Sensor failed", degree),
                   number("5 of 100", degree),
                   number("Median", degree),
                   number("95 of 100", degree),
                   number("Holds", ""),
                   number("Warm-up", ""),
                   number("Energy", "kWh/day")};
  table.size_pt = 7.2;
  rows_by_level(pack, table, [&](int run) { return hold_row(pack, run); });
  flow(book, table);
}

}  // namespace

void run_schedule(Book& book, const Pack& pack) {
  part(book, "Run schedule", Book::Way::wide);
  heading(book, "What to build");
  paragraph(book,
            "Insulation is ordered for the size named, which clears pipe and cable together. Cable lengths "
            "include what "
            "valves, supports, tees and ends take.",
            small_style);
  build_table(book, pack);
  heading(book, "What it holds", 40);
  paragraph(book,
            "Loss and output per length of pipe, at the maintain temperature in usual air. Held: with the "
            "sensor run at its "
            "set-point. 5, 50 and 95 of 100: of the sampled buildings, insulation, cable, air, voltage and "
            "sensor varying "
            "within their tolerances. Sensor failed: on the entered ambient.",
            small_style);
  hold_table(book, pack);
}

}  // namespace firstdraw::paper
