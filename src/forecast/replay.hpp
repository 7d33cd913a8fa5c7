// A building driven with what was recorded in it: a log of temperatures, flows or draws goes in, and the
// temperatures of the simulation are held against those of the log. Nothing is fitted.
#pragma once

#include <functional>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "draw/simulate.hpp"
#include "job/diagnostic.hpp"
#include "job/job.hpp"

namespace firstdraw::forecast {

/// What a column of a log holds. The first four drive the simulation, the others are compared with it.
enum class LogUse {
  time,     // "time": s, min, h, or dates with a time of day
  supply,   // "supply": water entering the piping
  air,      // "air" everywhere, "air:SPACE"
  flow,     // "flow" of the only tap, "flow:TAP"; straight between rows
  water,    // "at:PLACE": water at a tap or at the far end of a run
  wall,     // "wall:RUN": the pipe's wall at the far end of a run
  reading,  // "reading:GROUP": a controller's sensor
};
struct LogUseHelp {
  LogUse use{};
  std::string_view name, place, what;
};
std::span<const LogUseHelp> log_use_help();
/// "supply", "flow or flow:TAP", "at:PLACE".
std::string spelling(const LogUseHelp& use);

/// One column as the user named it: "outlet water", "at:P1".
struct ColumnUse {
  std::string column, what;
};

/// A recorded quantity that drives the simulation.
struct LogDrive {
  LogUse use{};
  std::string place;  // of air: a space, or empty
  draw::Series values;
};
/// A recorded temperature to compare with.
struct LogTrace {
  LogUse use{};
  std::string column, what;  // "outlet water", "at:P1"
  int index = draw::none;    // into Scene.taps (water at a tap), .runs or .groups
  bool tap = false;
  std::vector<double> time_s, temp_c;
};
struct RecordedLog {
  double begin_s = 0, end_s = 0;  // since Monday 00:00 of the first week when dated, else as written
  bool dated = false;
  int rows = 0;
  std::vector<LogDrive> drives;
  std::vector<draw::Draw> draws;  // of the flow columns
  bool has_flows = false;
  std::vector<LogTrace> traces;
  std::vector<std::string> unused_columns;
  double usual_interval_s = 0, longest_interval_s = 0;  // between rows; usual: the median
  int longest_interval_line = 0;                        // of the row that ends it
  double water_kg_per_m3 = 0;  // by which a flow of mass became one of volume; 0: none did
};

/// Reads a log. `uses` name columns by their heading without its unit; a heading that itself is a use
/// ("supply (°C)") needs no entry. Every slip is reported with line and column in `file`: unknown columns and
/// places, cells that cannot be read, times that do not rise, blanks in what drives the simulation. A blank
/// in a compared column is no reading at that time.
job::Result<RecordedLog> read_log(std::string_view text, std::string_view file,
                                  const std::vector<ColumnUse>& uses, const job::Job& job,
                                  const draw::Scene& scene);

struct ReplayOptions {
  /// Everything stands at this temperature when the log begins. Empty: balance of the first recorded supply
  /// and air with nobody drawing, after a day.
  std::optional<double> start_c;
  std::function<bool(double done_frac)> progress;
};

/// Recorded and simulated temperatures of one column at the same times.
struct ReplayTrace {
  std::string column, what;
  std::vector<double> time_s, recorded_c, simulated_c;
  double bias_k = 0, rmse_k = 0;  // simulated minus recorded
  double largest_k = 0, largest_at_s = 0;
};
struct Replay {
  RecordedLog log;
  ReplayOptions options;
  std::vector<ReplayTrace> traces;
  double litres = 0;  // drawn
  double balance_residual_frac = 0;
  std::vector<std::string> notes;
  bool stopped = false;
};

/// Runs `scene` with the log's supply, air and draws and compares.
Replay replay(const job::Job& job, draw::Scene scene, RecordedLog log, const ReplayOptions& options);

/// schemas/replay.schema.json; `series` with every pair of temperatures.
nlohmann::json to_json(const Replay& replay);

/// "Mon 06:30:12" of a dated log, "412.5 s" otherwise.
std::string time_text(const RecordedLog& log, double time_s);

}  // namespace firstdraw::forecast
