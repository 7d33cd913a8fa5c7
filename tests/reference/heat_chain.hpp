// Conduction by finite volumes in time: nodes with heat capacity in a row, conductances between neighbours
// and at both ends to a fixed temperature. An independent route for radial conduction and for heat in a
// laminar flow (where distance takes the place of time).
#pragma once

#include <cmath>
#include <cstddef>
#include <utility>
#include <vector>

namespace firstdraw::reference {

class HeatChain {
 public:
  /// `conductance[i]` joins node i to node i + 1.
  HeatChain(std::vector<double> capacity, std::vector<double> conductance)
      : temp(capacity.size(), 0.0), capacity_(std::move(capacity)), conductance_(std::move(conductance)) {}

  std::vector<double> temp;
  double first_to = 0, first_end = 0;  // conductance from the first node to its fixed end, that temperature
  double last_to = 0, last_end = 0;

  double heat_from_first_end() const { return first_to * (first_end - temp.front()); }

  /// Two-stage method of Alexander 1977 (SIAM J. Numer. Anal. 14; memory), second order and L-stable.
  void step(double duration) {
    const double gamma = 1 - std::sqrt(0.5);
    const std::vector<double> first = rate_after(temp, gamma * duration);
    std::vector<double> start = temp;
    for (std::size_t i = 0; i < temp.size(); ++i) start[i] += (1 - gamma) * duration * first[i];
    const std::vector<double> second = rate_after(start, gamma * duration);
    for (std::size_t i = 0; i < temp.size(); ++i)
      temp[i] += duration * ((1 - gamma) * first[i] + gamma * second[i]);
  }
  void run(double duration, int steps) {
    for (int i = 0; i < steps; ++i) step(duration / steps);
  }

 private:
  double beyond(std::size_t i) const { return i + 1 < temp.size() ? conductance_[i] : last_to; }

  /// Rate of change at the end of an implicit Euler step: Thomas's elimination.
  std::vector<double> rate_after(const std::vector<double>& start, double duration) const {
    const std::size_t n = start.size();
    std::vector<double> diagonal(n), after(n);
    for (std::size_t i = 0; i < n; ++i) {
      const double before = i > 0 ? conductance_[i - 1] : first_to;
      diagonal[i] = capacity_[i] / duration + before + beyond(i);
      after[i] = capacity_[i] / duration * start[i];
      if (i == 0) after[i] += first_to * first_end;
      if (i + 1 == n) after[i] += last_to * last_end;
      if (i == 0) continue;
      const double share = before / diagonal[i - 1];
      diagonal[i] -= share * before;
      after[i] += share * after[i - 1];
    }
    after[n - 1] /= diagonal[n - 1];
    for (std::size_t i = n - 1; i-- > 0;)
      after[i] = (after[i] + conductance_[i] * after[i + 1]) / diagonal[i];
    for (std::size_t i = 0; i < n; ++i) after[i] = (after[i] - start[i]) / duration;
    return after;
  }

  std::vector<double> capacity_, conductance_;
};

}  // namespace firstdraw::reference
