// Charts: ticks, shades, and what the files hold.
#include "paper/chart.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstdlib>
#include <fstream>

namespace firstdraw::paper {
namespace {

std::vector<std::string> texts(const SettledAxis& axis) {
  std::vector<std::string> all;
  for (const Tick& tick : axis.ticks) all.push_back(tick.text);
  return all;
}

// Steps of 1, 2 and 5 times a power of ten: common practice, no source.
TEST(Chart, StepsAreOneTwoOrFiveTimesAPowerOfTen) {
  EXPECT_DOUBLE_EQ(nice_step(10, 10), 1);
  EXPECT_DOUBLE_EQ(nice_step(10, 9), 2);
  EXPECT_DOUBLE_EQ(nice_step(0.9, 4), 0.5);
  EXPECT_DOUBLE_EQ(nice_step(7300, 4), 2000);
}

TEST(Chart, ATemperatureAxisIsRoundInTheReadersUnit) {
  Axis axis{"Water"};
  axis.kind = units::Kind::temperature;
  axis.system = units::System::us;
  const SettledAxis settled = settle(axis, 41, 59, 6);  // 105.8 to 138.2 degF
  EXPECT_EQ(settled.title, "Water (°F)");
  EXPECT_EQ(texts(settled), (std::vector<std::string>{"100", "110", "120", "130", "140"}));
  EXPECT_NEAR(settled.low, (100 - 32) / 1.8, 1e-9);
  EXPECT_NEAR(settled.ticks[2].at, (120 - 32) / 1.8, 1e-9);
}

TEST(Chart, AWeekIsNamedUnderTheMiddleOfItsDays) {
  Axis axis;
  axis.scale = Axis::Scale::week;
  const SettledAxis settled = settle(axis, 0, 7 * 86400.0, 8);
  ASSERT_GE(settled.ticks.size(), 7U);
  EXPECT_EQ(settled.ticks[0].text, "Mon");
  EXPECT_EQ(settled.ticks[6].text, "Sun");
  EXPECT_DOUBLE_EQ(settled.ticks[6].at, 6 * 86400.0);
  EXPECT_DOUBLE_EQ(settled.ticks[6].text_at, 6.5 * 86400.0);
}

TEST(Chart, ElapsedTimeTakesTheUnitThatSuits) {
  Axis axis{"Open"};
  axis.scale = Axis::Scale::elapsed;
  EXPECT_EQ(settle(axis, 0, 120, 8).title, "Open (s)");
  EXPECT_EQ(settle(axis, 0, 7200, 8).title, "Open (min)");
  EXPECT_EQ(texts(settle(axis, 0, 86400, 8)),
            (std::vector<std::string>{"0", "3", "6", "9", "12", "15", "18", "21", "24"}));
}

TEST(Chart, ALogarithmOfTimeGivesDecadesTheSameWidth) {
  Axis axis{"Since"};
  axis.scale = Axis::Scale::log_elapsed;
  const SettledAxis settled = settle(axis, 1, 10000, 8);
  EXPECT_DOUBLE_EQ(settled.share(1), 0);
  EXPECT_NEAR(settled.share(10), 0.25, 1e-12);
  EXPECT_NEAR(settled.share(100), 0.5, 1e-12);
  EXPECT_NEAR(settled.share(10000), 1, 1e-12);
  EXPECT_EQ(texts(settled), (std::vector<std::string>{"1 s", "3 s", "10 s", "30 s", "1 min", "2 min", "5 min",
                                                      "15 min", "30 min", "1 h", "2 h"}));
}

TEST(Chart, AnAxisOfOneValueOrOfNoneIsStillAnAxis) {
  for (const double value : {0.0, 5.0, -3.0, std::nan("")}) {
    const SettledAxis settled = settle(Axis{}, value, value, 5);
    EXPECT_LT(settled.low, settled.high);
    EXPECT_GE(settled.ticks.size(), 2U);
  }
}

// Lightness of CIE 15:2018 from the linear light of IEC 61966-2-1, the way back from how the shades are made.
double lightness(const Colour& colour) {
  const auto linear = [](double part) {
    return part <= 0.04045 ? part / 12.92 : std::pow((part + 0.055) / 1.055, 2.4);
  };
  const double y = 0.2126 * linear(colour.red) + 0.7152 * linear(colour.green) + 0.0722 * linear(colour.blue);
  return 116 * std::cbrt(y) - 16;
}

TEST(Chart, ShadesDarkenInEvenSteps) {
  const double step = (lightness(heat_colour(1)) - lightness(heat_colour(0))) / 16;
  EXPECT_LT(step, -4);
  for (int each = 0; each < 16; ++each)
    EXPECT_NEAR(lightness(heat_colour((each + 1) / 16.0)) - lightness(heat_colour(each / 16.0)), step, 0.05);
}

// WCAG 2.1, 1.4.3: 4.5 to 1 for small text.
TEST(Chart, NumbersOnShadesAreLegible) {
  const auto luminance = [](const Colour& colour) {
    const double l = lightness(colour);
    return l > 8 ? std::pow((l + 16) / 116, 3) : l / 903.3;
  };
  for (int each = 0; each <= 20; ++each) {
    const Colour ground = heat_colour(each / 20.0);
    const double a = luminance(ground), b = luminance(ink_on(ground));
    EXPECT_GE((std::max(a, b) + 0.05) / (std::min(a, b) + 0.05), 4.5) << each;
  }
}

ChartPicture picture() {
  LineChart chart;
  chart.title = "Water in the pipe";
  chart.x.scale = Axis::Scale::week;
  chart.y.title = "Temperature";
  chart.y.kind = units::Kind::temperature;
  ChartLine sawtooth{.name = "reading & model", .look = 0};
  for (int i = 0; i < 5000; ++i) {
    sawtooth.x.push_back(i * 121.0);
    sawtooth.y.push_back(50 + (i % 97 == 0 ? 8 : i % 7 * 0.3));
  }
  chart.lines = {sawtooth};
  chart.bands = {{.name = "P5 to P95", .x = {0, 6e5}, .low = {44, 45}, .high = {52, 53}, .look = 1}};
  chart.limits = {{55, "least allowed"}};
  chart.regions = {{20, 45, "growth band"}};
  return {.title = "Two ways", .charts = {chart, chart}, .note = "What it rests on."};
}

TEST(Chart, AnSvgNamesWhatItShowsAndIsTheSameEveryTime) {
  const auto svg = svg_of(picture());
  ASSERT_TRUE(svg) << svg.error();
  for (const char* text : {"reading &amp; model", "P5 to P95", "least allowed", "growth band",
                           "Temperature (°C)", "What it rests on.", ">Mon<"})
    EXPECT_NE(svg->find(text), std::string::npos) << text;
  EXPECT_EQ(svg->find("nan"), std::string::npos);
  EXPECT_EQ(*svg, *svg_of(picture()));
}

TEST(Chart, APngIsAPngOfTheAskedSize) {
  const auto png = png_of(picture(), 100);
  ASSERT_TRUE(png) << png.error();
  EXPECT_EQ(png->substr(0, 8), "\x89PNG\r\n\x1a\n");  // ISO/IEC 15948
  const auto word = [&](std::size_t at) {
    unsigned value = 0;
    for (std::size_t each = at; each < at + 4; ++each)
      value = value << 8 | static_cast<unsigned char>((*png)[each]);
    return value;
  };
  EXPECT_EQ(word(16), static_cast<unsigned>(std::lround(250 / 25.4 * 100)));
}

}  // namespace
}  // namespace firstdraw::paper
