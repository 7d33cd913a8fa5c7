// Invented readings of many buildings, one a minute: what the bench of the store writes. Water of risers with
// a daily swing, a controller's slow waves, a lag and the noise of a sensor, in steps of 0.1 K (some loggers:
// 0.1 °F); currents that come and go; a contactor; a set-point. One reading in 200 is missing, one in 50 some
// seconds late.
#pragma once

#include <array>
#include <cmath>
#include <cstdint>
#include <random>
#include <string>
#include <vector>

#include "store/series.hpp"

namespace firstdraw::bench {

inline constexpr int series_a_building = 10;
inline constexpr std::int64_t minute_ms = 60'000;
inline constexpr std::int64_t portfolio_start_ms = 1'767'225'600'000;  // 2026-01-01T00:00Z

struct Kind {
  const char* quantity;
  double middle, noise, step;
  bool switched, fahrenheit;
};
inline constexpr std::array<Kind, series_a_building> kinds{{{"temperature", 52, 0.1, 0.1, false, false},
                                                            {"temperature", 50, 0.1, 0.1, false, false},
                                                            {"temperature", 48, 0.15, 0.1, false, false},
                                                            {"temperature", 55, 0.05, 0.1, false, false},
                                                            {"temperature", 21, 0.1, 0.1, false, true},
                                                            {"temperature", 51, 0.1, 0.1, false, true},
                                                            {"current", 6.2, 0.03, 0.01, true, false},
                                                            {"current", 3.8, 0.02, 0.01, true, false},
                                                            {"on", 1, 0, 1, true, false},
                                                            {"set-point", 52, 0, 1, false, false}}};

/// One series, minute by minute.
class InventedSeries {
 public:
  InventedSeries(std::uint64_t number)
      : kind_(kinds.at(number % series_a_building)), random_(number * 7919 + 1) {
    period_ = 25 + static_cast<double>(number % 17);
  }
  static std::string name(std::uint64_t number) {
    return "series-" + std::to_string(number % series_a_building);
  }
  static std::string building(std::uint64_t number) {
    return "building-" + std::to_string(number / series_a_building);
  }
  const Kind& kind() const { return kind_; }

  std::vector<store::Sample> minutes(std::int64_t from, std::int64_t to) {
    std::vector<store::Sample> samples;
    samples.reserve(static_cast<std::size_t>(to - from));
    for (std::int64_t minute = from; minute < to; ++minute) {
      const std::uint64_t luck = random_() % 200;
      const double value = rounded(next(static_cast<double>(minute)));
      const std::int64_t late_ms = luck < 5 && luck > 0 ? 1000 * static_cast<std::int64_t>(luck) : 0;
      if (luck != 0) samples.push_back({portfolio_start_ms + minute * minute_ms + late_ms, value});
    }
    return samples;
  }

 private:
  double next(double minute) {
    const double wave = std::sin(minute * 6.2831853 / period_);
    if (kind_.switched) return wave > 0.2 ? kind_.middle + kind_.noise * normal_(random_) : 0;
    if (kind_.noise == 0) return kind_.middle;
    lag_ = 0.98 * lag_ + 0.05 * normal_(random_);
    return kind_.middle + 2 * std::sin(minute * 6.2831853 / 1440) + 0.5 * wave + lag_ +
           kind_.noise * normal_(random_);
  }
  double rounded(double value) const {
    if (kind_.fahrenheit) return (std::round((value * 1.8 + 32) * 10) / 10 - 32) * 5 / 9;
    const double steps = std::round(1 / kind_.step);
    return std::round(value * steps) / steps;
  }

  const Kind& kind_;
  std::mt19937_64 random_;
  std::normal_distribution<double> normal_{};
  double period_ = 30, lag_ = 0;
};

}  // namespace firstdraw::bench
