#include "settings/kept.hpp"

#include <cmath>

namespace firstdraw::settings {
namespace {

constexpr double rounding_frac = 1e-9;  // of a share of members

}  // namespace

std::optional<bool> kept(const ComfortAnswer& answer) {
  if (!std::isfinite(answer.reached_frac)) return std::nullopt;
  return answer.reached_frac >= answer.asked_frac;
}

bool kept(const job::Job& job, const RunProof& run) {
  return run.members_held_frac >= job.week.confidence_frac - rounding_frac;
}

std::optional<bool> kept(const TapScald& tap) {
  if (tap.valve) return true;
  if (!std::isfinite(tap.limit_c)) return std::nullopt;
  return tap.hottest_c <= tap.limit_c;
}

}  // namespace firstdraw::settings
