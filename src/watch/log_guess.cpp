#include "watch/log_guess.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

#include "watch/log_bytes.hpp"
#include "watch/log_clock.hpp"
#include "watch/log_import.hpp"
#include "watch/log_rows.hpp"

namespace firstdraw::watch {
namespace {

job::Diagnostic trouble(std::string_view file, std::int64_t line, std::string what, std::string hint = {}) {
  return {std::string(file), static_cast<int>(line), 0, "", std::move(what), std::move(hint)};
}

/// Why no shape was found.
job::Diagnostic no_log(std::string_view text, std::string_view file) {
  const Sheet lines = cut_sheet(text, ';');
  if (!lines.trouble.empty()) return trouble(file, lines.trouble_line, lines.trouble);
  if (lines.rows.empty()) return trouble(file, 0, "holds no line of text");
  return trouble(file, 0, "holds no line with a date and a reading",
                 "a log has one line for each time: a date, a time, numbers");
}

/// The first rows as they would be read.
std::vector<std::vector<std::string>> preview_of(const LogImport& log) {
  constexpr std::size_t shown = 5;
  std::map<std::int64_t, std::vector<std::string>> rows;
  for (std::size_t i = 0; i < log.series.size(); ++i) {
    const auto& samples = log.series[i].samples;
    for (std::size_t k = 0; k < std::min(shown, samples.size()); ++k) {
      auto& row = rows[samples[k].at_ms];
      row.resize(log.series.size());
      row[i] = fmt::format("{:.6g}", samples[k].value);
    }
  }
  std::vector<std::vector<std::string>> preview;
  for (auto& [at_ms, values] : rows) {
    if (preview.size() == shown) break;
    std::vector<std::string> row{clock_text(at_ms) + "Z"};
    row.insert(row.end(), values.begin(), values.end());
    preview.push_back(std::move(row));
  }
  return preview;
}

/// A cell that is "AM" or "PM" alone: at blanks, a time was cut in two.
bool half_day_apart(const Shape& shape) {
  const auto& cells = shape.sheet.rows[shape.data.front()];
  return std::ranges::any_of(cells, [](const std::string& cell) {
    return cell == "AM" || cell == "PM" || cell == "am" || cell == "pm" || cell == "a.m." || cell == "p.m.";
  });
}

/// Decimal commas without quotes between commas: twice as many cells as names.
bool commas_everywhere(const Shape& shape) {
  if (shape.sheet.delimiter != ',' || shape.header || shape.data.front() == 0) return false;
  const std::size_t names = shape.sheet.rows[shape.data.front() - 1].size(), times = shape.clock_cell ? 2 : 1;
  return names > times && shape.cells == times + 2 * (names - times);
}

/// The start of a longer file ends anywhere: whole lines only.
void cut_last_line(std::string& text) {
  const std::size_t end = text.rfind('\n');
  if (text.size() >= longest_line && end != std::string::npos) text.resize(end + 1);
}

}  // namespace

std::expected<Guess, job::Diagnostic> guess_format(std::string_view start, std::string_view file_name,
                                                   const job::Job& job,
                                                   std::span<const std::string> circuits) {
  if (start.empty()) return std::unexpected(trouble(file_name, 0, "is empty"));
  const auto encoding = guess_encoding(start);
  if (!encoding) return std::unexpected(trouble(file_name, 0, encoding.error()));
  std::string text;
  // What is cut off at the end of the start is no matter here.
  if (const auto read = LogBytes(encoding->name).add(start, false, text); !read)
    return std::unexpected(trouble(file_name, 0, read.error()));
  cut_last_line(text);
  const auto shape = find_shape(text);
  if (!shape) return std::unexpected(no_log(text, file_name));
  if (half_day_apart(*shape))
    return std::unexpected(trouble(file_name, shape->sheet.line[shape->data.front()],
                                   "AM and PM stand in a column of their own, which cannot be read",
                                   "export the log with semicolons or tabs between the cells"));
  if (commas_everywhere(*shape))
    return std::unexpected(
        trouble(file_name, shape->sheet.line[shape->data.front()],
                "commas stand between the cells and within the numbers",
                "export the log with semicolons between the cells, or with decimal points"));
  Guess guess;
  guess.format.delimiter = shape->sheet.delimiter;
  guess.format.encoding = encoding->name;
  guess.format.first_line = static_cast<int>(shape->sheet.line[shape->data.front()]);
  guess.format.header_line = shape->header ? static_cast<int>(shape->sheet.line[*shape->header]) : 0;
  guess_decimal(*shape, guess);
  guess_time(*shape, job, guess);
  guess_columns(*shape, job, circuits, guess);
  guess.sure_frac = 0.99 * std::pow(0.6, static_cast<double>(guess.doubts.size()));
  if (std::ranges::all_of(guess.format.columns, [](const LogColumn& one) { return one.series.empty(); })) {
    guess.doubts.emplace_back(
        "no column says what it measures, so none is read: name the quantity and the series of each in a "
        "format file");
    guess.sure_frac = 0;
    return guess;
  }
  LogFormat decoded = guess.format;
  decoded.encoding = utf_8;
  const auto log = import_log(text, file_name, decoded);
  if (!log) return std::unexpected(log.error().front());
  guess.preview = preview_of(*log);
  return guess;
}

}  // namespace firstdraw::watch
