#include "power/circuit_ids.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <map>
#include <set>
#include <tuple>

#include "power/id_index.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

struct Likeness {
  double shared_m = 0;
  int known = 0, circuit = 0;
};

/// Cable that each circuit without an id shares with each known circuit, where there is any.
std::vector<Likeness> likenesses(const job::Job& job, const std::vector<RunCable>& runs,
                                 const std::vector<Circuit>& circuits) {
  std::vector<int> circuit_of_run(job.runs.size(), piping::none);
  for (std::size_t c = 0; c < circuits.size(); ++c)
    for (const int run : circuits[c].runs)
      if (circuits[c].id.empty()) circuit_of_run[at(run)] = static_cast<int>(c);
  const IdIndex index(job.runs);
  std::vector<Likeness> found;
  for (std::size_t k = 0; k < job.known_circuits.size(); ++k) {
    std::map<int, double> shared_m;
    for (const std::string& id : job.known_circuits[k].runs) {
      const int run = index.find(id);
      if (run != piping::none && circuit_of_run[at(run)] != piping::none)
        shared_m[circuit_of_run[at(run)]] += runs[at(run)].cable_length_m;
    }
    for (const auto& [circuit, metres] : shared_m) found.push_back({metres, static_cast<int>(k), circuit});
  }
  return found;
}

void recognise(const job::Job& job, const std::vector<RunCable>& runs, std::vector<Circuit>& circuits) {
  std::vector<Likeness> pairs = likenesses(job, runs, circuits);
  const auto rank = [&](const Likeness& pair) {
    return std::tuple(-pair.shared_m, std::string_view(job.known_circuits[at(pair.known)].id), pair.circuit);
  };
  std::ranges::stable_sort(pairs, {}, rank);
  std::set<std::string_view> taken;
  for (const Circuit& circuit : circuits)
    if (!circuit.id.empty()) taken.insert(circuit.id);
  for (const Likeness& pair : pairs) {
    Circuit& circuit = circuits[at(pair.circuit)];
    const std::string& id = job.known_circuits[at(pair.known)].id;
    if (circuit.id.empty() && taken.insert(id).second) circuit.id = id;
  }
}

/// The number of "C07"; 0 for other names.
int number_of(std::string_view id) {
  int number = 0;
  if (!id.starts_with('C')) return 0;
  const auto [end, error] = std::from_chars(id.data() + 1, id.data() + id.size(), number);
  return error == std::errc{} && end == id.data() + id.size() ? number : 0;
}

}  // namespace

void name_circuits(const job::Job& job, const std::vector<RunCable>& runs, std::vector<Circuit>& circuits) {
  if (!job.known_circuits.empty()) recognise(job, runs, circuits);
  std::set<int> held;
  for (const auto& known : job.known_circuits) held.insert(number_of(known.id));
  const std::size_t digits = std::max<std::size_t>(2, fmt::formatted_size("{}", circuits.size()));
  int number = 0;
  for (Circuit& circuit : circuits) {
    if (!circuit.id.empty()) continue;
    do ++number;
    while (held.contains(number));
    circuit.id = fmt::format("C{:0{}}", number, digits);
  }
}

}  // namespace firstdraw::power
