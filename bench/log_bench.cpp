// Reading a logger's file: the importer against the usual way of the standard library (std::getline,
// std::stod, std::get_time) on the same bytes in the same run. The usual way judges nothing; the importer
// also looks for gaps, jumps, doubles and stuck sensors.
#include <benchmark/benchmark.h>

#include <chrono>
#include <cmath>
#include <ctime>
#include <iomanip>
#include <random>
#include <sstream>
#include <string>
#include <vector>

#include "watch/log_format.hpp"
#include "watch/log_import.hpp"

namespace {

using namespace firstdraw;

constexpr int columns = 4;

/// A year of minutes and more: ISO times in UTC, four temperatures.
const std::string& log_text(std::int64_t rows) {
  static std::string text;
  static std::int64_t rows_of_text = 0;
  if (rows == rows_of_text) return text;
  rows_of_text = rows;
  text = "time,a (C),b (C),c (C),d (C)\n";
  std::mt19937 random(1);
  std::normal_distribution<double> step(0, 0.1);
  double value[columns] = {50, 51, 52, 20};
  for (std::int64_t row = 0; row < rows; ++row) {
    const std::chrono::sys_seconds at{std::chrono::seconds(1'767'225'600 + row * 60)};
    const auto day = std::chrono::floor<std::chrono::days>(at);
    const std::chrono::year_month_day date(day);
    const auto second = (at - day).count();
    char line[120];
    for (double& one : value) one += step(random) - 0.01 * (one - 50);
    const int size = std::snprintf(line, sizeof line, "%04d-%02u-%02u %02d:%02d:%02d,%.2f,%.2f,%.2f,%.2f\n",
                                   static_cast<int>(date.year()), static_cast<unsigned>(date.month()),
                                   static_cast<unsigned>(date.day()), static_cast<int>(second / 3600),
                                   static_cast<int>(second / 60 % 60), static_cast<int>(second % 60),
                                   value[0], value[1], value[2], value[3]);
    text.append(line, static_cast<std::size_t>(size));
  }
  return text;
}

void count(benchmark::State& state, const std::string& text) {
  state.SetBytesProcessed(state.iterations() * static_cast<std::int64_t>(text.size()));
  state.counters["rows"] = benchmark::Counter(static_cast<double>(state.range(0) * state.iterations()),
                                              benchmark::Counter::kIsRate);
}

void import(benchmark::State& state, watch::ClockKind clock) {
  const std::string& text = log_text(state.range(0));
  watch::LogFormat format;
  format.clock = clock;
  if (clock == watch::ClockKind::local) format.zone = "America/New_York";
  for (const char* name : {"a (C)", "b (C)", "c (C)", "d (C)"})
    format.columns.push_back({name, std::string(1, *name), "temperature", "", "°C"});
  for (auto _ : state) {
    const auto read = watch::import_log(text, "year.log", format);
    if (!read) return state.SkipWithError(read.error().front().text().c_str());
    benchmark::DoNotOptimize(read->series.data());
  }
  count(state, text);
}

void getline_stod(benchmark::State& state) {
  const std::string& text = log_text(state.range(0));
  for (auto _ : state) {
    std::istringstream in(text);
    std::string line, cell;
    std::getline(in, line);
    std::vector<std::vector<std::pair<std::time_t, double>>> series(columns);
    while (std::getline(in, line)) {
      std::istringstream cells(line);
      std::getline(cells, cell, ',');
      std::tm broken{};
      std::istringstream(cell) >> std::get_time(&broken, "%Y-%m-%d %H:%M:%S");
      const std::time_t at = timegm(&broken);
      for (auto& one : series) {
        std::getline(cells, cell, ',');
        one.emplace_back(at, std::stod(cell));
      }
    }
    benchmark::DoNotOptimize(series.data());
  }
  count(state, text);
}

}  // namespace

BENCHMARK_CAPTURE(import, fixed_clock, firstdraw::watch::ClockKind::fixed)
    ->Arg(200'000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK_CAPTURE(import, local_clock, firstdraw::watch::ClockKind::local)
    ->Arg(200'000)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(getline_stod)->Arg(200'000)->Unit(benchmark::kMillisecond);

BENCHMARK_MAIN();
