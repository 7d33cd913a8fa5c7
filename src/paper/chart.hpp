// Charts drawn with Ink, so that the page, the SVG file and the PNG file show the same. Names stand beside
// what they name, lines differ in dashes as well as in colour, and numbers come in the units of the reader.
#pragma once

#include <expected>
#include <filesystem>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "job/diagnostic.hpp"
#include "paper/chart_axis.hpp"
#include "paper/ink.hpp"

namespace firstdraw::paper {

/// Points in the order of x; NaN breaks the line.
struct ChartLine {
  std::string name{};
  std::vector<double> x{}, y{};
  int look = 0;  // colour and dashes, as circuit_pen numbers them
  double width_mm = 0.4;
  bool steps = false;  // holds its value until the next x
};
/// From low to high, for example P5 to P95.
struct ChartBand {
  std::string name{};
  std::vector<double> x{}, low{}, high{};
  int look = 0;
};
/// A level line with its name beside it.
struct ChartLimit {
  double value = 0;
  std::string name{};
};
/// A stretch of the y axis that means something, for example the growth band.
struct ChartRegion {
  double low = 0, high = 0;
  std::string name{};
};
/// A part of the plane that means something; infinite: to the edge. Its name stands inside, where it fits.
struct ChartPatch {
  enum class Look { good, bad } look{};
  double x_low = 0, x_high = 0, y_low = 0, y_high = 0;
  std::string name{};
};
/// A point that is named beside the plot: a full dot where it is chosen, an open one elsewhere.
struct ChartMark {
  double x = 0, y = 0;
  bool chosen = false;
  std::string name{};
};
struct LineChart {
  std::string title{};
  Axis x{}, y{};
  std::vector<ChartLine> lines{};
  std::vector<ChartBand> bands{};
  std::vector<ChartLimit> limits{};
  std::vector<ChartRegion> regions{};
  std::vector<ChartPatch> patches{};
  std::vector<ChartMark> marks{};
  /// For charts one below the other: leave as much room as this name beside the plot and this number before
  /// it would take.
  std::string same_room_as{}, same_ticks_as{};
};
void draw_chart(Ink& ink, const Frame& frame, const LineChart& chart);

/// One row: the stretch P5 to P95, a mark at P50, and a text at its end. Infinite: beyond the axis.
struct SpreadBar {
  std::string name{};
  double p5 = 0, p50 = 0, p95 = 0;
  std::string text{};
};
struct SpreadBarChart {
  std::string title{};
  Axis x{};
  std::vector<SpreadBar> bars{};
  std::vector<ChartLimit> limits{};  // upright lines
};
/// Height at which the rows are legible.
double bar_chart_height_mm(const SpreadBarChart& chart);
void draw_chart(Ink& ink, const Frame& frame, const SpreadBarChart& chart);

/// One row made of parts one after the other, each with its own fill: plain, hatched, dotted, so that grey
/// print tells them apart.
struct StackedBar {
  std::string name{};
  std::vector<double> parts{};
  std::string text{};  // at its end
};
struct StackedBarChart {
  std::string title{};
  Axis x{};
  std::vector<std::string> parts{};  // at most three
  std::vector<StackedBar> bars{};
};
double bar_chart_height_mm(const StackedBarChart& chart);
void draw_chart(Ink& ink, const Frame& frame, const StackedBarChart& chart);

/// How many of each, in order.
struct ColumnChart {
  std::string title{}, what{};  // what the columns count
  std::vector<std::string> names{};
  std::vector<double> values{};
};
void draw_chart(Ink& ink, const Frame& frame, const ColumnChart& chart);

/// Values by row and column, each as a shade and, where it fits, as a number.
struct HeatStrip {
  std::string title{}, what{};  // what the shades mean, with unit
  std::vector<std::string> rows{}, columns{};
  std::vector<double> values{};  // row by row; NaN: nothing known
  int decimals = 1;
  double darkest_at_least = 0;  // small values stay pale; the darkest shade is the largest value else
};
void draw_chart(Ink& ink, const Frame& frame, const HeatStrip& chart);

/// Pale yellow at 0, dark blue at 1: a straight line in CIELAB, hence in even steps for the eye (CIE 15:2018,
/// ΔE of 1976), and along blue and yellow, which readers with red-green deficiencies tell apart. Dark is
/// much, in grey print too.
Colour heat_colour(double share);
/// Text on it.
Colour ink_on(const Colour& ground);
struct HeatScale {
  double low = 0, high = 1;
  double step = 0;  // between numbers; 0: a nice one
};
/// The scale with its numbers; `title` above it. 9 mm high.
void draw_heat_scale(Ink& ink, const Frame& frame, const std::string& title, const HeatScale& scale);

/// A picture that stands alone: the charts over each other, a title, notes below in small print.
struct ChartPicture {
  std::string title{};
  std::vector<LineChart> charts{};
  std::string note{};
  double width_mm = 250, chart_mm = 80;
};
/// Fails with one sentence when the typeface is not installed.
std::expected<std::string, std::string> svg_of(const ChartPicture& picture);
std::expected<std::string, std::string> png_of(const ChartPicture& picture, double dots_per_inch = 150);
/// Written whole or not at all; PNG when the name ends in .png, else SVG.
job::Result<void> write_picture(const ChartPicture& picture, const std::filesystem::path& path);

}  // namespace firstdraw::paper
