#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <map>

#include "watch/log_guess.hpp"
#include "watch/log_number.hpp"
#include "watch/log_rows.hpp"
#include "watch/log_stamp.hpp"
#include "watch/log_words.hpp"

namespace firstdraw::watch {
namespace {

constexpr std::size_t rows_looked_at = 400;  // to find the shape; dates are judged over all

bool is_number(std::string_view cell) { return log_number(cell, '.') || log_number(cell, ','); }

bool is_stamp(std::string_view cell) {
  if (cell.size() < 6 || cell.size() > 60) return false;
  return std::ranges::any_of(
      std::array{DateOrder::year_month_day, DateOrder::day_month_year, DateOrder::month_day_year},
      [cell](DateOrder order) { return read_stamp(cell, order).has_value(); });
}

/// Cells of that place in the first rows for which `wanted` holds.
template <class Wanted>
std::vector<std::size_t> count_by_cell(const Sheet& sheet, Wanted wanted) {
  std::vector<std::size_t> counts;
  const std::size_t rows = std::min(rows_looked_at, sheet.rows.size());
  for (std::size_t row = 0; row < rows; ++row) {
    for (std::size_t cell = 0; cell < sheet.rows[row].size(); ++cell) {
      if (counts.size() <= cell) counts.resize(cell + 1);
      counts[cell] += wanted(sheet.rows[row][cell]) ? 1U : 0U;
    }
  }
  return counts;
}

/// Place of the largest; the first of equal ones. Empty: all are zero.
std::optional<std::size_t> most(const std::vector<std::size_t>& counts) {
  const auto best = std::ranges::max_element(counts);
  if (best == counts.end() || *best == 0) return std::nullopt;
  return static_cast<std::size_t>(best - counts.begin());
}

/// Numbers of one cell, down the rows.
std::vector<double> numbers_of(const Sheet& sheet, std::size_t cell) {
  std::vector<double> numbers;
  for (std::size_t row = 0; row < std::min(rows_looked_at, sheet.rows.size()); ++row) {
    if (cell >= sheet.rows[row].size()) continue;
    const std::string& text = sheet.rows[row][cell];
    auto number = log_number(text, '.');
    if (!number) number = log_number(text, ',');
    if (number && number->rest.empty()) numbers.push_back(number->value);
  }
  return numbers;
}

/// What kind of count a column that rises is.
ClockKind number_clock(const std::vector<double>& numbers) {
  constexpr std::size_t least = 2;
  if (numbers.size() < least || numbers.front() == numbers.back()) return ClockKind::local;
  std::size_t up = 0, down = 0;
  for (std::size_t i = 1; i < numbers.size(); ++i) {
    up += numbers[i] > numbers[i - 1] ? 1U : 0U;
    down += numbers[i] < numbers[i - 1] ? 1U : 0U;
  }
  if (std::max(up, down) * 10 < (numbers.size() - 1) * 9) return ClockKind::local;
  std::vector<double> sorted = numbers;
  std::ranges::sort(sorted);
  const double low = sorted[sorted.size() / 20], high = sorted[sorted.size() - 1 - sorted.size() / 20];
  const auto within = [low, high](double least_n, double most_n) { return low >= least_n && high <= most_n; };
  if (within(9e8, 2.2e9)) return ClockKind::unix_s;
  if (within(9e11, 2.2e12)) return ClockKind::unix_ms;
  const bool parts = std::ranges::any_of(numbers, [](double n) { return n != std::floor(n); });
  return within(32874, 50405) && parts ? ClockKind::spreadsheet : ClockKind::local;  // 1990 to 2037
}

bool find_number_times(Shape& shape) {
  const auto counts = count_by_cell(shape.sheet, is_number);
  for (std::size_t cell = 0; cell < counts.size(); ++cell) {
    shape.number_clock = number_clock(numbers_of(shape.sheet, cell));
    if (!shape.times_are_numbers()) continue;
    shape.time_cell = cell;
    return true;
  }
  return false;
}

bool find_times(Shape& shape) {
  const auto stamps = count_by_cell(shape.sheet, is_stamp);
  const auto cell = most(stamps);
  if (!cell) return find_number_times(shape);
  shape.time_cell = *cell;
  const auto dates = count_by_cell(shape.sheet, [](std::string_view text) {
    return is_stamp(text) && text.find(':') == std::string_view::npos && text.size() <= 24;
  });
  if (dates[*cell] * 2 < stamps[*cell]) return true;
  auto clocks = count_by_cell(shape.sheet, [](std::string_view text) { return is_clock(text); });
  clocks[*cell] = 0;
  const auto clock = most(clocks);
  if (clock && clocks[*clock] * 2 >= stamps[*cell]) shape.clock_cell = clock;
  return true;
}

bool has_time(const Shape& shape, const std::vector<std::string>& row) {
  if (shape.time_cell >= row.size()) return false;
  if (shape.times_are_numbers()) return is_number(row[shape.time_cell]);
  if (shape.clock_cell && (*shape.clock_cell >= row.size() || !is_clock(row[*shape.clock_cell])))
    return false;
  return is_stamp(row[shape.time_cell]);
}

bool has_reading(const Shape& shape, const std::vector<std::string>& row) {
  for (std::size_t cell = 0; cell < row.size(); ++cell) {
    if (cell == shape.time_cell || cell == shape.clock_cell) continue;
    if (is_number(row[cell]) || switched_word(row[cell]) || says_missing(row[cell])) return true;
  }
  return false;
}

void find_rows(Shape& shape) {
  std::map<std::size_t, std::size_t> widths;
  for (std::size_t i = 0; i < shape.sheet.rows.size(); ++i) {
    const auto& row = shape.sheet.rows[i];
    if (!has_time(shape, row) || !has_reading(shape, row)) continue;
    shape.data.push_back(i);
    ++widths[row.size()];
  }
  const auto usual = std::ranges::max_element(widths, {}, [](const auto& pair) { return pair.second; });
  if (usual != widths.end()) shape.cells = usual->first;
}

/// Names of columns: words, not numbers, about as many as there are cells.
bool may_be_header(const Shape& shape, const std::vector<std::string>& row) {
  if (row.size() + 1 < shape.cells || row.size() > shape.cells + 1) return false;
  std::size_t words = 0, numbers = 0;
  for (const std::string& cell : row) {
    numbers += is_number(cell) ? 1U : 0U;
    words += !cell.empty() && !is_number(cell) ? 1U : 0U;
  }
  return words > numbers && words >= std::min<std::size_t>(2, shape.cells);
}

/// Every cell is a unit in brackets or bare, or blank, or names a pattern such as "yyyy-mm-dd".
bool may_be_units(const std::vector<std::string>& row) {
  std::size_t units = 0;
  for (std::size_t i = 0; i < row.size(); ++i) {
    std::string text = row[i];
    if (text.size() > 2 && (text.front() == '(' || text.front() == '['))
      text = text.substr(1, text.size() - 2);
    const bool unit = !text.empty() && !read_header("Temp (" + text + ")").unit.empty();
    units += unit ? 1U : 0U;
    if (!unit && !text.empty() && i > 1) return false;
  }
  return units > 0;
}

void find_header(Shape& shape) {
  const std::size_t first = shape.data.front();
  for (std::size_t i = first, looked = 0; i > 0 && looked < 3; ++looked) {
    --i;
    const auto& row = shape.sheet.rows[i];
    if (may_be_units(row) && !shape.unit_row && i > 0 && may_be_header(shape, shape.sheet.rows[i - 1])) {
      shape.unit_row = i;
      continue;
    }
    if (!may_be_header(shape, row)) continue;
    shape.header = i;
    return;
  }
}

}  // namespace

Sheet cut_sheet(std::string_view text, char delimiter) {
  Sheet sheet;
  sheet.delimiter = delimiter;
  LogRows rows(bytes_of(text), "utf-8", delimiter);
  rows.keep_comments_to(std::numeric_limits<std::int64_t>::max());
  while (rows.next()) {
    sheet.rows.emplace_back(rows.cells().begin(), rows.cells().end());
    sheet.line.push_back(rows.line());
  }
  sheet.trouble = rows.trouble();
  sheet.trouble_line = rows.line();
  return sheet;
}

std::optional<Shape> find_shape(std::string_view text) {
  std::optional<Shape> best;
  for (const char delimiter : {'\t', ';', ',', '|', ' '}) {
    Shape shape;
    shape.sheet = cut_sheet(text, delimiter);
    if (!find_times(shape)) continue;
    find_rows(shape);
    if (shape.data.empty() || shape.cells < 2) continue;
    if (best && shape.data.size() <= best->data.size()) continue;
    find_header(shape);
    best = std::move(shape);
  }
  return best;
}

}  // namespace firstdraw::watch
