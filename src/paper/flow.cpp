#include "paper/flow.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace firstdraw::paper {
namespace {

constexpr TextStyle part_style{16, 600, false, colours::accent};
constexpr TextStyle sheet_style{12, 600, false, colours::accent};
constexpr TextStyle heading_style{9.5, 600, false, colours::accent};
constexpr TextStyle caption_style{6.5, 400, false, colours::quiet};

double longest_text_mm(const Book& book) { return std::min(book.frame().width_mm(), 182.0); }

void open_page(Book& book, const std::string& title, Book::Way way) {
  book.set_part(title);
  book.new_page(way);
}

void part_title(Book& book, const std::string& title) {
  book.bookmark(title, 0);
  book.skip(book.block({book.frame().left_mm, book.y_mm()}, {title, part_style, book.frame().width_mm()}) +
            3.5);
}

// One item of a list: its mark in the gutter, its text beside it.
template <class Mark>
void list_item(Book& book, const std::string& text, double gutter_mm, Mark mark) {
  const TextBlock block{text, body_style, longest_text_mm(book) - gutter_mm};
  book.need(book.type().height_mm(block));
  mark(Point{book.frame().left_mm, book.y_mm()});
  book.skip(book.block({book.frame().left_mm + gutter_mm, book.y_mm()}, block) + 0.5);
}

}  // namespace

void part(Book& book, const std::string& title, Book::Way way) {
  open_page(book, title, way);
  part_title(book, title);
}

void part_following(Book& book, const std::string& title, double least_mm) {
  if (book.room_mm() < least_mm) return part(book, title);
  book.skip(5);
  book.set_part(title);
  part_title(book, title);
}

void sheet(Book& book, const std::string& title, const std::string& subtitle, Book::Way way,
           const std::string& opens_part) {
  open_page(book, title, way);
  if (!opens_part.empty()) book.bookmark(opens_part, 0);
  book.bookmark(title, 1);
  book.skip(
      book.block({book.frame().left_mm, book.y_mm()}, {title, sheet_style, book.frame().width_mm(), 3}) +
      0.8);
  if (subtitle.empty())
    book.skip(1);
  else
    paragraph(book, subtitle, small_style);
}

void heading(Book& book, const std::string& title, double follow_mm) {
  const TextBlock block{title, heading_style, book.frame().width_mm()};
  const double height_mm = book.type().height_mm(block);
  if (!book.need(height_mm + follow_mm) && book.y_mm() > book.frame().top_mm + 1) book.skip(1.8);
  book.skip(book.block({book.frame().left_mm, book.y_mm()}, block) + 1.2);
}

void paragraph(Book& book, const std::string& text, const TextStyle& style) {
  const TextBlock block{text, style, longest_text_mm(book)};
  book.need(book.type().height_mm(block));
  book.skip(book.block({book.frame().left_mm, book.y_mm()}, block) + 1.6);
}

void bullets(Book& book, const std::vector<std::string>& items) {
  for (const std::string& item : items)
    list_item(book, item, 4, [&](Point at) {
      book.circle({at.x_mm + 1.2, at.y_mm + 1.85}, 0.45, colours::accent, std::nullopt);
    });
  book.skip(0.8);
}

void steps(Book& book, const std::vector<std::string>& items) {
  int number = 0;
  for (const std::string& item : items)
    list_item(book, item, 10.5, [&](Point at) {
      book.rectangle({at.x_mm, at.y_mm + 0.5}, 2.7, 2.7, std::nullopt, Pen{colours::text, 0.18, {}});
      book.label({at.x_mm + 8.3, at.y_mm + 2.95}, fmt::format("{}", ++number),
                 {8.5, 600, false, colours::accent, Anchor::end});
    });
  book.skip(0.8);
}

void facts(Book& book, const Facts& pairs, int columns) {
  Facts shown;
  std::copy_if(pairs.begin(), pairs.end(), std::back_inserter(shown),
               [](const auto& each) { return !each.second.empty(); });
  const double column_mm = book.frame().width_mm() / columns;
  const double label_mm = std::min(34.0, column_mm * 0.42);
  const auto block_of = [&](const std::string& text, const TextStyle& style, double width_mm) {
    return TextBlock{text, style, width_mm, 6};
  };
  for (std::size_t first = 0; first < shown.size(); first += static_cast<std::size_t>(columns)) {
    const std::size_t last = std::min(shown.size(), first + static_cast<std::size_t>(columns));
    double height_mm = 0;
    for (std::size_t each = first; each < last; ++each)
      height_mm = std::max(
          {height_mm, book.type().height_mm(block_of(shown[each].first, small_style, label_mm - 2)),
           book.type().height_mm(block_of(shown[each].second, body_style, column_mm - label_mm - 3))});
    book.need(height_mm + 1.4);
    for (std::size_t each = first; each < last; ++each) {
      const double x_mm = book.frame().left_mm + static_cast<double>(each - first) * column_mm;
      book.block({x_mm, book.y_mm() + 0.35}, block_of(shown[each].first, small_style, label_mm - 2));
      book.block({x_mm + label_mm, book.y_mm()},
                 block_of(shown[each].second, body_style, column_mm - label_mm - 3));
    }
    book.skip(height_mm + 0.7);
    book.line({book.frame().left_mm, book.y_mm()}, {book.frame().right_mm, book.y_mm()},
              {colours::rule, 0.1, {}});
    book.skip(0.7);
  }
  book.skip(1.5);
}

void key_figures(Book& book, const Facts& figures, int columns) {
  constexpr double height_mm = 17;
  const double column_mm = book.frame().width_mm() / columns;
  int column = 0;
  for (const auto& [caption, value] : figures) {
    if (column == 0) book.need(height_mm);
    const double x_mm = book.frame().left_mm + column * column_mm;
    book.line({x_mm, book.y_mm()}, {x_mm + column_mm - 4, book.y_mm()}, {colours::accent, 0.35, {}});
    book.block({x_mm, book.y_mm() + 1.2}, {value, {14, 600, false, colours::accent}, column_mm - 5, 1});
    book.block({x_mm, book.y_mm() + 8}, {caption, small_style, column_mm - 5, 2});
    column = (column + 1) % columns;
    if (column == 0) book.skip(height_mm);
  }
  if (column != 0) book.skip(height_mm);
}

void caution(Book& book, const std::string& title, const std::string& text) {
  const double inner_mm = book.frame().width_mm() - 16;
  const TextBlock head{title, {9, 600, false, colours::warning}, inner_mm};
  const TextBlock block{text, body_style, inner_mm};
  const double head_mm = book.type().height_mm(head);
  const double height_mm = head_mm + book.type().height_mm(block) + 4.4;
  book.need(height_mm + 2);
  const Point corner{book.frame().left_mm, book.y_mm()};
  book.rectangle(corner, book.frame().width_mm(), height_mm, std::nullopt, Pen{colours::warning, 0.35, {}});
  const double x_mm = corner.x_mm + 3, y_mm = corner.y_mm + 2.4;
  const Point triangle[] = {{x_mm + 3.2, y_mm}, {x_mm + 6.4, y_mm + 5.6}, {x_mm, y_mm + 5.6}};
  book.area(triangle, std::nullopt, Pen{colours::warning, 0.4, {}});
  book.label({x_mm + 3.2, y_mm + 4.9}, "!", {10, 700, false, colours::warning, Anchor::middle});
  book.block({corner.x_mm + 12, corner.y_mm + 1.8}, head);
  book.block({corner.x_mm + 12, corner.y_mm + 2.2 + head_mm}, block);
  book.skip(height_mm + 2.4);
}

void writing_boxes(Book& book, const std::vector<std::string>& captions, int columns, double height_mm) {
  const double column_mm = book.frame().width_mm() / columns;
  int column = 0;
  for (const std::string& caption : captions) {
    if (column == 0) book.need(height_mm);
    const double x_mm = book.frame().left_mm + column * column_mm;
    book.rectangle({x_mm, book.y_mm()}, column_mm, height_mm, std::nullopt, Pen{colours::quiet, 0.15, {}});
    book.block({x_mm + 1, book.y_mm() + 0.5}, {caption, caption_style, column_mm - 2, 2});
    column = (column + 1) % columns;
    if (column == 0) book.skip(height_mm);
  }
  if (column != 0) book.skip(height_mm);
  book.skip(2);
}

}  // namespace firstdraw::paper
