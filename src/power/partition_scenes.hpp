// Invented trees of piping with invented prices, for tests and benches of the division into circuits.
#pragma once

#include <cmath>
#include <cstdint>
#include <random>

#include "power/partition.hpp"

namespace firstdraw::power::partition {

struct SceneOptions {
  int edges = 100;
  int kinds = 1;
  double untraced_frac = 0;
  int reach = 6;  // a new edge hangs on one of so many last ones: small: long and thin
  int apart = 0, together = 0;
  bool spare = false, spliced = false;
  double limit_scale = 1;  // of breaker lengths: larger: more edges on a circuit
};

/// The same on every machine: only the raw numbers of the engine are used.
class Scene {
 public:
  Scene(unsigned seed, const SceneOptions& options) : random_(seed), options_(options) {}

  Problem problem() {
    grow();
    for (int kind = 0; kind < options_.kinds; ++kind) problem_.kinds.push_back(priced());
    problem_.costs = {350, 120, 45, 60};
    if (options_.spliced)
      for (std::size_t i = 0; i <= problem_.edges.size(); ++i) problem_.spliced.push_back(below(4) == 0);
    for (int i = 0; i < options_.apart; ++i) problem_.pins.apart.emplace_back(edge(), edge());
    for (int i = 0; i < options_.together; ++i) pin_together();
    std::erase_if(problem_.pins.apart, [](const auto& pair) { return pair.first == pair.second; });
    return problem_;
  }

 private:
  int below(int end) { return static_cast<int>(random_() % static_cast<unsigned>(end)); }
  int edge() { return below(options_.edges); }
  double between(double low, double high) { return low + (high - low) * below(100001) / 100000; }

  void grow() {
    x_m_.push_back(0);
    y_m_.push_back(0);
    int kind = 0;
    for (int i = 0; i < options_.edges; ++i) {
      const int parent = i - 1 - below(std::min(i + 1, options_.reach));
      if (below(8) == 0) kind = below(options_.kinds);
      const bool traced = between(0, 1) >= options_.untraced_frac;
      const double length_m = std::round(between(1.5, 12) * 1000) / 1000;
      problem_.edges.push_back({parent, length_m, traced ? kind : none, "run " + std::to_string(i)});
      const auto from = static_cast<std::size_t>(parent + 1);
      const int way = below(4);
      x_m_.push_back(x_m_[from] + (way == 0 ? length_m : way == 1 ? -length_m : 0));
      y_m_.push_back(y_m_[from] + (way == 2 ? length_m : way == 3 ? -length_m : 0));
    }
  }

  Kind priced() {
    Kind kind;
    const double scale = options_.limit_scale;
    kind.ratings = {{15, scale * between(35, 45), 60},
                    {20, scale * between(50, 60), 75},
                    {30, scale * between(75, 95), 120}};
    if (options_.spare) kind.spare_frac = 0.15, kind.spare_cost_per_m = 4;
    const double x_m = between(-20, 20), y_m = between(-20, 20);
    for (std::size_t i = 0; i < x_m_.size(); ++i)
      kind.feed_cost.push_back(80 + 9 * (std::abs(x_m_[i] - x_m) + std::abs(y_m_[i] - y_m)));
    return kind;
  }

  void pin_together() {
    const int one = edge(), other = problem_.edges[static_cast<std::size_t>(one)].parent;
    if (other != none &&
        problem_.edges[static_cast<std::size_t>(one)].kind ==
            problem_.edges[static_cast<std::size_t>(other)].kind &&
        problem_.edges[static_cast<std::size_t>(one)].kind != none)
      problem_.pins.together.push_back({one, other});
  }

  std::mt19937 random_;
  SceneOptions options_;
  Problem problem_;
  std::vector<double> x_m_, y_m_;
};

inline Problem scene(unsigned seed, const SceneOptions& options) { return Scene(seed, options).problem(); }

}  // namespace firstdraw::power::partition
