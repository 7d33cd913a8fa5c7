// What `firstdraw replay` writes beside its answer: the lines as a picture, the pairs of temperatures as CSV.
#pragma once

#include <string>

#include "forecast/replay.hpp"
#include "paper/chart.hpp"

namespace firstdraw::cli {

/// One chart for each compared column, one line recorded and one simulated.
paper::ChartPicture picture_of(const forecast::Replay& replay, const std::string& title,
                               units::System system);
/// One row for each reading.
std::string csv_of(const forecast::Replay& replay);

}  // namespace firstdraw::cli
