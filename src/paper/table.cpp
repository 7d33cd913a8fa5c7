#include "paper/table.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace firstdraw::paper {
namespace {

constexpr double pad_x_mm = 1.3;
constexpr int most_lines = 12;
constexpr std::size_t tail_rows = 7;

TextStyle cell_style(const Table& table, const Column& column, Row::Kind kind) {
  return {table.size_pt, kind == Row::Kind::plain ? 400 : 600, false, colours::text, column.anchor};
}
TextStyle title_style(const Table& table, const Column& column) {
  return {table.size_pt - 0.5, 600, false, colours::accent, column.anchor};
}
TextStyle unit_style(const Table& table, const Column& column) {
  return {table.size_pt - 1, 400, false, colours::quiet, column.anchor};
}

struct Wish {
  double least_mm = 0, natural_mm = 0;
};

Wish wish_of(Typesetter& type, const Table& table, std::size_t index) {
  const Column& column = table.columns[index];
  const TextStyle title = title_style(table, column), unit = unit_style(table, column);
  Wish wish;
  wish.least_mm = std::max(
      {column.least_mm, type.longest_word_mm(column.title, title), type.width_mm(column.unit, unit)});
  wish.natural_mm =
      std::max(wish.least_mm, std::min(type.width_mm(column.title, title), wish.least_mm * 1.6));
  for (const Row& row : table.rows) {
    if (row.kind == Row::Kind::group || index >= row.cells.size()) continue;
    const TextStyle style = cell_style(table, column, row.kind);
    wish.least_mm = std::max(wish.least_mm, type.longest_word_mm(row.cells[index], style));
    wish.natural_mm = std::max(wish.natural_mm, type.width_mm(row.cells[index], style));
  }
  wish.natural_mm = std::max(wish.natural_mm, wish.least_mm);
  return wish;
}

double sum(const std::vector<double>& values) { return std::accumulate(values.begin(), values.end(), 0.0); }

// A column of long text grows with the root of its length, so that its cells do not become towers; never
// below its longest word, never wider than its longest line.
double width_of(const Wish& wish, double factor) {
  return std::clamp(factor * std::sqrt(wish.natural_mm), wish.least_mm, wish.natural_mm);
}

double factor_for(const std::vector<Wish>& wishes, double total_mm) {
  const auto sum_mm = [&](double factor) {
    double sum = 0;
    for (const Wish& wish : wishes) sum += width_of(wish, factor);
    return sum;
  };
  double low = 0, high = total_mm;
  for (int halving = 0; halving < 60; ++halving) {
    const double middle = 0.5 * (low + high);
    (sum_mm(middle) > total_mm ? high : low) = middle;
  }
  return low;
}

class Setter {
 public:
  Setter(Book& book, const Table& table)
      : book_(book),
        table_(table),
        widths_mm_(column_widths_mm(book.type(), table, book.frame().width_mm())) {}

  void set() {
    book_.need(header_height_mm() + (table_.rows.empty() ? 0 : row_height_mm(table_.rows.front())) + 6);
    header();
    for (std::size_t each = 0; each < table_.rows.size(); ++each) row(each);
    rule(colours::accent, 0.25);
    book_.skip(3);
  }

 private:
  double width_mm() const { return sum(widths_mm_); }
  double text_mm(std::size_t column) const { return widths_mm_[column] - 2 * pad_x_mm; }

  TextBlock cell(const Row& row, std::size_t index) const {
    if (row.kind == Row::Kind::group)
      return {row.cells.front(), {table_.size_pt, 600, false, colours::accent}, width_mm() - 2 * pad_x_mm, 3};
    return {row.cells[index], cell_style(table_, table_.columns[index], row.kind), text_mm(index),
            most_lines};
  }
  double row_height_mm(const Row& row) const {
    double height_mm = row.kind == Row::Kind::group ? 0 : table_.least_row_mm;
    const std::size_t cells =
        row.kind == Row::Kind::group ? 1 : std::min(row.cells.size(), table_.columns.size());
    for (std::size_t each = 0; each < cells; ++each)
      height_mm = std::max(height_mm, book_.type().height_mm(cell(row, each)) + 2 * table_.pad_y_mm);
    return height_mm;
  }
  double title_height_mm() const {
    double height_mm = 0;
    for (std::size_t each = 0; each < table_.columns.size(); ++each)
      height_mm = std::max(
          height_mm, book_.type().height_mm({table_.columns[each].title,
                                             title_style(table_, table_.columns[each]), text_mm(each)}));
    return height_mm;
  }
  bool has_units() const {
    return std::any_of(table_.columns.begin(), table_.columns.end(),
                       [](const Column& each) { return !each.unit.empty(); });
  }
  double unit_height_mm() const {
    return has_units() ? book_.type().line_height_mm(unit_style(table_, table_.columns.front())) : 0;
  }
  double header_height_mm() const { return title_height_mm() + unit_height_mm() + 2 * table_.pad_y_mm; }

  void rule(const Colour& colour, double pen_mm) {
    const double left_mm = book_.frame().left_mm;
    book_.line({left_mm, book_.y_mm()}, {left_mm + width_mm(), book_.y_mm()}, {colour, pen_mm, {}});
  }

  void header() {
    const double height_mm = header_height_mm();
    book_.rectangle({book_.frame().left_mm, book_.y_mm()}, width_mm(), height_mm, colours::band,
                    std::nullopt);
    rule(colours::accent, 0.25);
    double x_mm = book_.frame().left_mm + pad_x_mm;
    const double units_mm = book_.y_mm() + height_mm - table_.pad_y_mm - unit_height_mm();
    for (std::size_t each = 0; each < table_.columns.size(); ++each) {
      const Column& column = table_.columns[each];
      const TextBlock title{column.title, title_style(table_, column), text_mm(each)};
      book_.block({x_mm, units_mm - book_.type().height_mm(title)}, title);
      if (!column.unit.empty())
        book_.block({x_mm, units_mm}, {column.unit, unit_style(table_, column), text_mm(each)});
      x_mm += widths_mm_[each];
    }
    book_.skip(height_mm);
    rule(colours::accent, 0.25);
    shaded_ = false;
  }

  // Height of the row and of what must stay on its page: a heading keeps its first row, and the last rows
  // stay together, for a page with one or two of them looks like a mistake.
  double kept_height_mm(std::size_t index) const {
    const std::size_t left = table_.rows.size() - index;
    const bool tail = (index >= tail_rows && left == tail_rows) || (index > 0 && left == 2);
    const bool heads = table_.rows[index].kind == Row::Kind::group && left > 1;
    const std::size_t kept = tail ? left : heads ? 2 : 1;
    double height_mm = 0;
    for (std::size_t each = index; each < index + kept; ++each) height_mm += row_height_mm(table_.rows[each]);
    return height_mm;
  }

  void row(std::size_t index) {
    const Row& row = table_.rows[index];
    const double height_mm = row_height_mm(row);
    const double with_next_mm = kept_height_mm(index);
    if (book_.room_mm() < with_next_mm) {
      rule(colours::accent, 0.25);
      book_.need(with_next_mm);
      header();
    }
    if (row.kind == Row::Kind::total) rule(colours::accent, 0.25);
    if (row.kind == Row::Kind::plain && shaded_)
      book_.rectangle({book_.frame().left_mm, book_.y_mm()}, width_mm(), height_mm, colours::zebra,
                      std::nullopt);
    shaded_ = row.kind == Row::Kind::plain && !shaded_;
    cells(row, height_mm);
    book_.skip(height_mm);
    rule(colours::rule, 0.08);
  }

  void cells(const Row& row, double height_mm) {
    double x_mm = book_.frame().left_mm;
    const std::size_t count =
        row.kind == Row::Kind::group ? 1 : std::min(row.cells.size(), table_.columns.size());
    for (std::size_t each = 0; each < count; ++each) {
      book_.block({x_mm + pad_x_mm, book_.y_mm() + table_.pad_y_mm}, cell(row, each));
      x_mm += widths_mm_[each];
      if (table_.least_row_mm > 0 && row.kind == Row::Kind::plain && each + 1 < table_.columns.size())
        book_.line({x_mm, book_.y_mm()}, {x_mm, book_.y_mm() + height_mm}, {colours::rule, 0.08, {}});
    }
  }

  Book& book_;
  const Table& table_;
  std::vector<double> widths_mm_;
  bool shaded_ = false;
};

}  // namespace

std::vector<double> column_widths_mm(Typesetter& type, const Table& table, double width_mm) {
  constexpr double slack_mm = 0.1;  // a line that just fits must not wrap by rounding
  std::vector<Wish> wishes;
  double least_mm = 0;
  for (std::size_t each = 0; each < table.columns.size(); ++each) {
    const Wish wish = wish_of(type, table, each);
    wishes.push_back({wish.least_mm + slack_mm, wish.natural_mm + slack_mm});
    least_mm += wishes.back().least_mm;
  }
  const double text_mm = width_mm - 2 * pad_x_mm * static_cast<double>(table.columns.size());
  if (least_mm > text_mm)  // words must break: the longest words' columns give way
    for (Wish& wish : wishes) wish = {0, wish.least_mm};
  const double factor = factor_for(wishes, text_mm);
  std::vector<double> widths;
  for (const Wish& wish : wishes) widths.push_back(width_of(wish, factor) + 2 * pad_x_mm);
  const double spread = width_mm / sum(widths);
  if (table.full_width && spread > 1)
    for (double& width : widths) width *= spread;
  return widths;
}

void flow(Book& book, const Table& table) { Setter(book, table).set(); }

}  // namespace firstdraw::paper
