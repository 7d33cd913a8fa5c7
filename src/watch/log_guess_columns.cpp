#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "units/number.hpp"
#include "units/unit_table.hpp"
#include "watch/log_guess.hpp"
#include "watch/log_number.hpp"
#include "watch/log_places.hpp"
#include "watch/log_stuck.hpp"
#include "watch/log_words.hpp"

namespace firstdraw::watch {
namespace {

/// What the cells of one column look like.
struct Cells {
  std::size_t numbers = 0, switched = 0, filled = 0;
  std::vector<double> values;
  std::map<std::string, std::size_t> rests;                           // behind numbers
  std::map<std::string, std::pair<std::size_t, std::size_t>> others;  // texts: how many, first row
  std::map<double, std::string> marks;                                // numbers that may mean "missing"
};

std::optional<LogNumber> number_of(const std::string& text, char decimal) {
  return log_number(text, decimal);
}

Cells look_at(const Shape& shape, std::size_t cell, char decimal) {
  Cells cells;
  for (const std::size_t row : shape.data) {
    if (cell >= shape.sheet.rows[row].size()) continue;
    const std::string& text = shape.sheet.rows[row][cell];
    if (text.empty()) continue;
    ++cells.filled;
    if (const auto number = number_of(text, decimal)) {
      ++cells.numbers;
      cells.values.push_back(number->value);
      if (!number->rest.empty()) ++cells.rests[std::string(number->rest)];
      if (is_missing_number(number->value)) cells.marks[number->value] = text;
    } else {
      cells.switched += switched_word(text) ? 1U : 0U;
      auto& seen = cells.others[text];
      if (seen.first++ == 0) seen.second = row;
    }
  }
  return cells;
}

double middle_of(std::vector<double> values) {
  if (values.empty()) return 0;
  const auto middle = values.begin() + static_cast<std::ptrdiff_t>(values.size() / 2);
  std::ranges::nth_element(values, middle);
  return *middle;
}

bool is_air(const std::string& name) {
  const auto words = words_of(name);
  return std::ranges::any_of(words, [](const std::string& word) {
    return word == "air" || word == "ambient" || word == "room" || word == "luft" || word == "outside";
  });
}

class ColumnGuess {
 public:
  ColumnGuess(const Shape& shape, const job::Job& job, std::span<const std::string> circuits, Guess& guess)
      : shape_(shape), job_(job), circuits_(circuits), guess_(guess) {}

  void add(std::size_t cell) {
    const std::string header = header_of(cell);
    HeaderWords words = read_header(header);
    if (shape_.unit_row && words.unit.empty()) add_unit_of_row(cell, words);
    const Cells cells = look_at(shape_, cell, guess_.format.decimal);
    LogColumn column{header, {}, {}, {}, {}};
    if (words.left_out || cells.numbers + cells.switched == 0) return keep(std::move(column));
    if (words.unit.empty()) add_unit_of_cells(cells, words);
    column.quantity = words.quantity.empty() && cells.switched > cells.numbers ? "on" : words.quantity;
    if (column.quantity.empty()) {
      guess_.doubts.push_back(fmt::format("{} does not say what it measures; it is not read", shown(header)));
      return keep(std::move(column));
    }
    column.unit = unit_of(column.quantity, words, cells, header);
    column.place = place_of(words.name, column.quantity, header);
    column.series = series_of(column, words);
    add_missing(column, cells, header);
    keep(std::move(column));
  }

 private:
  static std::string shown(const std::string& header) {
    return fmt::format("column {}", units::quoted(header));
  }

  void keep(LogColumn column) {
    if (column.series.empty()) column.quantity = column.place = column.unit = "";
    guess_.format.columns.push_back(std::move(column));
  }

  std::string header_of(std::size_t cell) const {
    if (shape_.header && cell < shape_.sheet.rows[*shape_.header].size())
      return clean_header(shape_.sheet.rows[*shape_.header][cell]);
    return fmt::format("column {}", cell + 1);
  }

  void add_unit_of_row(std::size_t cell, HeaderWords& words) const {
    const auto& row = shape_.sheet.rows[*shape_.unit_row];
    if (cell >= row.size() || row[cell].empty()) return;
    std::string unit = row[cell];
    if (unit.size() > 2 && (unit.front() == '(' || unit.front() == '['))
      unit = unit.substr(1, unit.size() - 2);
    merge(read_header(words.name + " (" + unit + ")"), words);
  }

  static void add_unit_of_cells(const Cells& cells, HeaderWords& words) {
    if (cells.rests.empty()) return;
    const auto usual =
        std::ranges::max_element(cells.rests, {}, [](const auto& pair) { return pair.second; });
    if (usual->second * 2 > cells.numbers) merge(read_header(words.name + " (" + usual->first + ")"), words);
  }

  static void merge(const HeaderWords& found, HeaderWords& words) {
    if (found.unit.empty()) return;
    words.unit = found.unit;
    words.quantity = found.quantity;
    words.left_out |= found.left_out;
  }

  std::string unit_of(const std::string& quantity, const HeaderWords& words, const Cells& cells,
                      const std::string& header) {
    const units::Kind kind = kind_of_quantity(quantity);
    if (quantity == "on") return "";
    if (!words.unit.empty() && units::find_unit(words.unit, kind) != nullptr) return words.unit;
    const double middle = middle_of(cells.values);
    const double most = cells.values.empty() ? 0 : *std::ranges::max_element(cells.values);
    if (quantity == "duty") return most > 1.5 ? "%" : "";
    if (kind == units::Kind::temperature) {
      constexpr double hottest_usual_c = 75;
      const bool fahrenheit = middle > hottest_usual_c;
      guess_.doubts.push_back(fmt::format("{} names no unit; its middle value {:.6g} is taken for {}",
                                          shown(header), middle, fahrenheit ? "°F" : "°C"));
      return fahrenheit ? "°F" : "°C";
    }
    if (kind == units::Kind::power)
      guess_.doubts.push_back(
          fmt::format("{} names no unit; its middle value {:.6g} is taken for W", shown(header), middle));
    return std::string(units::si_unit(kind).name);
  }

  std::string place_of(const std::string& name, const std::string& quantity, const std::string& header) {
    const FoundPlace found = find_place(name, job_, circuits_);
    if (found.near)
      guess_.doubts.push_back(
          fmt::format("{} is spelled like no place of the job; taken for {}", shown(header), found.id));
    if (!found.id.empty()) return found.id;
    if (quantity == "temperature" && is_air(name))
      return job_.spaces.size() == 1 ? job_.spaces.front().id : "";
    return job_.groups.size() == 1 ? job_.groups.front().id : "";
  }

  std::string series_of(const LogColumn& column, const HeaderWords& words) {
    std::string name = column.place.empty() ? slug_of(words.name) : column.place + "." + column.quantity;
    if (name.empty()) name = column.quantity;
    std::string wanted = name;
    for (int i = 2; !names_.insert(name).second; ++i) name = fmt::format("{}-{}", wanted, i);
    return name;
  }

  /// Texts and numbers that stand for no reading.
  void add_missing(const LogColumn& column, const Cells& cells, const std::string& header) {
    for (const auto& [text, seen] : cells.others) {
      if (column.quantity == "on" && switched_word(text)) continue;
      if (says_missing(text)) {
        add_mark(text);
      } else if (doubted_texts_++ < 5) {
        guess_.doubts.push_back(fmt::format("{} is no reading: {} in {}, first on line {}",
                                            units::quoted(text),
                                            seen.first == 1 ? "once" : fmt::format("{} times", seen.first),
                                            shown(header), shape_.sheet.line[seen.second]));
      }
    }
    const units::Kind kind = kind_of_quantity(column.quantity);
    for (const auto& [value, text] : cells.marks) {
      const auto si = column.unit.empty() ? std::expected<double, std::string>(value)
                                          : units::to_si(value, column.unit, kind);
      if (si && !is_possible(column.quantity, *si)) add_mark(text);
    }
  }

  void add_mark(const std::string& text) {
    auto& marks = guess_.format.missing;
    if (std::ranges::find(marks, text) == marks.end()) marks.push_back(text);
  }

  const Shape& shape_;
  const job::Job& job_;
  std::span<const std::string> circuits_;
  Guess& guess_;
  std::set<std::string> names_;
  int doubted_texts_ = 0;
};

}  // namespace

void guess_columns(const Shape& shape, const job::Job& job, std::span<const std::string> circuits,
                   Guess& guess) {
  guess.format.missing = {""};
  if (!shape.header) guess.doubts.emplace_back("no line names the columns");
  ColumnGuess columns(shape, job, circuits, guess);
  for (std::size_t cell = 0; cell < shape.cells; ++cell) {
    if (cell != shape.time_cell && cell != shape.clock_cell) columns.add(cell);
  }
}

void guess_decimal(const Shape& shape, Guess& guess) {
  std::size_t points = 0, commas = 0, either = 0, either_commas = 0, first_odd = 0;
  std::string point_text, comma_text, either_text;
  for (const std::size_t row : shape.data) {
    const auto& cells = shape.sheet.rows[row];
    for (std::size_t cell = 0; cell < cells.size(); ++cell) {
      if ((cell == shape.time_cell && !shape.times_are_numbers()) || cell == shape.clock_cell) continue;
      switch (decimal_hint(cells[cell])) {
        case DecimalHint::point:
          ++points;
          point_text = cells[cell];
          break;
        case DecimalHint::comma:
          ++commas;
          comma_text = cells[cell];
          break;
        case DecimalHint::either:
          ++either;
          either_commas += cells[cell].find(',') != std::string::npos ? 1U : 0U;
          either_text = cells[cell];
          first_odd = first_odd == 0 ? row : first_odd;
          break;
        case DecimalHint::none:
          break;
      }
    }
  }
  guess.format.decimal = commas > points || (commas == points && either_commas * 2 > either) ? ',' : '.';
  if (points > 0 && commas > 0)
    guess.doubts.push_back(
        fmt::format("numbers have points and commas: \"{}\" and \"{}\"", point_text, comma_text));
  if (points + commas == 0 && either > 0)
    guess.doubts.push_back(fmt::format(
        "\"{}\" on line {} may be a number with three decimals or one of thousands; "
        "taken for {:.6g}",
        either_text, shape.sheet.line[first_odd], log_number(either_text, guess.format.decimal)->value));
}

}  // namespace firstdraw::watch
