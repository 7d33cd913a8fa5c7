#include "paper/table.hpp"

#include <algorithm>
#include <numeric>

namespace firstdraw::paper {
namespace {

constexpr double pad_x_mm = 1.3, pad_y_mm = 0.75;
constexpr int most_lines = 12;

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

// The largest common cap such that the capped values add up to `total`.
void cap_to(std::vector<double>& values, double total_mm) {
  std::vector<double> rising = values;
  std::sort(rising.begin(), rising.end());
  double left_mm = total_mm, cap_mm = rising.back();
  for (std::size_t each = 0; each < rising.size(); ++each) {
    const double share_mm = left_mm / static_cast<double>(rising.size() - each);
    if (rising[each] > share_mm) {
      cap_mm = share_mm;
      break;
    }
    left_mm -= rising[each];
  }
  for (double& value : values) value = std::min(value, cap_mm);
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
    double height_mm = table_.least_row_mm;
    const std::size_t cells =
        row.kind == Row::Kind::group ? 1 : std::min(row.cells.size(), table_.columns.size());
    for (std::size_t each = 0; each < cells; ++each)
      height_mm = std::max(height_mm, book_.type().height_mm(cell(row, each)) + 2 * pad_y_mm);
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
  double header_height_mm() const { return title_height_mm() + unit_height_mm() + 2 * pad_y_mm; }

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
    const double units_mm = book_.y_mm() + height_mm - pad_y_mm - unit_height_mm();
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

  void row(std::size_t index) {
    const Row& row = table_.rows[index];
    const double height_mm = row_height_mm(row);
    const bool leads = row.kind == Row::Kind::group && index + 1 < table_.rows.size();
    const double with_next_mm = height_mm + (leads ? row_height_mm(table_.rows[index + 1]) : 0);
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
      book_.block({x_mm + pad_x_mm, book_.y_mm() + pad_y_mm}, cell(row, each));
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
  std::vector<double> least, extra;
  for (std::size_t each = 0; each < table.columns.size(); ++each) {
    const Wish wish = wish_of(type, table, each);
    least.push_back(wish.least_mm + 0.1);
    extra.push_back(wish.natural_mm - wish.least_mm);
  }
  const double text_mm = width_mm - 2 * pad_x_mm * static_cast<double>(table.columns.size());
  if (sum(least) > text_mm) cap_to(least, text_mm);
  const double spare_mm = std::max(0.0, text_mm - sum(least));
  if (sum(extra) > spare_mm) cap_to(extra, spare_mm);
  std::vector<double> widths(least.size());
  for (std::size_t each = 0; each < least.size(); ++each)
    widths[each] = least[each] + extra[each] + 2 * pad_x_mm;
  const double left_mm = width_mm - sum(widths);
  if (table.full_width && left_mm > 0) {
    // Spare width goes to the columns of text, or to all of them alike when every column is a number.
    const auto texts = std::count_if(table.columns.begin(), table.columns.end(),
                                     [](const Column& each) { return each.anchor == Anchor::start; });
    const double shares = static_cast<double>(texts > 0 ? texts : std::ssize(table.columns));
    for (std::size_t each = 0; each < widths.size(); ++each)
      if (texts == 0 || table.columns[each].anchor == Anchor::start) widths[each] += left_mm / shares;
  }
  return widths;
}

void flow(Book& book, const Table& table) { Setter(book, table).set(); }

}  // namespace firstdraw::paper
