// Charts of the week: nothing lies on anything else, times lie above each other, grey print is enough.
#include "paper/week_charts.hpp"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "paper/test_ink.hpp"
#include "paper/test_week.hpp"
#include "paper/week_strip.hpp"
#include "plan/small_job.hpp"

namespace firstdraw::paper {
namespace {

using testing::ElementsAre;
using testing::IsEmpty;

class WeekCharts : public testing::Test {
 protected:
  void SetUp() override {
    auto type = Typesetter::create();
    ASSERT_TRUE(type) << type.error();
    type_ = std::make_unique<Typesetter>(std::move(*type));
    job_ = plan::small_job();
    add_taps(job_);
    plan_ = plan::make_plan(job_, {.samples = 0});
    week_ = test_week(job_, plan_, {.seasons = 2});
  }
  Pack pack() const { return {job_, plan_, drawing_, Show(job_), nullptr, {}, &week_}; }

  std::unique_ptr<Typesetter> type_;
  job::Job job_;
  plan::Plan plan_;
  settings::WeekAnswer week_;
  RiserDrawing drawing_;
};

TEST_F(WeekCharts, NothingLiesOnAnythingElse) {
  for (const double width_mm : {180.0, 250.0}) {
    LabelKeeper ink(*type_);
    draw_group_week(ink, {0, 0, width_mm, 75}, pack(), week_.seasons.front(), 0);
    EXPECT_THAT(ink.clashes(), IsEmpty());
    EXPECT_THAT(ink.outside(width_mm, 75), IsEmpty());
    LabelKeeper curves(*type_);
    draw_chart(curves, {0, 0, width_mm, 65}, comfort_frontier_chart(pack()));
    EXPECT_THAT(curves.clashes(), IsEmpty());
    EXPECT_THAT(curves.outside(width_mm, 65), IsEmpty());
    LabelKeeper bars(*type_);
    const StackedBarChart costs = cost_chart(pack());
    draw_chart(bars, {0, 0, width_mm, bar_chart_height_mm(costs)}, costs);
    EXPECT_THAT(bars.clashes(), IsEmpty());
    EXPECT_THAT(bars.outside(width_mm, bar_chart_height_mm(costs)), IsEmpty());
  }
}

TEST_F(WeekCharts, TheStripNamesEveryDayAndEveryWideBlock) {
  for (const double width_mm : {88.0, 180.0}) {
    LabelKeeper ink(*type_);
    draw_week_strip(ink, {0, 0, width_mm, week_strip_height_mm},
                    {"Set-points", &week_.seasons.front().timetable.groups.front(), job_.units});
    for (const char* text : {"Mon", "Sun", "00:00", "24:00"}) EXPECT_EQ(ink.count_of(text), 1U) << text;
    EXPECT_GE(ink.count_of("off"), 7U);
    EXPECT_THAT(ink.clashes(), IsEmpty());
    EXPECT_THAT(ink.outside(width_mm, week_strip_height_mm), IsEmpty());
  }
}

// The mean price of the season: what its steps cost, over its weeks.
TEST_F(WeekCharts, ThePriceIsOfOneKilowattHour) {
  const LineChart chart = price_chart(pack(), week_.seasons.front());
  ASSERT_EQ(chart.lines.size(), 1U);
  EXPECT_NEAR(chart.lines[0].y.front(), 0.09, 1e-12);
  EXPECT_NEAR(chart.lines[0].y[16], 0.31, 1e-12);  // Monday 08:00
  EXPECT_EQ(chart.lines[0].x.back(), 7 * 86400.0);
}

TEST_F(WeekCharts, LinesDifferWithoutColour) {
  const LineChart chart = group_week_chart(pack(), week_.seasons.front(), 0);
  ASSERT_GE(chart.lines.size(), 3U);
  for (std::size_t a = 0; a < chart.lines.size(); ++a)
    for (std::size_t b = a + 1; b < chart.lines.size(); ++b) {
      const bool dashes =
          circuit_pen(chart.lines[a].look).dash_mm != circuit_pen(chart.lines[b].look).dash_mm;
      const bool widths = std::abs(chart.lines[a].width_mm - chart.lines[b].width_mm) > 0.15;
      EXPECT_TRUE(dashes || widths) << chart.lines[a].name << ", " << chart.lines[b].name;
    }
  ASSERT_EQ(chart.regions.size(), 1U);
  EXPECT_TRUE(std::isnan(chart.y.low) || chart.y.low < chart.regions[0].high);
}

TEST_F(WeekCharts, TheChosenPointIsMarkedAndWhatIsNotPossibleIsSaid) {
  int chosen = 0;
  for (const ChartMark& mark : band_frontier_chart(pack()).marks) chosen += mark.chosen ? 1 : 0;
  EXPECT_EQ(chosen, 1);
  EXPECT_EQ(impossible_points(week_.band_curve, "h", 1), "not possible at 0.5 h");
  EXPECT_EQ(impossible_points(week_.comfort_curve, "%", 100), "not possible at 110 %");
}

TEST_F(WeekCharts, OnlyGroupsThatChangeAreDrawnElseTheLargest) {
  EXPECT_THAT(charted_groups(pack()), ElementsAre(0));
  week_ = test_week(job_, plan_, {.constant = true});
  EXPECT_THAT(charted_groups(pack()), ElementsAre(0));
}

}  // namespace
}  // namespace firstdraw::paper
