// The riser drawing on sheets: one when it fits legibly, otherwise a key plan and tiles cut between levels.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "paper/forecast_words.hpp"

namespace firstdraw::paper {
namespace {

constexpr double names_mm = 21, title_mm = 10, legend_mm = 15, largest_scale = 1.6;

struct Tile {
  Frame window;
  int row = 0;
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
  if (drawing.height_mm > cuts.back()) cuts.push_back(drawing.height_mm);
  return cuts;
}

using Spans = std::vector<std::pair<double, double>>;

int spoilt_by(const Spans& spans, double x_mm) {
  return static_cast<int>(std::ranges::count_if(
      spans, [&](const auto& span) { return span.first < x_mm && x_mm < span.second; }));
}

// Where to cut next: near `aim_mm`, between `low_mm` and `high_mm`, where the fewest labels are spoilt.
struct CutRange {
  double low_mm = 0, aim_mm = 0, high_mm = 0;
};
double cut_mm(const Spans& spans, const CutRange& range) {
  double best_mm = range.aim_mm;
  int least = spoilt_by(spans, best_mm);
  const double farthest_mm = std::max(range.aim_mm - range.low_mm, range.high_mm - range.aim_mm);
  for (double away_mm = 1; away_mm < farthest_mm && least > 0; away_mm += 1)
    for (const double x_mm : {range.aim_mm + away_mm, range.aim_mm - away_mm}) {
      if (x_mm < range.low_mm || x_mm > range.high_mm) continue;
      if (const int spoilt = spoilt_by(spans, x_mm); spoilt < least) {
        least = spoilt;
        best_mm = x_mm;
      }
    }
  return best_mm;
}

struct Cuts {
  std::vector<double> at_mm;  // between the sheets
  int spoilt = 0;
};

// `row` on `sheets` sheets of about the same width, so that none is left with a sliver.
Cuts even_cuts(const Spans& spans, const Frame& row, int sheets, double width_mm) {
  constexpr double least_share = 0.75;
  Cuts cuts;
  double left_mm = row.left_mm;
  for (int left = sheets - 1; left > 0; --left) {
    const double share_mm = (row.right_mm - left_mm) / (left + 1);
    const CutRange range{std::max(left_mm + least_share * share_mm, row.right_mm - left * width_mm),
                         left_mm + share_mm,
                         std::min(left_mm + width_mm, row.right_mm - left * least_share * share_mm)};
    left_mm = cut_mm(spans, range);
    cuts.at_mm.push_back(left_mm);
    cuts.spoilt += spoilt_by(spans, left_mm);
  }
  return cuts;
}

// As few sheets as it takes, or one more when that spares a label.
void cut_row(const RiserPicture& picture, Frame row, int number, double width_mm, std::vector<Tile>& tiles) {
  constexpr double left_margin_mm = 14, right_margin_mm = 8;
  const auto [first_mm, last_mm] = picture.extent_mm(row.top_mm, row.bottom_mm);
  if (first_mm > last_mm) return;
  row.right_mm = std::min(row.right_mm, last_mm + right_margin_mm);
  row.left_mm = std::max(row.left_mm, first_mm - left_margin_mm);
  const Spans spans = picture.spoilt_spans_mm(row);
  const int fewest = std::max(1, static_cast<int>(std::ceil(row.width_mm() / width_mm - 1e-9)));
  Cuts cuts = even_cuts(spans, row, fewest, width_mm);
  if (cuts.spoilt > 0)
    if (Cuts more = even_cuts(spans, row, fewest + 1, width_mm); more.spoilt < cuts.spoilt) cuts = more;
  cuts.at_mm.push_back(row.right_mm);
  for (double left_mm = row.left_mm; const double right_mm : cuts.at_mm) {
    tiles.push_back({{left_mm, row.top_mm, right_mm, row.bottom_mm}, number});
    left_mm = right_mm;
  }
}

Sheets lay_on_sheets(const RiserPicture& picture, const RiserDrawing& drawing, double width_mm,
                     double height_mm) {
  const double whole = std::min({width_mm / drawing.width_mm, height_mm / drawing.height_mm, largest_scale});
  if (whole >= least_scale) return {{{{0, 0, drawing.width_mm, drawing.height_mm}}}, whole};
  const std::vector<double> cuts = cuts_down_mm(drawing, height_mm / least_scale);
  Sheets sheets{{}, least_scale};
  for (std::size_t row = 0; row + 1 < cuts.size(); ++row)
    cut_row(picture, {0, cuts[row], drawing.width_mm, cuts[row + 1]}, static_cast<int>(row),
            width_mm / least_scale, sheets.tiles);
  sheets.scale = largest_scale;
  for (const Tile& tile : sheets.tiles)
    sheets.scale =
        std::min({sheets.scale, width_mm / tile.window.width_mm(), height_mm / tile.window.height_mm()});
  return sheets;
}

std::string numbers(const std::vector<int>& sheets) {
  std::string text;
  for (int sheet : sheets) text += fmt::format("{}{}", text.empty() ? "" : ", ", sheet);
  return text;
}

std::string neighbours(const std::vector<Tile>& tiles, const Tile& tile) {
  std::vector<int> left, right, above, below;
  for (int each = 0; each < std::ssize(tiles); ++each) {
    const Tile& other = tiles[static_cast<std::size_t>(each)];
    const bool beside =
        other.window.left_mm < tile.window.right_mm && tile.window.left_mm < other.window.right_mm;
    if (other.row == tile.row && other.window.right_mm == tile.window.left_mm) left.push_back(each + 1);
    if (other.row == tile.row && other.window.left_mm == tile.window.right_mm) right.push_back(each + 1);
    if (other.row == tile.row - 1 && beside) above.push_back(each + 1);
    if (other.row == tile.row + 1 && beside) below.push_back(each + 1);
  }
  std::string text;
  const auto add = [&](const char* side, const std::vector<int>& sheets) {
    if (!sheets.empty())
      text += fmt::format("{}{}: sheet {}", text.empty() ? "Continues " : " · ", side, numbers(sheets));
  };
  add("left", left);
  add("right", right);
  add("above", above);
  add("below", below);
  return text;
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

/// Returns where it ends.
double key_plan(Book& book, const RiserPicture& picture, const RiserDrawing& drawing,
                const std::vector<Tile>& tiles) {
  const double scale =
      std::min(book.frame().width_mm() / drawing.width_mm, (book.room_mm() - legend_mm) / drawing.height_mm);
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
  return book.y_mm() + drawing.height_mm * scale;
}

struct Words {
  std::string title, explanation;
  bool shades = false;  // the heat map: a sheet within a part, its scale below the key plan too
};

void put_on_sheets(Book& book, const Pack& pack, const RiserPicture& picture, const Words& words) {
  if (words.shades)
    sheet(book, words.title, "", Book::Way::wide);
  else
    part(book, words.title, Book::Way::wide);
  paragraph(book, words.explanation, small_style);
  const double height_mm = book.room_mm() - legend_mm;
  const Sheets sheets =
      lay_on_sheets(picture, pack.drawing, book.frame().width_mm() - names_mm, height_mm - title_mm);
  if (sheets.tiles.size() == 1) {
    draw_tile(book, picture, sheets.tiles.front(), sheets.scale);
    return;
  }
  const double end_mm = key_plan(book, picture, pack.drawing, sheets.tiles);
  if (words.shades)
    picture.draw_legend(book, {}, {book.frame().left_mm, end_mm + 2}, book.frame().width_mm());
  for (std::size_t each = 0; each < sheets.tiles.size(); ++each) {
    sheet(book, fmt::format("{}, sheet {} of {}", words.title, each + 1, sheets.tiles.size()),
          neighbours(sheets.tiles, sheets.tiles[each]), Book::Way::wide);
    draw_tile(book, picture, sheets.tiles[each], sheets.scale);
  }
}

}  // namespace

void riser_sheets(Book& book, const Pack& pack) {
  put_on_sheets(
      book, pack, RiserPicture(pack.job, pack.plan, pack.drawing),
      {"Riser drawing",
       "Schematic, not to scale. Above a run its id; below it the pipe size and its circuit. Colour "
       "and dashes repeat what the circuit's id says."});
}

RunShades growth_shades(const job::Job& job, const forecast::Forecast& forecast) {
  RunShades shades{std::vector<double>(job.runs.size(), std::nan("")), 24, 6,
                   "Hours a day in the growth band", "h"};
  for (const forecast::RunAnswer& run : forecast.runs)
    shades.values.at(draw::at(run.run)) = run.band_hours_per_day;
  return shades;
}

void forecast_riser_sheets(Book& book, const Pack& pack) {
  const rules::GrowthBand band = rules::growth_band();
  put_on_sheets(
      book, pack, RiserPicture(pack.job, pack.plan, pack.drawing, growth_shades(pack.job, *pack.forecast)),
      {"First draw: riser drawing, hours in the growth band",
       fmt::format(
           "Mean water of each run between {} and {}, hours a day (one end may be colder), simulated: {}. "
           "Draws: {}. The pipe from a "
           "run to its taps is not drawn; untraced, it cools into this band between draws. The building's "
           "water management plan decides what is acceptable.",
           pack.show.with_unit(band.low_c, Kind::temperature),
           pack.show.with_unit(band.high_c, Kind::temperature), what_was_simulated(*pack.forecast),
           where_draws_come_from(pack.job, *pack.forecast)),
       true});
}

}  // namespace firstdraw::paper
