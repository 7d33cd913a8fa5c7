#include "cli/progress.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>

#include "cli/text.hpp"

namespace firstdraw::cli {
namespace {

constexpr std::string_view erase_line = "\r\x1b[K";
constexpr std::chrono::milliseconds patience{500}, between_pictures{100};
constexpr double tellable_frac = 0.02;  // of the work, from which its pace says something
constexpr int bar_width = 10;

}  // namespace

ProgressLine::~ProgressLine() {
  if (shown_) err_ << erase_line << std::flush;
}

std::string ProgressLine::line(const std::string& stage, double done, int width) {
  const int full = static_cast<int>(std::lround(bar_width * std::clamp(done, 0.0, 1.0)));
  std::string bar;
  for (int i = 0; i < bar_width; ++i) bar += i < full ? "▰" : "▱";
  return wrap(bar + " " + printable(stage), std::max(bar_width, width - 1)).front();
}

std::string ProgressLine::time_left(Seconds passed, double done) {
  if (done < tellable_frac || done >= 1) return "";
  const double left_s = passed.count() * (1 - done) / done;
  if (left_s < 1) return "";
  return left_s < 100 ? fmt::format(", {:.0f} s left", left_s)
                      : fmt::format(", {:.0f} min left", left_s / 60);
}

void ProgressLine::update(const std::string& stage, double done) {
  const auto now = Clock::now();
  if (!enabled_ || now - start_ < patience || now - drawn_ < between_pictures) return;
  err_ << erase_line << line(stage + time_left(now - start_, done), done, width_) << std::flush;
  shown_ = true;
  drawn_ = now;
}

}  // namespace firstdraw::cli
