// Steps of guessing a log's format; guess_format joins them.
#pragma once

#include <cstdint>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "watch/log_format.hpp"

namespace firstdraw::watch {

/// The lines of the start of a file, cut at one delimiter.
struct Sheet {
  char delimiter = ',';
  std::vector<std::vector<std::string>> rows;
  std::vector<std::int64_t> line;
  std::string trouble{};  // what stopped the reading, at trouble_line
  std::int64_t trouble_line = 0;
};
Sheet cut_sheet(std::string_view text, char delimiter);

/// Which cells hold times, and where readings begin.
struct Shape {
  Sheet sheet;
  std::size_t time_cell = 0;
  std::optional<std::size_t> clock_cell{};
  ClockKind number_clock = ClockKind::local;  // unix_s, unix_ms, spreadsheet: the times are numbers
  std::size_t cells = 0;                      // of a row of readings
  std::vector<std::size_t> data;              // rows of readings
  std::optional<std::size_t> header{};        // row of names
  std::optional<std::size_t> unit_row{};      // row of units below it
  bool times_are_numbers() const { return number_clock != ClockKind::local; }
};
/// The delimiter under which most lines are a time and numbers; nullopt: under none.
std::optional<Shape> find_shape(std::string_view text);

/// Order of dates, clock, zone: into `guess`.
void guess_time(const Shape& shape, const job::Job& job, Guess& guess);
/// What the columns hold, marks of missing readings, the decimal sign: into `guess`.
void guess_columns(const Shape& shape, const job::Job& job, std::span<const std::string> circuits,
                   Guess& guess);
/// Decimal sign from the cells of numbers. Needs the columns.
void guess_decimal(const Shape& shape, Guess& guess);

}  // namespace firstdraw::watch
