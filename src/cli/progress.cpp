#include "cli/progress.hpp"

#include <algorithm>
#include <cmath>
#include <ostream>

#include "cli/text.hpp"

namespace firstdraw::cli {
namespace {

constexpr std::string_view erase_line = "\r\x1b[K";
constexpr std::chrono::milliseconds patience{500};
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

void ProgressLine::update(const std::string& stage, double done) {
  if (!enabled_ || std::chrono::steady_clock::now() - start_ < patience) return;
  err_ << erase_line << line(stage, done, width_) << std::flush;
  shown_ = true;
}

}  // namespace firstdraw::cli
