// A job under a timetable, ready to be lived through again and again: with other draws, in other buildings,
// with something wrong.
#pragma once

#include <cstdint>
#include <vector>

#include "forecast/scene.hpp"
#include "settings/proof.hpp"

namespace firstdraw::settings {

class Lab {
 public:
  Lab(const job::Job& job, const plan::Plan& plan, const Timetable& timetable, const ProofOptions& options);
  Lab(const Lab&) = delete;
  Lab& operator=(const Lab&) = delete;

  const job::Job& job() const { return job_; }  // its periods are the timetable
  const plan::Plan& plan() const { return plan_; }
  const draw::Scene& nominal() const { return nominal_; }
  draw::Scene scene(const forecast::SceneOptions& options) const;
  /// Draws between two true times; measured ones, where there are any, come back every week.
  std::vector<draw::Draw> draws(double begin_s, double end_s, std::uint64_t seed) const;
  /// With the draws of `seed`, run-in included, in the growth band of the rules.
  draw::Result live(const draw::Scene& scene, draw::Options how, std::uint64_t seed) const;

 private:
  std::vector<draw::Draw> measured(double begin_s, double end_s) const;

  job::Job job_;
  const plan::Plan& plan_;
  const ProofOptions& options_;
  draw::Scene nominal_;
  forecast::Demand demand_;
};

/// Seeds of weeks that must not share their draws.
enum class WeekKind : std::uint64_t { ordinary = 1, planted = 2, wrong = 3 };
constexpr std::uint64_t week_seed(std::uint64_t seed, WeekKind kind, std::uint64_t number) {
  return seed + static_cast<std::uint64_t>(kind) * 1'000'000 + number;
}

/// Index of the group whose heated pipe feeds each tap; none: no heated pipe above it.
std::vector<int> group_of_tap(const draw::Scene& scene);

/// Groups in sets within which no group's water runs on into another's pipes, so that one simulation may have
/// something wrong in all of a set. Water runs downwards only; what groups share beyond it (tank, mixing
/// valve, a main above them both) is not counted.
std::vector<std::vector<int>> groups_apart(const draw::Scene& scene);

}  // namespace firstdraw::settings
