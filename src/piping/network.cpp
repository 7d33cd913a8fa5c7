#include "piping/network.hpp"

#include <algorithm>
#include <limits>
#include <utility>

#include "physics/pipe_loss.hpp"

namespace firstdraw::piping {
namespace {

/// Lists of members by owner in two flat arrays: members of o are items[first[o]..first[o+1]), in rising
/// order.
struct Grouped {
  std::vector<int> first, items;
};

/// Members whose owner is `none` are left out.
Grouped group_by_owner(const std::vector<int>& owner, std::size_t owners) {
  Grouped grouped;
  grouped.first.assign(owners + 1, 0);
  for (const int o : owner) {
    if (o != none) ++grouped.first[static_cast<std::size_t>(o) + 1];
  }
  for (std::size_t o = 0; o < owners; ++o) grouped.first[o + 1] += grouped.first[o];
  grouped.items.resize(static_cast<std::size_t>(grouped.first[owners]));
  std::vector<int> next(grouped.first.begin(), grouped.first.end() - 1);
  for (std::size_t i = 0; i < owner.size(); ++i) {
    if (owner[i] == none) continue;
    const int slot = next[static_cast<std::size_t>(owner[i])]++;
    grouped.items[static_cast<std::size_t>(slot)] = static_cast<int>(i);
  }
  return grouped;
}

std::span<const int> members(const std::vector<int>& first, const std::vector<int>& items, int owner) {
  if (owner < 0 || static_cast<std::size_t>(owner) + 1 >= first.size()) return {};
  const auto o = static_cast<std::size_t>(owner);
  return std::span(items).subspan(static_cast<std::size_t>(first[o]),
                                  static_cast<std::size_t>(first[o + 1] - first[o]));
}

/// Walks the runs into a forest: first what hangs on the supply, then what stands apart, cutting loops and
/// second feeds.
class Forest {
 public:
  explicit Forest(Network& network)
      : net_(network),
        leaving_(group_by_owner(network.from_node, network.node_ids.size())),
        entering_(group_by_owner(network.to_node, network.node_ids.size())),
        feed_(network.node_ids.size(), none),
        seen_(network.node_ids.size(), false),
        walked_(network.from_node.size(), false),
        in_stretch_(network.from_node.size(), false),
        node_done_(network.node_ids.size(), false) {}

  void grow_from_supply();
  void grow_strays();

 private:
  void grow(int root, std::vector<int>& walked_runs);
  void report_cut_runs();
  bool lies_upstream(int node, int of_node) const;
  void number_subtrees(int root);
  std::vector<int> stray_stretch(int start_run);
  void grow_stretch(const std::vector<int>& runs);

  Network& net_;
  Grouped leaving_, entering_;
  std::vector<int> feed_;                     // the run that feeds a node in the forest
  std::vector<bool> seen_;                    // nodes
  std::vector<bool> walked_;                  // runs
  std::vector<bool> in_stretch_, node_done_;  // runs and nodes gathered into a stray stretch
  std::vector<int> cut_;                      // runs that lead to a node already fed
  std::vector<int> enter_,
      leave_;  // depth-first numbers: a node lies upstream of those numbered within its span
  int clock_ = 0;
};

void Forest::grow(int root, std::vector<int>& walked_runs) {
  std::vector<int> queue{root};
  seen_[static_cast<std::size_t>(root)] = true;
  for (std::size_t head = 0; head < queue.size(); ++head) {
    for (const int run : members(leaving_.first, leaving_.items, queue[head])) {
      const auto r = static_cast<std::size_t>(run);
      walked_[r] = true;
      const int to = net_.to_node[r];
      if (seen_[static_cast<std::size_t>(to)]) {
        cut_.push_back(run);
        continue;
      }
      seen_[static_cast<std::size_t>(to)] = true;
      feed_[static_cast<std::size_t>(to)] = run;
      walked_runs.push_back(run);
      queue.push_back(to);
    }
  }
  number_subtrees(root);
  report_cut_runs();
}

void Forest::number_subtrees(int root) {
  enter_.resize(seen_.size(), none);
  leave_.resize(seen_.size(), none);
  std::vector<std::pair<int, std::size_t>> stack{{root, 0}};
  enter_[static_cast<std::size_t>(root)] = clock_++;
  while (!stack.empty()) {
    auto& [node, next] = stack.back();
    const auto runs = members(leaving_.first, leaving_.items, node);
    if (next == runs.size()) {
      leave_[static_cast<std::size_t>(node)] = clock_++;
      stack.pop_back();
      continue;
    }
    const int run = runs[next++];
    const int to = net_.to_node[static_cast<std::size_t>(run)];
    if (feed_[static_cast<std::size_t>(to)] != run) continue;
    enter_[static_cast<std::size_t>(to)] = clock_++;
    stack.emplace_back(to, 0);
  }
}

bool Forest::lies_upstream(int node, int of_node) const {
  const auto a = static_cast<std::size_t>(node), b = static_cast<std::size_t>(of_node);
  return enter_[a] <= enter_[b] && leave_[b] <= leave_[a];
}

void Forest::report_cut_runs() {
  for (const int run : cut_) {
    const auto r = static_cast<std::size_t>(run);
    const int to = net_.to_node[r];
    const auto kind = lies_upstream(to, net_.from_node[r]) ? Problem::Kind::loop : Problem::Kind::two_feeds;
    net_.problems.push_back({kind, run, net_.node_ids[static_cast<std::size_t>(to)]});
  }
  cut_.clear();
}

void Forest::grow_from_supply() {
  const int supply = net_.supply_node;
  if (members(leaving_.first, leaving_.items, supply).empty()) {
    const std::string id = supply == none ? std::string() : net_.node_ids[static_cast<std::size_t>(supply)];
    net_.problems.push_back({Problem::Kind::unknown_supply, none, id});
    return;
  }
  grow(net_.supply_node, net_.order);
  for (const int run : net_.order) {
    const auto r = static_cast<std::size_t>(run);
    net_.reached[r] = true;
    net_.upstream_run[r] = feed_[static_cast<std::size_t>(net_.from_node[r])];
  }
}

/// The runs not yet walked that hang together with `start_run`, without passing through the supply's tree;
/// file order.
std::vector<int> Forest::stray_stretch(int start_run) {
  std::vector<int> runs{start_run};
  in_stretch_[static_cast<std::size_t>(start_run)] = true;
  const auto gather = [&](int run) {
    if (walked_[static_cast<std::size_t>(run)] || in_stretch_[static_cast<std::size_t>(run)]) return;
    in_stretch_[static_cast<std::size_t>(run)] = true;
    runs.push_back(run);
  };
  for (std::size_t i = 0; i < runs.size(); ++i) {
    const auto r = static_cast<std::size_t>(runs[i]);
    for (const int node : {net_.from_node[r], net_.to_node[r]}) {
      const auto n = static_cast<std::size_t>(node);
      if (seen_[n] || node_done_[n]) continue;
      node_done_[n] = true;
      for (const int run : members(leaving_.first, leaving_.items, node)) gather(run);
      for (const int run : members(entering_.first, entering_.items, node)) gather(run);
    }
  }
  std::ranges::sort(runs);
  return runs;
}

/// Walks a stray stretch from its heads (nodes nothing feeds), then from what is left: loops without a head.
void Forest::grow_stretch(const std::vector<int>& runs) {
  std::vector<int> unused;
  for (const bool heads_only : {true, false}) {
    for (const int run : runs) {
      const int from = net_.from_node[static_cast<std::size_t>(run)];
      if (seen_[static_cast<std::size_t>(from)]) continue;
      if (heads_only && !members(entering_.first, entering_.items, from).empty()) continue;
      grow(from, unused);
    }
  }
}

void Forest::grow_strays() {
  for (std::size_t r = 0; r < walked_.size(); ++r) {
    if (walked_[r]) continue;
    const int run = static_cast<int>(r);
    if (!net_.order.empty()) {  // without a supply everything is stray: said once, by unknown_supply
      const auto from = static_cast<std::size_t>(net_.from_node[r]);
      net_.problems.push_back({Problem::Kind::disconnected, run, net_.node_ids[from]});
    }
    grow_stretch(stray_stretch(run));
  }
}

int node_index(Network& network, const std::string& id) {
  const auto [entry, is_new] = network.node_of_id.try_emplace(id, static_cast<int>(network.node_ids.size()));
  if (is_new) network.node_ids.push_back(id);
  return entry->second;
}

void name_nodes(Network& network, const job::Job& job) {
  if (!job.supply.node.empty()) network.supply_node = node_index(network, job.supply.node);
  for (const job::Run& run : job.runs) {
    network.from_node.push_back(node_index(network, run.from));
    network.to_node.push_back(node_index(network, run.to));
  }
  network.mixing_valve_node = network.node(job.supply.mixing_valve_node);
}

void list_kept_runs(Network& network) {
  std::vector<int> owner(network.from_node);
  for (std::size_t r = 0; r < owner.size(); ++r) {
    if (!network.reached[r]) owner[r] = none;
  }
  Grouped kept = group_by_owner(owner, network.node_ids.size());
  network.first_downstream = std::move(kept.first);
  network.downstream = std::move(kept.items);
}

void list_outlets(Network& network, const job::Job& job) {
  std::vector<int> owner;
  owner.reserve(job.outlets.size());
  for (const job::Outlet& outlet : job.outlets) owner.push_back(network.node(outlet.node));
  Grouped at_node = group_by_owner(owner, network.node_ids.size());
  network.outlets_first = std::move(at_node.first);
  network.outlets = std::move(at_node.items);
}

void measure(Network& network, const job::Job& job) {
  const std::size_t runs = job.runs.size();
  network.path_length_m.assign(runs, std::numeric_limits<double>::quiet_NaN());
  network.below_mixing_valve.assign(runs, false);
  network.water_volume_m3.reserve(runs);
  for (const job::Run& run : job.runs) {
    network.water_volume_m3.push_back(run.pipe.bore_area_m2() * run.length_m);
  }
  for (const int run : network.order) {
    const auto r = static_cast<std::size_t>(run);
    const int up = network.upstream_run[r];
    const double before_m = up == none ? 0 : network.path_length_m[static_cast<std::size_t>(up)];
    network.path_length_m[r] = before_m + job.runs[r].length_m;
    const bool passed_above = up != none && network.below_mixing_valve[static_cast<std::size_t>(up)];
    const bool starts_there = network.from_node[r] == network.mixing_valve_node;
    network.below_mixing_valve[r] = passed_above || starts_there;
  }
}

}  // namespace

std::span<const int> Network::downstream_of(int node) const {
  return members(first_downstream, downstream, node);
}

std::span<const int> Network::outlets_at(int node) const { return members(outlets_first, outlets, node); }

int Network::node(std::string_view id) const {
  const auto entry = node_of_id.find(id);
  return entry == node_of_id.end() ? none : entry->second;
}

Network build_network(const job::Job& job) {
  Network network;
  name_nodes(network, job);
  network.reached.assign(job.runs.size(), false);
  network.upstream_run.assign(job.runs.size(), none);
  Forest forest(network);
  forest.grow_from_supply();
  forest.grow_strays();
  list_kept_runs(network);
  list_outlets(network, job);
  measure(network, job);
  return network;
}

CableAllowance cable_allowance(double pipe_outer_diameter_m) {
  const double diameter_m = pipe_outer_diameter_m;
  CableAllowance allowance;
  allowance.per_valve_m = std::max(0.3, 8 * diameter_m);
  allowance.per_support_m = 3 * diameter_m;
  allowance.per_elbow_m = 2 * diameter_m;
  allowance.per_tee_m = 0.9;
  allowance.per_end_m = 0.3;
  allowance.basis =
      "common practice, no source: valve 8 pipe diameters, at least 0.3 m; support 3, elbow 2 diameters; "
      "tee three tails of 0.3 m; end 0.3 m. The cable maker's own allowances take precedence.";
  return allowance;
}

double cable_length_m(const job::Run& run, int passes) {
  const CableAllowance allowance = cable_allowance(run.pipe.outer_diameter_m);
  const double one_pass_m = run.length_m + run.valves * allowance.per_valve_m +
                            run.supports * allowance.per_support_m + run.elbows * allowance.per_elbow_m +
                            run.tees * allowance.per_tee_m;
  return passes * one_pass_m;
}

double loss_length_m(const job::Run& run) {
  const double diameter_m = run.pipe.outer_diameter_m;
  const auto extra_m = [&](int count, physics::Fitting fitting) {
    return count == 0 ? 0.0 : count * physics::equivalent_length_m(fitting, diameter_m);
  };
  return run.length_m + extra_m(run.valves, physics::Fitting::valve_insulated) +
         extra_m(run.elbows, physics::Fitting::elbow) + extra_m(run.tees, physics::Fitting::tee) +
         extra_m(run.supports, physics::Fitting::support);
}

}  // namespace firstdraw::piping
