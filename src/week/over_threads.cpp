#include "week/over_threads.hpp"

#include <atomic>
#include <thread>
#include <vector>

namespace firstdraw::week {

void over_threads(int threads, std::size_t count, const std::function<void(std::size_t)>& body) {
  std::atomic<std::size_t> next = 0;
  const auto work = [&] {
    for (std::size_t i = next++; i < count; i = next++) body(i);
  };
  std::vector<std::jthread> others;
  for (int t = 1; t < threads && static_cast<std::size_t>(t) < count; ++t) others.emplace_back(work);
  work();
}

}  // namespace firstdraw::week
