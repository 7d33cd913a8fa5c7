// Draws that found their water hot in time, counted target by target.
#pragma once

#include <cstdint>
#include <span>
#include <vector>

#include "draw/simulate.hpp"
#include "job/job.hpp"
#include "settings/proof.hpp"

namespace firstdraw::settings {

/// Comfort targets of a job over the taps of its scene.
class ComfortCount {
 public:
  ComfortCount(const job::Job& job, const draw::Scene& scene);
  void add(const draw::Result& member);
  /// `days` of all members together.
  std::vector<ComfortAnswer> answers(double days) const;

 private:
  struct Count {
    std::uint64_t draws = 0, long_enough = 0, hot = 0;
  };
  struct Target {
    job::ComfortTarget asked;
    Count all;
    int members = 0, reached = 0;  // members in which something lasted so long
  };
  std::vector<Target> targets_;
  std::vector<std::vector<std::size_t>> of_tap_;  // a tap may stand under several targets of its fixture
};

/// Whether the target speaks of this fixture: by name, or "*" where no other target names it.
bool speaks_of(const job::ComfortTarget& target, std::span<const job::ComfortTarget> all,
               const std::string& fixture);

}  // namespace firstdraw::settings
