#include "cli/cable_answer.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <filesystem>
#include <set>

#include "cli/question.hpp"
#include "job/folder.hpp"

namespace firstdraw::cli {
namespace {

namespace fs = std::filesystem;
using units::Kind;

// A start in an unheated building above freezing, as the job's own default (common practice, no source).
constexpr double usual_start_c = 5;

std::unexpected<CableFailure> unreadable(Diagnostics errors) {
  return std::unexpected(CableFailure{ExitCode::job_unreadable, std::move(errors)});
}

std::unexpected<CableFailure> unreadable(std::string_view field, std::string_view message,
                                         std::string_view hint) {
  return unreadable(Diagnostics{complaint(field, message, hint)});
}

std::expected<SheetInUse, CableFailure> sheet_of_job(const std::string& folder, const std::string& id) {
  const auto job = job::read_job(folder);
  if (!job) return unreadable(job.error());
  std::vector<std::string> ids;
  for (const physics::CableSheet& sheet : job->cables) {
    if (sheet.id == id) return SheetInUse{sheet, job->requirements.rules, job->requirements.start_c};
    ids.push_back(sheet.id);
  }
  if (ids.empty())
    return unreadable(folder, "its catalog/ holds no data sheet", "put one there as a .toml file");
  const std::string known = fmt::format("it has {}", fmt::join(ids, ", "));
  if (id.empty()) return unreadable(folder, "which data sheet of the job?", known);
  const auto near = units::nearest(id, ids);
  return unreadable(id, fmt::format("{} has no such data sheet", folder),
                    near ? fmt::format("did you mean {}?", *near) : known);
}

std::vector<BreakerLength> max_lengths(const physics::HeatingCable& cable, double voltage_v, double start_c) {
  std::set<double> breakers_a;
  for (const physics::MaxLengthPoint& point : cable.sheet().max_length) breakers_a.insert(point.breaker_a);
  std::vector<BreakerLength> lengths;
  for (const double breaker_a : breakers_a) {
    const auto length_m = cable.max_length_m(breaker_a, voltage_v, start_c);
    if (length_m) lengths.push_back({breaker_a, *length_m});
  }
  return lengths;
}

void add_warnings(CableAnswer& answer) {
  const physics::CableSheet& sheet = answer.sheet;
  if (!answer.voltage_allowed) {
    answer.warnings.push_back(
        fmt::format("the data sheet gives no output at {:g} V (it covers {:g} to {:g} V): do not connect it",
                    answer.voltage_v, sheet.voltage.front().voltage_v, sheet.voltage.back().voltage_v));
  }
  if (answer.output.extrapolated && answer.voltage_allowed) {
    answer.warnings.push_back(
        fmt::format("the data sheet's output table runs from {:g} to {:g} °C: the value at its end is shown",
                    sheet.output.front().pipe_c, sheet.output.back().pipe_c));
  }
  if (answer.start.extrapolated) {
    answer.warnings.push_back(
        fmt::format("the data sheet's cold-start table does not reach {:g} °C: the value at its end is shown",
                    answer.start_c));
  }
  if (answer.pipe_c > sheet.max_powered_c) {
    answer.warnings.push_back(
        fmt::format("the pipe is hotter than the cable may be while on ({:g} °C)", sheet.max_powered_c));
  }
}

}  // namespace

std::expected<SheetInUse, CableFailure> find_sheet(const std::string& text) {
  std::error_code error;
  if (fs::is_regular_file(text, error)) {
    auto sheet = job::read_cable_sheet(text);
    if (!sheet) return unreadable(sheet.error());
    return SheetInUse{*std::move(sheet), rules::RuleSet::us, std::nullopt};
  }
  const std::size_t colon = text.rfind(':');
  if (colon != std::string::npos) return sheet_of_job(text.substr(0, colon), text.substr(colon + 1));
  if (fs::is_directory(text, error)) return sheet_of_job(text, "");
  return unreadable(text, "there is no such data sheet",
                    "give its .toml file, or a job folder and an id: riverside:my-cable");
}

CableAnswer answer(const SheetInUse& use, double pipe_c, double voltage_v, std::optional<double> length_m,
                   std::optional<double> start_c) {
  const physics::HeatingCable cable(use.sheet);
  CableAnswer answer;
  answer.sheet = use.sheet;
  answer.pipe_c = pipe_c;
  answer.voltage_v = voltage_v;
  answer.start_assumed = !start_c && !use.start_c;
  answer.start_c = start_c.value_or(use.start_c.value_or(usual_start_c));
  answer.output = cable.output(pipe_c, voltage_v);
  answer.current_a_per_m = answer.output.power_w_per_m / voltage_v;
  answer.start = cable.start_current(answer.start_c, voltage_v);
  answer.voltage_allowed = cable.allows_voltage(voltage_v);
  answer.length_m = length_m;
  answer.max_lengths = max_lengths(cable, voltage_v, answer.start_c);
  add_warnings(answer);
  return answer;
}

std::expected<CableAnswer, CableFailure> answer(const CableQuestion& question) {
  Question read;
  const double pipe_c = read.temperature_c("--pipe-temp", question.pipe_temp);
  const double voltage_v =
      read.quantity_within("--voltage", question.voltage, Kind::voltage, 1, 1000, "1 to 1000 V");
  std::optional<double> length_m, start_c;
  if (!question.length.empty()) {
    length_m = read.quantity_within("--length", question.length, Kind::length, 0, 1e5, "0 to 100 km");
  }
  if (!question.start_temp.empty()) start_c = read.temperature_c("--start-temp", question.start_temp);
  if (!read.slips().empty()) return std::unexpected(CableFailure{ExitCode::wrong_command_line, read.slips()});
  auto use = find_sheet(question.cable);
  if (!use) return std::unexpected(use.error());
  return answer(*use, pipe_c, voltage_v, length_m, start_c);
}

nlohmann::json to_json(const CableAnswer& answer) {
  nlohmann::json json{
      {"cable",
       {{"id", answer.sheet.id},
        {"name", answer.sheet.name},
        {"maker", answer.sheet.maker},
        {"rated_voltage_v", answer.sheet.rated_voltage_v},
        {"output_tolerance_frac", answer.sheet.output_tolerance_frac},
        {"source", answer.sheet.source}}},
      {"pipe_c", answer.pipe_c},
      {"voltage_v", answer.voltage_v},
      {"voltage_allowed", answer.voltage_allowed},
      {"power_w_per_m", answer.output.power_w_per_m},
      {"power_w_per_ft", units::from_si(answer.output.power_w_per_m, "W/ft", Kind::power_per_length)},
      {"current_a_per_m", answer.current_a_per_m},
      {"extrapolated", answer.output.extrapolated},
      {"start",
       {{"start_c", answer.start_c},
        {"peak_a_per_m", answer.start.peak_a_per_m},
        {"settled_a_per_m", answer.start.settled_a_per_m},
        {"extrapolated", answer.start.extrapolated}}},
      {"max_lengths", nlohmann::json::array()},
      {"warnings", answer.warnings},
  };
  for (const BreakerLength& length : answer.max_lengths) {
    json["max_lengths"].push_back({{"breaker_a", length.breaker_a}, {"max_length_m", length.max_length_m}});
  }
  if (answer.length_m) {
    json["length_m"] = *answer.length_m;
    json["power_w"] = answer.output.power_w_per_m * *answer.length_m;
    json["current_a"] = answer.current_a_per_m * *answer.length_m;
    json["start"]["peak_a"] = answer.start.peak_a_per_m * *answer.length_m;
    json["start"]["settled_a"] = answer.start.settled_a_per_m * *answer.length_m;
  }
  return json;
}

}  // namespace firstdraw::cli
