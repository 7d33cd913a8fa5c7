// Hot water at the tap, turned into least temperatures of the traced run that feeds it.
#pragma once

#include <span>

#include "settings/needs.hpp"

namespace firstdraw::settings {

/// What a week of needs is worked out from.
struct NeedsTask {
  const job::Job& job;
  const plan::Plan& plan;
  const draw::Scene& scene;
  const forecast::Demand& demand;
  const Asked& asked;
  double step_s = 0;
};

/// Nearest run upstream of a tap that the group heats, as index into the model's runs; -1: none.
int feeding_run(const draw::Scene& scene, const draw::Tap& tap, const GroupModel& model);

/// What flowing water loses on its way through the tap's runout, K; at least 1 K.
double taken_by_runout_k(const draw::Scene& scene, const draw::TapUse& use);

/// Sets comfort_c and adds to `why`. `needs` like `models`.
void ask_comfort(const NeedsTask& task, std::span<const GroupModel> models, std::span<GroupNeeds> needs);

}  // namespace firstdraw::settings
