#include "power/circuit_pins.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>
#include <stdexcept>

#include "units/quantity.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

template <class Ids>
std::string listed(const Ids& ids) {
  constexpr std::size_t most = 8;
  if (ids.size() <= most) return fmt::format("{}", fmt::join(ids, ", "));
  return fmt::format("{} and {} more", fmt::join(ids.begin(), ids.begin() + most, ", "), ids.size() - most);
}

template <class Values>
void drop_repeats(Values& values) {
  for (auto value = values.begin(); value != values.end();)
    value = std::find(values.begin(), value, *value) == value ? value + 1 : values.erase(value);
}

}  // namespace

CircuitPins::CircuitPins(const job::Job& job, const piping::Network& network,
                         const std::vector<RunCable>& runs, const CircuitKinds& kinds, const PipeTree& tree)
    : job_(job), network_(network), runs_(runs), kinds_(kinds), tree_(tree) {
  keep_fixed();
  const IdIndex index(job.runs);
  for (const job::Pin& pin : job.pins) read(pin, index);
}

void CircuitPins::keep_fixed() {
  std::vector<Together> of_kind(kinds_.all.size());
  for (std::size_t edge = 0; edge < tree_.edges.size(); ++edge) {
    const int kind = kinds_.of_run[at(tree_.run_of_edge[edge])];
    if (kind == piping::none || kinds_.all[at(kind)].fixed == piping::none) continue;
    of_kind[at(kind)].fixed = true;
    of_kind[at(kind)].edges.push_back(static_cast<int>(edge));
  }
  for (Together& pin : of_kind)
    if (pin.fixed) together_.push_back(std::move(pin));
}

void CircuitPins::read(const job::Pin& pin, const IdIndex& index) {
  std::vector<int> named;
  for (const std::string& id : pin.runs) {
    named.push_back(index.find(id));
    if (named.back() != piping::none) continue;
    sentences_.push_back(
        fmt::format("The pin of runs {} is left out: there is no run {}.", listed(pin.runs), id));
    return;
  }
  drop_repeats(named);
  pin.kind == job::Pin::Kind::together ? read_together(pin, named) : read_apart(named);
}

void CircuitPins::read_together(const job::Pin& pin, const std::vector<int>& named) {
  Together together;
  for (const int run : named) {
    if (kinds_.of_run[at(run)] == piping::none)
      return refuse_together(listed(pin.runs), why_no_circuit(job_, network_, runs_, run));
    together.edges.push_back(tree_.edge_of_run[at(run)]);
  }
  if (together.edges.size() > 1) together_.push_back(std::move(together));
}

/// Runs without a circuit are apart from all others.
void CircuitPins::read_apart(const std::vector<int>& named) {
  for (std::size_t i = 0; i < named.size(); ++i)
    for (std::size_t j = 0; j < i; ++j)
      if (kinds_.of_run[at(named[i])] != piping::none && kinds_.of_run[at(named[j])] != piping::none)
        apart_.emplace_back(tree_.edge_of_run[at(named[j])], tree_.edge_of_run[at(named[i])]);
}

partition::Pins CircuitPins::pins() const {
  partition::Pins pins;
  for (const Together& pin : together_) pins.together.push_back(pin.edges);
  pins.apart = apart_;
  return pins;
}

/// One sort at a time: what one pin forces wrongly can make others look wrong.
void CircuitPins::leave_out(const std::vector<partition::Conflict>& conflicts) {
  if (conflicts.empty()) return drop_all_apart();
  const auto of = [&](Reason reason) {
    std::vector<partition::Conflict> found;
    std::ranges::copy_if(conflicts, std::back_inserter(found),
                         [&](const partition::Conflict& conflict) { return conflict.reason == reason; });
    return found;
  };
  if (const auto unlike = of(Reason::unlike); !unlike.empty()) return drop_unlike(unlike);
  const auto too_long = of(Reason::too_long);
  for (const auto& conflict : too_long) drop_too_long(conflict);
  if (!too_long.empty()) return;
  for (const auto& conflict : of(Reason::pinned_apart)) drop_apart(conflict);
}

void CircuitPins::drop_unlike(const std::vector<partition::Conflict>& conflicts) {
  for (const partition::Conflict& conflict : conflicts) {
    const auto erased = std::erase_if(
        together_, [&](const Together& pin) { return !pin.fixed && pin.edges == conflict.edges; });
    if (erased > 0) refuse_together(run_ids(conflict.edges), why_unlike_edges(conflict.edges));
  }
}

std::string CircuitPins::why_unlike_edges(const std::vector<int>& edges) const {
  const int first = tree_.run_of_edge[at(edges.front())];
  for (const int edge : edges)
    for (const int between : tree_.way(edges.front(), edge)) {
      const int run = tree_.run_of_edge[at(between)], kind = kinds_.of_run[at(run)];
      if (kind == piping::none)
        return fmt::format("{}, which lies between", why_no_circuit(job_, network_, runs_, run));
      if (kind != kinds_.of_run[at(first)]) return why_unlike(job_, kinds_, first, run);
    }
  throw std::logic_error("a pin of unlike runs that are alike");
}

double CircuitPins::cable_m(const std::vector<int>& edges) const {
  double total_m = 0;
  for (const int edge : edges) total_m += tree_.edges[at(edge)].length_m;
  return total_m;
}

/// Cable of the pinned runs and of all that lies between them.
double CircuitPins::span_m(const Together& pin) const {
  std::set<int> span;
  for (const int edge : pin.edges) {
    const auto way = tree_.way(pin.edges.front(), edge);
    span.insert(way.begin(), way.end());
  }
  return cable_m({span.begin(), span.end()});
}

void CircuitPins::drop_too_long(const partition::Conflict& conflict) {
  const int kind = kinds_.of_run[at(tree_.run_of_edge[at(conflict.edges.front())])];
  const double longest_m = kinds_.all[at(kind)].limits.longest_m();
  const auto on_it = [&](const Together& pin) {
    return !pin.fixed && std::ranges::find(conflict.edges, pin.edges.front()) != conflict.edges.end();
  };
  const auto too_long = [&](const Together& pin) { return on_it(pin) && !fits(span_m(pin), longest_m); };
  auto last = std::find_if(together_.rbegin(), together_.rend(), too_long);
  const bool alone = last != together_.rend();
  if (!alone) last = std::find_if(together_.rbegin(), together_.rend(), on_it);
  if (last == together_.rend()) throw std::logic_error("a circuit of no pin is too long");
  const auto length = [&](double m) { return units::show(m, units::Kind::length, job_.units); };
  refuse_together(run_ids(last->edges),
                  fmt::format("with what {} they take {} of cable, and no breaker allows more than {}",
                              alone ? "lies between" : "other pins join to them",
                              length(alone ? span_m(*last) : cable_m(conflict.edges)), length(longest_m)));
  together_.erase(std::next(last).base());
}

void CircuitPins::drop_apart(const partition::Conflict& conflict) {
  if (std::erase(apart_, std::pair(conflict.edges.front(), conflict.edges.back())) == 0) return;
  const CircuitKind& kind = kinds_.all[at(kinds_.of_run[at(tree_.run_of_edge[at(conflict.edges.front())])])];
  const std::string keeper = kind.fixed == piping::none ? "another pin keeps"
                                                        : fmt::format("the fixed circuit {} keeps",
                                                                      job_.known_circuits[at(kind.fixed)].id);
  sentences_.push_back(fmt::format("Runs {} are not kept apart as pinned: {} them together.",
                                   run_ids(conflict.edges), keeper));
}

void CircuitPins::drop_all_apart() {
  if (apart_.empty()) throw std::logic_error("no layout, and no pin to leave out");
  sentences_.push_back(fmt::format(
      "No run is kept apart as pinned: the {} pairs pinned apart leave no layout.", apart_.size()));
  apart_.clear();
}

void CircuitPins::refuse_together(const std::string& ids, const std::string& because) {
  sentences_.push_back(fmt::format("Runs {} do not share a circuit as pinned: {}.", ids, because));
}

std::string CircuitPins::run_ids(const std::vector<int>& edges) const {
  std::vector<std::string> ids;
  for (const int edge : edges) ids.push_back(job_.runs[at(tree_.run_of_edge[at(edge)])].id);
  return listed(ids);
}

}  // namespace firstdraw::power
