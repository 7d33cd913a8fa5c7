#include "job/read_week.hpp"

#include <cmath>

#include "job/describe_week.hpp"
#include "job/read_files.hpp"
#include "job/toml_sections.hpp"

namespace firstdraw::job {

namespace {

bool divides_an_hour(double time_s) {
  return time_s > 0 && time_s == std::trunc(time_s) && std::fmod(3600, time_s) == 0;
}

void check_holidays(TomlReader& reader, const Tariff& tariff) {
  auto days = tariff.holidays;
  std::ranges::sort(days);
  if (const auto twice = std::ranges::adjacent_find(days); twice != days.end())
    return reader.problem("holidays", fmt::format("\"{}\" is there twice", *twice));
  const std::string year = fmt::format("{}-", tariff.year);
  const auto in_year = [&](const std::string& day) { return day.starts_with(year); };
  if (tariff.year != 0 && !days.empty() && std::ranges::none_of(days, in_year))
    reader.problem("holidays", fmt::format("none of them lies in {}, the year that is priced", tariff.year));
}

/// Why a job may not name this file; empty when it may. A plain name cannot lead out of the folder.
std::string wrong_name(const std::string& name) {
  if (name.find_first_of("/\\") != std::string::npos || name.starts_with("."))
    return "must be the plain name of a file in the job folder";
  if (!name.ends_with(".csv") && !name.ends_with(".json")) return "must end in .csv or .json";
  for (const char* ours : {"runs.csv", "outlets.csv", "circuits.csv"})
    if (name == ours) return fmt::format("{} is a table of the job itself", name);
  return {};
}

/// Tables and records beside job.toml, for the nearest name.
std::vector<std::string> possible_files(const Source& source) {
  auto names = source.names("").value_or(std::vector<std::string>());
  std::erase_if(names, [](const std::string& name) { return !wrong_name(name).empty(); });
  return names;
}

void read_tariff_file(TomlReader& reader, const Source& source, Tariff& tariff, Context& context) {
  if (tariff.file.empty()) return;
  if (std::string wrong = wrong_name(tariff.file); !wrong.empty())
    return reader.problem("file", std::move(wrong), "such as \"tariff.csv\"");
  if (!source.has(tariff.file)) {
    const std::string near = did_you_mean(tariff.file, possible_files(source));
    return reader.problem("file", fmt::format("the job folder has no file \"{}\"", tariff.file),
                          near.empty() ? "put it beside job.toml" : near);
  }
  if (auto text = source.text(tariff.file, context)) tariff.text = std::move(*text);
}

void check(TomlReader& reader, const Tariff& tariff) {
  if (!reader.clean()) return;
  check_holidays(reader, tariff);
  if (tariff.demand_window_s && !divides_an_hour(*tariff.demand_window_s))
    reader.problem("demand_window", "must divide an hour", "15 min and 30 min are usual");
}

void check(TomlReader& reader, const std::vector<Season>& seasons) {
  if (!reader.clean()) return;
  const Season& last = seasons.back();
  for (const Season& before : std::span(seasons).first(seasons.size() - 1)) {
    if (before.name == last.name)
      return reader.problem("name", fmt::format("the season \"{}\" is there twice", last.name));
    if (before.month == last.month && before.day == last.day)
      return reader.problem("from", fmt::format("the season \"{}\" begins on this day, too", before.name));
  }
}

void check(TomlReader& reader, const ControllerLimits& controller) {
  if (!reader.clean()) return;
  if (!divides_an_hour(controller.clock_step_s))
    reader.problem("clock_step", "must divide an hour", "5, 10, 15, 30 and 60 min are usual");
  if (controller.lowest_c >= controller.highest_c) reader.problem("lowest", "must be below highest");
  if (controller.clock == ControllerLimits::Clock::on_off && !controller.off)
    reader.problem("off", "must be true", "an on-off clock does nothing but switch the heating off");
}

void check(TomlReader& reader, const std::vector<ComfortTarget>& targets) {
  if (!reader.clean()) return;
  const auto same = [&](const ComfortTarget& other) { return other.fixture == targets.back().fixture; };
  if (std::ranges::count_if(targets, same) > 1)
    reader.problem("fixture", fmt::format("\"{}\" is there twice", targets.back().fixture));
}

}  // namespace

void read_week(const toml::table& root, const Source& source, Job& job, Context& context) {
  section_if_there(root, "tariff", context, [&](TomlReader& reader) {
    describe(reader, job.tariff);
    check(reader, job.tariff);
    read_tariff_file(reader, source, job.tariff, context);
  });
  list(root, "season", std::nullopt, job.tariff.seasons, context, [&](TomlReader& reader, Season& season) {
    describe(reader, season);
    check(reader, job.tariff.seasons);
  });
  job.controller = usual_controller(job.units);
  section_if_there(root, "controller", context, [&](TomlReader& reader) {
    describe(reader, job.controller, job.units);
    check(reader, job.controller);
  });
  section_if_there(root, "week", context, [&](TomlReader& reader) { describe(reader, job.week); });
  list(root, "comfort", std::nullopt, job.week.comfort, context,
       [&](TomlReader& reader, ComfortTarget& target) {
         describe(reader, target);
         check(reader, job.week.comfort);
       });
}

}  // namespace firstdraw::job
