// The riser drawing's promise: no two runs lie on each other, everything is on the sheet, same input same
// picture.
#include "paper/drawing.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <random>

namespace firstdraw::paper {
namespace {

using physics::Orientation;

job::Job empty_building(int levels) {
  job::Job job;
  for (int level = 0; level < levels; ++level)
    job.levels.push_back({"L" + std::to_string(level), "Level " + std::to_string(level), 3.0 * level});
  job.supply = {"N0", "", "L0", 60, 52, 10};
  return job;
}

void add_run(job::Job& job, int from, int to, int level, Orientation way, double length_m) {
  job::Run run;
  run.id = "R" + std::to_string(job.runs.size());
  run.from = "N" + std::to_string(from);
  run.to = "N" + std::to_string(to);
  run.level = "L" + std::to_string(level);
  run.orientation = way;
  run.length_m = length_m;
  run.pipe.size = "3/4";
  job.runs.push_back(run);
}

// A tree as wild as surveys get: any node may branch, any branch may change level, up or down.
job::Job random_building(unsigned seed, int levels, int runs) {
  std::mt19937 random(seed);
  const auto below = [&](int limit) { return static_cast<int>(random() % static_cast<unsigned>(limit)); };
  job::Job job = empty_building(levels);
  std::vector<int> level_of{0};
  for (int next = 1; next <= runs; ++next) {
    const int from = std::max(0, next - 1 - below(below(4) == 0 ? next : 3));
    const int level = level_of[static_cast<std::size_t>(from)];
    const int reached = below(5) == 0 ? below(levels) : level;
    add_run(job, from, next, reached, reached == level ? Orientation::horizontal : Orientation::vertical,
            1.0 + below(40));
    level_of.push_back(reached);
  }
  for (int node = 1; node <= runs; node += 3) {
    job::Outlet outlet;
    outlet.id = "O" + std::to_string(node);
    outlet.node = "N" + std::to_string(node);
    job.outlets.push_back(outlet);
  }
  return job;
}

struct Piece {
  Point from, to;
  int run;
};

std::vector<Piece> pieces_of(const RiserDrawing& drawing) {
  std::vector<Piece> pieces;
  for (const DrawnRun& drawn : drawing.runs)
    for (std::size_t each = 1; each < drawn.line.size(); ++each)
      pieces.push_back({drawn.line[each - 1], drawn.line[each], drawn.run});
  return pieces;
}

// Length over which two straight pieces lie on each other; 0 when they only cross or touch.
double overlap_mm(const Piece& a, const Piece& b) {
  const double dx = a.to.x_mm - a.from.x_mm, dy = a.to.y_mm - a.from.y_mm, length = std::hypot(dx, dy);
  if (length < 1e-9) return 0;
  const auto along = [&](Point p) {
    return ((p.x_mm - a.from.x_mm) * dx + (p.y_mm - a.from.y_mm) * dy) / length;
  };
  const auto aside = [&](Point p) {
    return std::abs((p.x_mm - a.from.x_mm) * dy - (p.y_mm - a.from.y_mm) * dx) / length;
  };
  if (aside(b.from) > 1e-6 || aside(b.to) > 1e-6) return 0;
  const auto [low, high] = std::minmax({along(b.from), along(b.to)});
  return std::min(high, length) - std::max(low, 0.0);
}

void expect_sound(const job::Job& job, const RiserDrawing& drawing) {
  ASSERT_EQ(drawing.runs.size(), job.runs.size());
  const std::vector<Piece> pieces = pieces_of(drawing);
  for (std::size_t a = 0; a < pieces.size(); ++a) {
    for (const Point& point : {pieces[a].from, pieces[a].to}) {
      EXPECT_TRUE(point.x_mm > 0 && point.x_mm < drawing.width_mm && point.y_mm > 0 &&
                  point.y_mm < drawing.height_mm)
          << "run " << pieces[a].run;
    }
    for (std::size_t b = a + 1; b < pieces.size(); ++b)
      ASSERT_LT(overlap_mm(pieces[a], pieces[b]), 1e-6)
          << "runs " << pieces[a].run << " and " << pieces[b].run;
  }
}

TEST(RiserDrawing, RunsNeverLieOnEachOther) {
  for (unsigned seed = 1; seed <= 60; ++seed) {
    const job::Job job =
        random_building(seed, 1 + static_cast<int>(seed % 9), 40 + static_cast<int>(seed) * 3);
    SCOPED_TRACE(seed);
    expect_sound(job, draw_riser(job, piping::build_network(job)));
  }
}

TEST(RiserDrawing, FortyLevelsFit) {
  const job::Job job = random_building(7, 40, 1500);
  const RiserDrawing drawing = draw_riser(job, piping::build_network(job));
  EXPECT_EQ(drawing.levels.size(), 40U);
  expect_sound(job, drawing);
}

TEST(RiserDrawing, RunsStandOnTheirLevel) {
  job::Job job = empty_building(3);
  add_run(job, 0, 1, 0, Orientation::horizontal, 10);
  add_run(job, 1, 2, 2, Orientation::vertical, 6);
  add_run(job, 2, 3, 2, Orientation::horizontal, 8);
  const RiserDrawing drawing = draw_riser(job, piping::build_network(job));
  ASSERT_EQ(drawing.levels.front().id, "L2") << "top level first";
  const auto inside = [](const DrawnLevel& level, Point p) {
    return p.y_mm > level.top_mm && p.y_mm < level.bottom_mm;
  };
  EXPECT_TRUE(inside(drawing.levels.back(), drawing.runs[0].line.back()));
  EXPECT_TRUE(inside(drawing.levels.front(), drawing.runs[2].line.back()));
  EXPECT_EQ(drawing.runs[1].line.front().x_mm, drawing.runs[1].line.back().x_mm) << "a riser is upright";
}

TEST(RiserDrawing, WhatDoesNotHangOnTheSupplyIsDrawnApart) {
  job::Job job = empty_building(1);
  add_run(job, 0, 1, 0, Orientation::horizontal, 10);
  add_run(job, 8, 9, 0, Orientation::horizontal, 10);
  add_run(job, 1, 0, 0, Orientation::horizontal, 10);  // a loop
  const RiserDrawing drawing = draw_riser(job, piping::build_network(job));
  expect_sound(job, drawing);
  EXPECT_EQ(drawing.levels.back().name, "Not connected to the supply");
  EXPECT_EQ(drawing.levels.size(), 2U);
}

TEST(RiserDrawing, ABuildingWithoutSupplyOrRunsStillHasASheet) {
  job::Job job = empty_building(2);
  const RiserDrawing none = draw_riser(job, piping::build_network(job));
  EXPECT_GT(none.height_mm, 0);
  job.supply.node = "nowhere";
  add_run(job, 1, 2, 0, Orientation::horizontal, 10);
  expect_sound(job, draw_riser(job, piping::build_network(job)));
}

TEST(RiserDrawing, SameInputSamePicture) {
  const job::Job job = random_building(3, 6, 200);
  const auto pieces = pieces_of(draw_riser(job, piping::build_network(job)));
  const auto again = pieces_of(draw_riser(job, piping::build_network(job)));
  ASSERT_EQ(pieces.size(), again.size());
  for (std::size_t each = 0; each < pieces.size(); ++each) {
    EXPECT_EQ(pieces[each].to.x_mm, again[each].to.x_mm);
    EXPECT_EQ(pieces[each].to.y_mm, again[each].to.y_mm);
  }
}

}  // namespace
}  // namespace firstdraw::paper
