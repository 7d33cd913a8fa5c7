// `firstdraw replay`: a building driven with recorded data, beside what was recorded in it.
#include <fmt/format.h>

#include <filesystem>
#include <memory>

#include "cli/draws_file.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/progress.hpp"
#include "cli/question.hpp"
#include "cli/replay_files.hpp"
#include "forecast/replay.hpp"
#include "forecast/scene.hpp"
#include "job/read_files.hpp"
#include "paper/file_out.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;
using units::System;

const std::vector<Example> examples{
    {"firstdraw replay riverside --log may.csv",
     "headings of the log say what they are: time, supply (°C), flow:O-01 (l/min), at:R-02 (°C)"},
    {"firstdraw replay riverside --log may.csv --map \"Sensor 3=at:R-02\" --map \"Meter=flow:O-01\"",
     "the same with the logger's own headings"},
    {"firstdraw replay riverside --log may.csv --plot may.svg --csv may-compared.csv",
     "lines of what was recorded and simulated, as a picture and as a table"},
};

/// A front shorter than that is drawn in steps.
constexpr double longest_cell_m = 0.5;

struct ReplayCommand {
  std::string folder, log, draws, start, plot, csv;
  std::vector<std::string> maps;
};

std::vector<forecast::ColumnUse> column_uses(const ReplayCommand& command, Question& read) {
  std::vector<forecast::ColumnUse> uses;
  for (const std::string& map : command.maps) {
    const auto equals = map.rfind('=');
    if (equals == std::string::npos || equals == 0 || equals + 1 == map.size()) {
      read.slip("--map", fmt::format("\"{}\" is not COLUMN=WHAT", map), "such as \"Sensor 3=at:R-02\"");
    } else {
      uses.push_back({map.substr(0, equals), map.substr(equals + 1)});
    }
  }
  return uses;
}

void judge_plot(const std::string& plot, Question& read) {
  if (plot.empty() || plot.ends_with(".svg") || plot.ends_with(".png")) return;
  read.slip("--plot", fmt::format("\"{}\" is no picture's name", plot), "it must end in .svg or .png");
}

/// The log, with the draws of a file of their own when one was given.
job::Result<forecast::RecordedLog> read_logs(const ReplayCommand& command,
                                             const std::vector<forecast::ColumnUse>& uses,
                                             const job::Job& job, const draw::Scene& scene) {
  if (!std::filesystem::exists(command.log))
    return std::unexpected(Diagnostics{{command.log, 0, 0, "", "there is no such log", "check the path"}});
  job::Context problems;
  const auto text = job::read_text("", command.log, problems);
  if (!text) return std::unexpected(problems.problems);
  auto log = forecast::read_log(*text, command.log, uses, job, scene);
  if (!log || command.draws.empty()) return log;
  auto draws = read_draws_file(command.draws, scene);
  if (!draws) return std::unexpected(draws.error());
  if (log->has_flows)
    return std::unexpected(Diagnostics{
        {command.draws, 0, 0, "", "the log has flows already", "map none, or leave --draws out"}});
  log->draws = *std::move(draws);
  return log;
}

std::string difference(double value_k, System system) {
  const auto unit = units::display_unit(Kind::temperature_difference, system);
  return fmt::format("{:+.2f}", units::from_si(value_k, unit, Kind::temperature_difference));
}

TextTable compared(const forecast::Replay& replay, System system) {
  const std::string unit(units::display_unit(Kind::temperature_difference, system));
  TextTable table({{"Column", "", Column::Kind::wrapping_text},
                   {"Compared with", "", Column::Kind::wrapping_text},
                   {"Readings", "", Column::Kind::number},
                   {"Mean error", unit, Column::Kind::number},
                   {"RMS error", unit, Column::Kind::number},
                   {"Largest", unit, Column::Kind::number},
                   {"at", "", Column::Kind::number}});
  for (const forecast::ReplayTrace& trace : replay.traces) {
    table.add_row({{trace.column},
                   {trace.what},
                   {fmt::format("{}", trace.time_s.size())},
                   {difference(trace.bias_k, system)},
                   {difference(trace.rmse_k, system).substr(1)},
                   {difference(trace.largest_k, system)},
                   {forecast::time_text(replay.log, trace.largest_at_s)}});
  }
  return table;
}

Page show(const forecast::Replay& replay, const ReplayCommand& command, Page page, System system) {
  const forecast::RecordedLog& log = replay.log;
  page.facts({{"Log", fmt::format("{}: {} rows over {}", command.log, log.rows,
                                  units::show(log.end_s - log.begin_s, Kind::duration, system))},
              {"Drawn", units::show(replay.litres / 1000, Kind::volume, system)}});
  page.blank();
  page.table(compared(replay, system));
  page.blank();
  page.paragraph("Errors are simulated minus recorded; nothing was fitted.");
  page.blank();
  for (const std::string& note : replay.notes) page.paragraph(note, "Note: ", Style::dim);
  return page;
}

/// The picture and the table that were asked for.
job::Result<void> write_files(const forecast::Replay& replay, const ReplayCommand& command, System system) {
  if (!command.plot.empty()) {
    const std::string title = fmt::format("{} beside {}", command.folder, command.log);
    auto drawn = paper::write_picture(picture_of(replay, title, system), command.plot);
    if (!drawn) return drawn;
  }
  if (!command.csv.empty()) return paper::write_file(command.csv, csv_of(replay));
  return {};
}

std::expected<forecast::Replay, ExitCode> simulate(const ReplayCommand& command, const Context& context) {
  Question read;
  const auto uses = column_uses(command, read);
  judge_plot(command.plot, read);
  forecast::ReplayOptions options;
  if (!command.start.empty()) options.start_c = read.temperature_c("--start", command.start);
  if (!read.slips().empty()) return std::unexpected(context.fail(ExitCode::wrong_command_line, read.slips()));
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return std::unexpected(job.error());
  const plan::Plan plan = plan::make_plan(*job, plan::Options{0, 1, 1});
  forecast::SceneOptions fine;
  fine.cell_m = longest_cell_m;
  draw::Scene scene = forecast::make_scene(*job, plan, fine);
  auto log = read_logs(command, uses, *job, scene);
  if (!log) return std::unexpected(context.fail(ExitCode::job_unreadable, log.error()));
  ProgressLine progress(context.err(), context.terminal().progress && !context.json(),
                        context.terminal().width);
  options.progress = [&progress](double done_frac) {
    progress.update("replaying the log", done_frac);
    return true;
  };
  return forecast::replay(*job, std::move(scene), *std::move(log), options);
}

ExitCode run(const ReplayCommand& command, const Context& context) {
  const auto replay = simulate(command, context);
  if (!replay) return replay.error();
  const System system = chosen_units(context.options()).value_or(System::metric);
  if (const auto written = write_files(*replay, command, system); !written)
    return context.fail(ExitCode::cannot_write, written.error());
  if (context.json()) {
    context.print(forecast::to_json(*replay));
  } else {
    context.print(show(*replay, command, context.page(), system));
  }
  return ExitCode::ok;
}

std::string what_columns_are() {
  std::string text = "what a column is; repeat it. A heading that says so itself needs none. WHAT is one of";
  for (const forecast::LogUseHelp& use : forecast::log_use_help())
    text += " " + forecast::spelling(use) + ",";
  text.pop_back();
  return text;
}

}  // namespace

void add_replay(Program& program) {
  CLI::App* command = program.add_command(
      "replay", "drive a job with recorded data and compare with what was recorded", examples);
  const auto replay = std::make_shared<ReplayCommand>();
  add_job_argument(command, replay->folder);
  command
      ->add_option("--log", replay->log, "what was recorded, as CSV; units in the headings: \"inlet (°C)\"")
      ->type_name("FILE")
      ->required();
  command->add_option("--map", replay->maps, what_columns_are())
      ->type_name("COLUMN=WHAT")
      ->allow_extra_args(false);
  command
      ->add_option(
          "--draws", replay->draws,
          "taps that were opened, instead of flows in the log; as for simulate: time, tap, flow, duration")
      ->type_name("FILE");
  command
      ->add_option(
          "--start", replay->start,
          "pipes and water stand at this temperature when the log begins; a day without draws before "
          "it if not given")
      ->type_name("TEMP");
  command->add_option("--plot", replay->plot, "picture of the lines, .svg or .png")->type_name("FILE");
  command->add_option("--csv", replay->csv, "both temperatures of every reading")->type_name("FILE");
  program.when_called(command, [replay](Context& context) { return run(*replay, context); });
}

}  // namespace firstdraw::cli
