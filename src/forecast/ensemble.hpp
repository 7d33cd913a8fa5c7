// Many buildings that differ by their tolerances, lived through at once: what differs, and how results come
// together in the order of the members whichever thread made them.
#pragma once

#include <cstdint>
#include <exception>
#include <functional>
#include <map>
#include <mutex>
#include <optional>
#include <thread>
#include <type_traits>
#include <vector>

#include "forecast/forecast.hpp"

namespace firstdraw::forecast {

/// What differs from the nominal building, member by member; the first does not. The others share a Latin
/// hypercube over hold::Tolerances (insulation of each run, air of each space, output of each cable type,
/// voltage and sensor of each group), drawn by `seed` and by what it belongs to: the order of rows does not
/// count. Members depend on how many there are.
std::vector<Variation> variations(const job::Job& job, int members, std::uint64_t seed);

/// Progress over several tasks that run at once. Calls are passed on one at a time.
class SharedProgress {
 public:
  SharedProgress(std::function<bool(double)> callback, std::size_t tasks)
      : callback_(std::move(callback)), done_frac_(tasks, 0.0) {}
  /// False: stop.
  bool report(std::size_t task, double done_frac);
  bool stopped() const;

 private:
  std::function<bool(double)> callback_;
  std::vector<double> done_frac_;
  bool stopped_ = false;
  mutable std::mutex door_;
};

/// Calls `make(i)` once for each i below `count`, on any of `threads` threads, and `take(i, item)` with what
/// it made in rising order of i, one at a time. The first exception ends the work and is thrown here.
template <class Make, class Take>
void in_order(int threads, std::size_t count, const Make& make, const Take& take) {
  std::mutex door;
  std::map<std::size_t, std::invoke_result_t<Make, std::size_t>> waiting;
  std::size_t next_to_make = 0, next_to_take = 0;
  std::exception_ptr trouble;
  const auto claim = [&]() -> std::optional<std::size_t> {
    const std::lock_guard lock(door);
    if (trouble || next_to_make == count) return std::nullopt;
    return next_to_make++;
  };
  const auto hand_in = [&](std::size_t i, auto item) {
    const std::lock_guard lock(door);
    waiting.emplace(i, std::move(item));
    while (!waiting.empty() && waiting.begin()->first == next_to_take) {
      take(next_to_take++, waiting.begin()->second);
      waiting.erase(waiting.begin());
    }
  };
  const auto work = [&] {
    try {
      while (const auto i = claim()) hand_in(*i, make(*i));
    } catch (...) {
      const std::lock_guard lock(door);
      if (!trouble) trouble = std::current_exception();
    }
  };
  {
    std::vector<std::jthread> others;
    for (int t = 1; t < threads; ++t) others.emplace_back(work);
    work();
  }
  if (trouble) std::rethrow_exception(trouble);
}

}  // namespace firstdraw::forecast
