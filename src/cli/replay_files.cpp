#include "cli/replay_files.hpp"

#include <fmt/format.h>

#include "tables/csv.hpp"

namespace firstdraw::cli {
namespace {

paper::ChartLine line(std::string name, const forecast::ReplayTrace& trace, const std::vector<double>& temp_c,
                      int look) {
  paper::ChartLine drawn;
  drawn.name = std::move(name);
  drawn.x = trace.time_s;
  drawn.y = temp_c;
  drawn.look = look;
  return drawn;
}

paper::LineChart chart_of(const forecast::ReplayTrace& trace, bool dated, units::System system) {
  paper::LineChart chart;
  chart.title = fmt::format("{} ({})", trace.column, trace.what);
  chart.x.title = "Time";
  chart.x.scale = dated ? paper::Axis::Scale::week : paper::Axis::Scale::elapsed;
  chart.y.title = "Temperature";
  chart.y.kind = units::Kind::temperature;
  chart.y.system = system;
  chart.lines = {line("recorded", trace, trace.recorded_c, 0),
                 line("simulated", trace, trace.simulated_c, 1)};
  return chart;
}

}  // namespace

paper::ChartPicture picture_of(const forecast::Replay& replay, const std::string& title,
                               units::System system) {
  paper::ChartPicture picture;
  picture.title = title;
  for (const forecast::ReplayTrace& trace : replay.traces)
    picture.charts.push_back(chart_of(trace, replay.log.dated, system));
  picture.note = "Simulated with what was recorded at the inlet and at the taps. Nothing was fitted.";
  return picture;
}

std::string csv_of(const forecast::Replay& replay) {
  std::string csv = tables::csv_line({"time (s)", "place", "recorded (°C)", "simulated (°C)"});
  for (const forecast::ReplayTrace& trace : replay.traces) {
    for (std::size_t i = 0; i < trace.time_s.size(); ++i) {
      csv += tables::csv_line({fmt::format("{}", trace.time_s[i]), trace.what,
                               fmt::format("{}", trace.recorded_c[i]),
                               fmt::format("{:.3f}", trace.simulated_c[i])});
    }
  }
  return csv;
}

}  // namespace firstdraw::cli
