// A forecast on the terminal: one function per section.
#pragma once

#include <string>
#include <vector>

#include "cli/page.hpp"
#include "forecast/forecast.hpp"

namespace firstdraw::cli {

struct SimulateView {
  std::vector<std::string> sections;  // of simulate_sections(), in the order to show
  int worst = 10;                     // taps and runs to list
  bool all = false;                   // every one of them
};

/// Names a user can give to --show, in the usual order.
const std::vector<std::string>& simulate_sections();
/// Those that are shown when nothing was asked for.
std::vector<std::string> usual_simulate_sections();

/// The sections, then what to mind: growth, scalding, what the figures leave out.
void add_forecast(Page& page, const job::Job& job, const forecast::Forecast& forecast,
                  const SimulateView& view);

}  // namespace firstdraw::cli
