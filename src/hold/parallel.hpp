// Independent pieces of work over threads.
#pragma once

#include <algorithm>
#include <atomic>
#include <thread>
#include <vector>

namespace firstdraw::hold {

/// Calls `body(thread, i)` once for every i in [0, count). Which thread takes which i is left open: bodies
/// must not depend on it.
template <class Body>
void for_each_index(int threads, std::size_t count, const Body& body) {
  constexpr std::size_t block = 8;
  std::atomic<std::size_t> next = 0;
  const auto work = [&](std::size_t thread) {
    for (std::size_t start = next.fetch_add(block); start < count; start = next.fetch_add(block)) {
      for (std::size_t i = start; i < std::min(count, start + block); ++i) body(thread, i);
    }
  };
  std::vector<std::jthread> others;
  for (int t = 1; t < threads; ++t) others.emplace_back(work, static_cast<std::size_t>(t));
  work(0);
}

}  // namespace firstdraw::hold
