// The riser drawing on sheets: one when it fits legibly, otherwise a key plan and tiles cut between levels.
#include <fmt/format.h>

#include <algorithm>

#include "paper/sheets.hpp"

namespace firstdraw::paper {
namespace {

constexpr double names_mm = 25, title_mm = 10, legend_mm = 15, largest_scale = 1.3;

struct Tile {
  Frame window;
  int column = 0, row = 0;
};

struct Sheets {
  std::vector<Tile> tiles;
  double scale = 1;
};

// Horizontal cuts at the lower edges of levels; a level taller than a sheet is cut evenly.
std::vector<double> cuts_down_mm(const RiserDrawing& drawing, double height_mm) {
  std::vector<double> cuts{0};
  double reached_mm = 0;
  for (const DrawnLevel& level : drawing.levels) {
    if (level.bottom_mm - cuts.back() > height_mm + 1e-6 && reached_mm > cuts.back())
      cuts.push_back(reached_mm);
    while (level.bottom_mm - cuts.back() > height_mm + 1e-6) cuts.push_back(cuts.back() + height_mm);
    reached_mm = level.bottom_mm;
  }
  cuts.push_back(drawing.height_mm);
  return cuts;
}

Sheets lay_on_sheets(const RiserPicture& picture, const RiserDrawing& drawing, double width_mm,
                     double height_mm) {
  const double whole = std::min({width_mm / drawing.width_mm, height_mm / drawing.height_mm, largest_scale});
  if (whole >= least_scale) return {{{{0, 0, drawing.width_mm, drawing.height_mm}}}, whole};
  const double tile_mm = width_mm / least_scale;
  const auto columns = static_cast<int>(std::ceil(drawing.width_mm / tile_mm - 1e-9));
  const double step_mm = drawing.width_mm / columns;
  const std::vector<double> cuts = cuts_down_mm(drawing, height_mm / least_scale);
  Sheets sheets{{}, least_scale};
  for (std::size_t row = 0; row + 1 < cuts.size(); ++row)
    for (int column = 0; column < columns; ++column) {
      const Frame window{column * step_mm, cuts[row], (column + 1) * step_mm, cuts[row + 1]};
      if (picture.shows_anything(window)) sheets.tiles.push_back({window, column, static_cast<int>(row)});
    }
  return sheets;
}

std::string neighbours(const std::vector<Tile>& tiles, const Tile& tile) {
  std::string text;
  const auto add = [&](const char* side, int column, int row) {
    const auto found = std::ranges::find_if(
        tiles, [&](const Tile& each) { return each.column == column && each.row == row; });
    if (found != tiles.end())
      text += fmt::format("{}{}: sheet {}", text.empty() ? "" : " · ", side, found - tiles.begin() + 1);
  };
  add("left", tile.column - 1, tile.row);
  add("right", tile.column + 1, tile.row);
  add("above", tile.column, tile.row - 1);
  add("below", tile.column, tile.row + 1);
  return text.empty() ? text : "Continues " + text;
}

void draw_tile(Book& book, const RiserPicture& picture, const Tile& tile, double scale) {
  const Frame& frame = book.frame();
  const Point origin{frame.left_mm + names_mm - tile.window.left_mm * scale,
                     book.y_mm() - tile.window.top_mm * scale};
  const Frame window{frame.left_mm + names_mm, book.y_mm(),
                     frame.left_mm + names_mm + tile.window.width_mm() * scale,
                     book.y_mm() + tile.window.height_mm() * scale};
  book.push(origin, scale, &window);
  picture.draw(book, tile.window);
  book.pop();
  book.push(origin, scale);
  picture.draw_level_names(book, tile.window, tile.window.left_mm - 2, (names_mm - 3) / scale);
  book.pop();
  book.rectangle({window.left_mm, window.top_mm}, window.width_mm(), window.height_mm(), std::nullopt,
                 Pen{colours::accent, 0.25, {}});
  picture.draw_legend(book, tile.window, {frame.left_mm, window.bottom_mm + 1.5}, frame.width_mm());
}

void key_plan(Book& book, const RiserPicture& picture, const RiserDrawing& drawing,
              const std::vector<Tile>& tiles) {
  const double scale =
      std::min(book.frame().width_mm() / drawing.width_mm, (book.room_mm() - 4) / drawing.height_mm);
  book.push({book.frame().left_mm, book.y_mm()}, scale);
  picture.draw_lines(book, scale);
  for (std::size_t each = 0; each < tiles.size(); ++each) {
    const Frame& window = tiles[each].window;
    book.rectangle({window.left_mm, window.top_mm}, window.width_mm(), window.height_mm(), std::nullopt,
                   Pen{colours::accent, 0.3 / scale, {1.5 / scale, 1 / scale}});
  }
  book.pop();
  for (std::size_t each = 0; each < tiles.size(); ++each) {
    const Frame& window = tiles[each].window;
    const Point corner{book.frame().left_mm + window.left_mm * scale + 1.2,
                       book.y_mm() + window.top_mm * scale + 4};
    book.label(corner, fmt::format("{}", each + 1), {9, 600, false, colours::accent});
  }
}

}  // namespace

void riser_sheets(Book& book, const Pack& pack) {
  const RiserPicture picture(pack.job, pack.plan, pack.drawing);
  part(book, "Riser drawing", Book::Way::wide);
  paragraph(book,
            "Schematic, not to scale. Above a run its id; below it the pipe size and its circuit. Colour and "
            "dashes repeat "
            "what the circuit's id says.",
            small_style);
  const double height_mm = book.room_mm() - legend_mm;
  const Sheets sheets =
      lay_on_sheets(picture, pack.drawing, book.frame().width_mm() - names_mm, height_mm - title_mm);
  if (sheets.tiles.size() == 1) {
    draw_tile(book, picture, sheets.tiles.front(), sheets.scale);
    return;
  }
  key_plan(book, picture, pack.drawing, sheets.tiles);
  for (std::size_t each = 0; each < sheets.tiles.size(); ++each) {
    sheet(book, fmt::format("Riser drawing, sheet {} of {}", each + 1, sheets.tiles.size()),
          neighbours(sheets.tiles, sheets.tiles[each]), Book::Way::wide);
    draw_tile(book, picture, sheets.tiles[each], sheets.scale);
  }
}

}  // namespace firstdraw::paper
