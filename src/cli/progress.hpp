// One line on standard error that says how far a long piece of work has come.
#pragma once

#include <chrono>
#include <iosfwd>
#include <string>

namespace firstdraw::cli {

/// Shows nothing for work that takes less than half a second, and nothing at all unless `enabled`.
class ProgressLine {
 public:
  using Seconds = std::chrono::duration<double>;

  ProgressLine(std::ostream& err, bool enabled, int width) : err_(err), enabled_(enabled), width_(width) {}
  ~ProgressLine();
  ProgressLine(const ProgressLine&) = delete;
  ProgressLine& operator=(const ProgressLine&) = delete;

  /// 0 <= done <= 1. Drawn ten times a second at most.
  void update(const std::string& stage, double done);
  /// "▰▰▱▱▱▱▱▱▱▱ stage", cut to `width` columns.
  static std::string line(const std::string& stage, double done, int width);
  /// ", 40 s left", at the pace so far; empty while nobody can tell.
  static std::string time_left(Seconds passed, double done);

 private:
  using Clock = std::chrono::steady_clock;

  std::ostream& err_;
  bool enabled_, shown_ = false;
  int width_;
  Clock::time_point start_ = Clock::now(), drawn_;
};

}  // namespace firstdraw::cli
