// What the simulated days show to be wrong and the plan cannot know: a few patterns, each with what to do.
#pragma once

#include <functional>
#include <optional>
#include <span>
#include <vector>

#include "forecast/answers.hpp"

namespace firstdraw::forecast {

/// The nominal building lived through once more, same draws, with sensors where this job has them; empty when
/// it was stopped.
using LiveAgain = std::function<std::optional<Tally>(const job::Job& job)>;

/// What is wrong with the nominal building, worst kinds first. `live_again` is called at most once, with all
/// sensors moved that seem to stand where water flows.
std::vector<Advice> advice(const job::Job& job, const draw::Scene& scene, std::span<const draw::Draw> draws,
                           const Tally& nominal, const LiveAgain& live_again);

/// The run that tells more of its group than the one its sensor is on: of the heated runs that less water
/// passes than half of the group's, the coldest quarter by mean; among them the longest, where one end
/// counts least. Not simply the coldest: a sensor there would overheat all others. none: there is no other.
int better_sensor_run(const draw::Scene& scene, const Tally& nominal, int group);

}  // namespace firstdraw::forecast
