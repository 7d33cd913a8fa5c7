#include "power/stretches.hpp"

#include <algorithm>
#include <map>
#include <tuple>

#include "power/pipe_walk.hpp"
#include "power/protection.hpp"

namespace firstdraw::power {

namespace {

using piping::at;

class Cutter {
 public:
  Cutter(const piping::Network& network, const Cutting& cutting)
      : network_(network),
        cutting_(cutting),
        order_(along_the_pipes(network)),
        weight_m_(cutting.length_m),
        joined_(weight_m_.size(), 0) {}

  std::vector<std::vector<int>> stretches() {
    for (auto run = order_.rbegin(); run != order_.rend(); ++run)
      if (class_of(*run) != piping::none) keep_lightest_branches(*run);
    share_feeds(cut_branches());
    return listed();
  }

 private:
  int class_of(int run) const { return cutting_.class_of_run[at(run)]; }
  double longest_m(int run) const { return cutting_.longest_m[at(class_of(run))]; }

  void keep_lightest_branches(int run) {
    branches_.clear();
    for (const int branch : network_.downstream_of(network_.to_node[at(run)]))
      if (network_.upstream_run[at(branch)] == run && class_of(branch) == class_of(run))
        branches_.push_back(branch);
    std::sort(branches_.begin(), branches_.end(), [this](int a, int b) {
      return std::tuple(weight_m_[at(a)], a) < std::tuple(weight_m_[at(b)], b);
    });
    for (const int branch : branches_) {
      if (!fits(weight_m_[at(run)] + weight_m_[at(branch)], longest_m(run))) break;
      weight_m_[at(run)] += weight_m_[at(branch)];
      joined_[at(branch)] = 1;
    }
  }

  /// By feed node and class, heaviest first.
  std::vector<int> cut_branches() const {
    std::vector<int> cut;
    for (const int run : order_)
      if (class_of(run) != piping::none && !joined_[at(run)]) cut.push_back(run);
    std::sort(cut.begin(), cut.end(), [this](int a, int b) { return place(a) < place(b); });
    return cut;
  }
  std::tuple<int, int, double, int> place(int run) const {
    return {network_.from_node[at(run)], class_of(run), -weight_m_[at(run)], run};
  }

  /// Best fit: each branch goes to the fullest circuit of its node that still has room.
  void share_feeds(const std::vector<int>& cut) {
    stretch_of_run_.assign(weight_m_.size(), piping::none);
    std::multimap<double, int> room_m;
    for (std::size_t i = 0; i < cut.size(); ++i) {
      const int run = cut[i];
      if (i == 0 || !same_feed(cut[i - 1], run)) room_m.clear();
      auto circuit = room_m.lower_bound(weight_m_[at(run)] * (1 - 1e-9));
      const bool fresh = circuit == room_m.end();
      const double room_before_m = fresh ? longest_m(run) : circuit->first;
      const int stretch = fresh ? stretches_++ : circuit->second;
      if (!fresh) room_m.erase(circuit);
      room_m.emplace(room_before_m - weight_m_[at(run)], stretch);
      stretch_of_run_[at(run)] = stretch;
    }
  }
  bool same_feed(int a, int b) const {
    return network_.from_node[at(a)] == network_.from_node[at(b)] && class_of(a) == class_of(b);
  }

  std::vector<std::vector<int>> listed() {
    std::vector<int> position(at(stretches_), piping::none);
    std::vector<std::vector<int>> lists;
    for (const int run : order_) {
      if (class_of(run) == piping::none) continue;
      if (joined_[at(run)]) stretch_of_run_[at(run)] = stretch_of_run_[at(network_.upstream_run[at(run)])];
      int& list = position[at(stretch_of_run_[at(run)])];
      if (list == piping::none) {
        list = static_cast<int>(lists.size());
        lists.emplace_back();
      }
      lists[at(list)].push_back(run);
    }
    return lists;
  }

  const piping::Network& network_;
  const Cutting& cutting_;
  std::vector<int> order_;
  std::vector<double> weight_m_;  // of what hangs together below each run, itself included
  std::vector<char> joined_;      // to the run upstream of it
  std::vector<int> stretch_of_run_, branches_;
  int stretches_ = 0;
};

}  // namespace

std::vector<std::vector<int>> cut_into_stretches(const piping::Network& network, const Cutting& cutting) {
  return Cutter(network, cutting).stretches();
}

}  // namespace firstdraw::power
