#include "prove/readings_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

#include "job/context.hpp"
#include "job/values.hpp"
#include "prove/reading_cells.hpp"
#include "prove/verdict.hpp"
#include "tables/csv.hpp"
#include "units/number.hpp"

namespace firstdraw::prove {
namespace {

using job::Diagnostic;
using units::Kind;

constexpr std::array<std::string_view, 19> columns{
    "what",         "circuit", "group",      "run",     "outlet",         "value",  "stage",
    "test_voltage", "cable",   "volts",      "minutes", "times_rated",    "called", "sensor",
    "at",           "who",     "instrument", "serial",  "calibration_due"};
constexpr std::array<std::string_view, 2> last_columns{"error", "note"};

std::vector<std::string> all_columns() {
  std::vector<std::string> names(columns.begin(), columns.end());
  names.insert(names.end(), last_columns.begin(), last_columns.end());
  return names;
}

template <class Items, class Id>
std::vector<std::string> ids_of(const Items& items, Id id) {
  std::vector<std::string> ids;
  for (const auto& item : items) ids.push_back(std::invoke(id, item));
  return ids;
}

/// A heading's name and unit: "value [A]", "Value (A)".
tables::CsvHeading heading_of(std::string_view text) {
  const auto open = text.rfind('[');
  if (open == std::string_view::npos || !text.ends_with(']')) return tables::split_heading(text);
  return {units::trim(text.substr(0, open)), text.substr(open + 1, text.size() - open - 2)};
}

std::string column_name(std::string_view text) {
  std::string name = as_name(text);
  std::ranges::replace(name, '-', '_');
  return name;
}

class Reader {
 public:
  Reader(const tables::CsvText& csv, std::string_view file, const job::Job& job, const plan::Plan& plan)
      : csv_(csv), file_(file), job_(job) {
    ids_["circuit"] = ids_of(plan.circuits, &power::Circuit::id);
    ids_["group"] = ids_of(job.groups, &job::ControlGroup::id);
    ids_["run"] = ids_of(job.runs, &job::Run::id);
    ids_["outlet"] = ids_of(job.outlets, &job::Outlet::id);
    for (const WhatHelp& help : what_help()) whats_.emplace_back(help.name);
  }

  std::expected<std::vector<Reading>, std::vector<Diagnostic>> read() {
    read_header();
    if (problems_.empty()) {
      for (const auto& row : csv_.rows) read_row(row);
    }
    if (!problems_.empty()) return std::unexpected(std::move(problems_));
    return std::move(readings_);
  }

 private:
  struct Column {
    std::size_t at = 0;
    std::string unit;
  };

  void complain(int line, int column, std::string_view field, std::string message, std::string hint = {}) {
    std::string name = name_.empty() ? std::string(field) : name_ + " · " + std::string(field);
    problems_.push_back(
        {std::string(file_), line, column, std::move(name), std::move(message), std::move(hint)});
  }

  void read_header() {
    const auto known = all_columns();
    for (std::size_t at = 0; at < csv_.header.size(); ++at) {
      const tables::CsvCell& cell = csv_.header[at];
      if (cell.text.empty()) continue;
      const auto heading = heading_of(cell.text);
      const std::string name = column_name(heading.name);
      if (!holds(known, name)) {
        complain(cell.line, cell.column, name,
                 "is no column of a readings file; known: " + fmt::format("{}", fmt::join(known, ", ")),
                 job::did_you_mean(name, known));
      } else if (!columns_.emplace(name, Column{at, std::string(heading.unit)}).second) {
        complain(cell.line, cell.column, name, "stands in two columns; one was expected");
      }
    }
    for (const std::string_view needed : {"what", "value"}) {
      if (!columns_.contains(needed))
        complain(csv_.header.empty() ? 1 : csv_.header.front().line, 0, needed,
                 "no such column; a readings file needs \"what\" and \"value\"");
    }
  }

  /// Null when the column is not there or the cell is blank.
  const tables::CsvCell* cell(std::string_view name) const {
    const auto found = columns_.find(name);
    if (found == columns_.end() || found->second.at >= row_->size()) return nullptr;
    const tables::CsvCell& here = (*row_)[found->second.at];
    return units::trim(here.text).empty() ? nullptr : &here;
  }
  std::string_view unit_of(std::string_view name) const { return columns_.find(name)->second.unit; }
  std::string number_text(const tables::CsvCell& cell) const {
    return csv_.separator == ',' ? cell.text : with_decimal_point(cell.text);
  }

  void complain(const tables::CsvCell& cell, std::string_view field, std::string message,
                std::string hint = {}) {
    complain(cell.line, cell.column, field, std::move(message), std::move(hint));
  }

  void read_row(const std::vector<tables::CsvCell>& row) {
    row_ = &row;
    name_.clear();
    judge_width();
    const auto* value = cell("value");
    if (!value) return;  // nothing was measured
    const std::size_t before = problems_.size();
    Reading reading;
    reading.place = {std::string(file_), row.front().line};
    if (!read_what(reading)) return;
    read_measured(*value, reading);
    read_places(reading);
    read_circumstances(reading);
    read_record(reading);
    if (problems_.size() == before) readings_.push_back(std::move(reading));
  }

  void judge_width() {
    const std::size_t width = csv_.header.size();
    for (std::size_t at = width; at < row_->size(); ++at) {
      if ((*row_)[at].text.empty()) continue;
      complain((*row_)[at], "row",
               fmt::format("has more cells than the {} of the heading line; a decimal comma in a "
                           "comma-separated file does this",
                           width));
      return;
    }
  }

  bool read_what(Reading& reading) {
    const auto* here = cell("what");
    if (!here) {
      complain(row_->front().line, 0, "what", "is missing; a value needs the kind of reading it is of");
      return false;
    }
    const std::string name = as_name(here->text);
    const auto found = std::ranges::find(what_help(), name, &WhatHelp::name);
    if (found == what_help().end()) {
      complain(*here, "what",
               fmt::format("\"{}\" is no kind of reading; expected {}", here->text, job::one_of(whats_)),
               job::did_you_mean(name, whats_));
      return false;
    }
    reading.what = found->what;
    name_ = found->name;
    return true;
  }

  void read_measured(const tables::CsvCell& value, Reading& reading) {
    const bool text = is_text(reading.what);
    const auto read =
        read_value(reading.what, text ? value.text : number_text(value), unit_of("value"), job_.units);
    if (!read) return complain(value, "value", read.error());
    reading.value = read->value;
    reading.at_least = read->at_least;
    reading.text = read->text;
  }

  void read_places(Reading& reading) {
    read_place("circuit", reading.circuit);
    read_place("group", reading.group);
    const bool tap = reading.what == What::tap_temperature;
    std::string other;
    read_place("run", tap ? other : reading.run);
    const auto* wrong = cell(tap ? "run" : "outlet");
    if (wrong)
      complain(
          *wrong, tap ? "run" : "outlet",
          tap ? "a tap is named in the column outlet alone" : "only a tap-temperature is taken at an outlet");
    if (tap) read_place("outlet", reading.run);
    const std::string_view needed = help_of(reading.what).place;
    if (!cell(needed))
      complain(row_->front().line, 0, needed,
               fmt::format("is missing; {} is taken at a {}", name_of(reading.what), needed));
  }

  void read_place(const std::string& column, std::string& id) {
    const auto* here = cell(column);
    if (!here) return;
    const auto& known = ids_[column];
    if (holds(known, here->text)) {
      id = here->text;
      return;
    }
    std::string hint = job::did_you_mean(here->text, known);
    if (hint.empty() && !known.empty() && known.size() <= 12)
      hint = "known: " + fmt::format("{}", fmt::join(known, ", "));
    complain(*here, column, fmt::format("the job has no {} \"{}\"", column, here->text), std::move(hint));
  }

  template <class T, class Read>
  void optional(std::string_view column, std::optional<T>& into, Read read) {
    const auto* here = cell(column);
    if (!here) return;
    const Cell<T> value = read(number_text(*here), unit_of(column));
    if (!value) return complain(*here, column, value.error());
    into = *value;
  }

  void quantity(std::string_view column, std::optional<double>& into, Kind kind, const job::Range& range) {
    optional(column, into, [&](const std::string& text, std::string_view unit) {
      return job::read_quantity(text, kind, unit.empty() ? units::display_unit(kind, job_.units) : unit,
                                range);
    });
  }

  void read_circumstances(Reading& reading) {
    constexpr job::Range test{1, 20000, false, "between 1 V and 20000 V"};
    constexpr job::Range line{0, 1000, false, "between 0 V and 1000 V"};
    constexpr job::Range at{-60, 200, false, "between -60 °C and 200 °C (-76 °F and 392 °F)"};
    quantity("test_voltage", reading.test_voltage_v, Kind::voltage, test);
    quantity("cable", reading.cable_c, Kind::temperature, at);
    quantity("volts", reading.volts, Kind::voltage, line);
    optional("minutes", reading.minutes,
             [](const std::string& text, std::string_view unit) { return read_minutes(text, unit); });
    optional("times_rated", reading.times_rated,
             [](const std::string& text, std::string_view) { return read_times(text); });
    optional("called", reading.called,
             [](const std::string& text, std::string_view) { return job::read_flag(text); });
    read_stage(reading);
    read_sensor(reading);
  }

  void read_stage(Reading& reading) {
    const auto* here = cell("stage");
    if (!here) return;
    const std::string name = as_name(here->text);
    reading.stage = stage_named(name);
    if (reading.stage) return;
    std::vector<std::string> known;
    for (int each = 0; each <= static_cast<int>(Stage::periodic); ++each)
      known.emplace_back(name_of(static_cast<Stage>(each)));
    complain(*here, "stage", fmt::format("\"{}\" is no stage; expected {}", here->text, job::one_of(known)),
             job::did_you_mean(name, known));
  }

  void read_sensor(Reading& reading) {
    static const std::vector<std::string> known{"pt100", "pt1000", "ntc10k"};
    const auto* here = cell("sensor");
    if (!here) {
      if (reading.what == What::sensor_resistance)
        complain(row_->front().line, 0, "sensor",
                 "is missing; a sensor's resistance means nothing without its kind: " + job::one_of(known));
      return;
    }
    const std::string name = as_name(here->text);
    if (!holds(known, name))
      return complain(*here, "sensor",
                      fmt::format("\"{}\" is no kind of sensor; expected {}", here->text, job::one_of(known)),
                      job::did_you_mean(name, known));
    reading.sensor_kind = name;
  }

  void read_text(std::string_view column, std::string& into) {
    if (const auto* here = cell(column)) into = here->text;
  }

  void read_date(std::string_view column, std::string& into, bool with_time) {
    const auto* here = cell(column);
    if (!here) return;
    if (const auto wrong = wrong_date(here->text, with_time)) return complain(*here, column, *wrong);
    into = here->text;
  }

  void read_record(Reading& reading) {
    read_date("at", reading.at, true);
    read_text("who", reading.who);
    read_text("instrument", reading.instrument.name);
    read_text("serial", reading.instrument.serial);
    read_date("calibration_due", reading.instrument.calibration_due, false);
    read_text("note", reading.note);
    const auto* here = cell("error");
    if (!here) return;
    const auto error = read_error(reading.what, number_text(*here), job_.units);
    if (!error) return complain(*here, "error", error.error());
    reading.instrument.error = *error;
  }

  const tables::CsvText& csv_;
  std::string_view file_;
  const job::Job& job_;
  std::map<std::string, std::vector<std::string>, std::less<>> ids_;
  std::vector<std::string> whats_;
  std::map<std::string, Column, std::less<>> columns_;
  const std::vector<tables::CsvCell>* row_ = nullptr;
  std::string name_;  // of the reading, for messages
  std::vector<Reading> readings_;
  std::vector<Diagnostic> problems_;
};

/// A first line "sep=;" is a spreadsheet's own mark: read as a comment.
std::string without_separator_line(std::string_view text) {
  constexpr std::string_view mark = "\xEF\xBB\xBF";
  if (text.starts_with(mark)) text.remove_prefix(mark.size());
  std::string out(text);
  if (out.starts_with("sep=")) out[0] = '#';
  return out;
}

std::string row_of(const Reading& reading, const job::Job& job, bool blank = false) {
  const auto quantity = [&](const std::optional<double>& value, Kind kind) {
    return value ? units::exact_text(*value, kind, job.units) : std::string();
  };
  const auto number = [](const std::optional<double>& value) {
    return value ? job::exact_number(*value) : std::string();
  };
  const bool tap = reading.what == What::tap_temperature;
  const std::string called = !reading.called ? "" : *reading.called ? "yes" : "no";
  return tables::csv_line(
      {std::string(name_of(reading.what)),
       reading.circuit,
       reading.group,
       tap ? "" : reading.run,
       tap ? reading.run : "",
       blank ? "" : value_text(reading, job.units),
       reading.stage ? std::string(name_of(*reading.stage)) : "",
       quantity(reading.test_voltage_v, Kind::voltage),
       quantity(reading.cable_c, Kind::temperature),
       quantity(reading.volts, Kind::voltage),
       number(reading.minutes),
       number(reading.times_rated),
       called,
       reading.sensor_kind,
       reading.at,
       reading.who,
       reading.instrument.name,
       reading.instrument.serial,
       reading.instrument.calibration_due,
       reading.instrument.error ? error_text(reading.what, *reading.instrument.error, job.units) : "",
       reading.note});
}

}  // namespace

std::expected<std::vector<Reading>, std::vector<Diagnostic>> read_readings(std::string_view text,
                                                                           std::string_view file_name,
                                                                           const job::Job& job,
                                                                           const plan::Plan& plan) {
  const auto csv = tables::read_csv(without_separator_line(text));
  if (!csv) {
    const tables::CsvError& error = csv.error();
    return std::unexpected(
        std::vector<Diagnostic>{{std::string(file_name), error.line, error.column, "", error.message, ""}});
  }
  return Reader(*csv, file_name, job, plan).read();
}

std::string write_readings(const std::vector<Reading>& readings, const job::Job& job) {
  std::string out = tables::csv_line(all_columns());
  for (const Reading& reading : readings) out += row_of(reading, job);
  return out;
}

std::string blank_sheet(const job::Job& job, const plan::Plan& plan) {
  std::string out = tables::csv_line(all_columns());
  for (const Reading& row : sheet_rows(job, plan)) out += row_of(row, job, true);
  return out;
}

}  // namespace firstdraw::prove
