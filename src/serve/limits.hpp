// How often who may ask: a bucket of permits each, refilled at a steady rate.
#pragma once

#include <chrono>
#include <map>
#include <mutex>
#include <string>

namespace firstdraw::serve {

struct Rate {
  double per_second = 1, burst = 1;
};

class Limits {
 public:
  using Time = std::chrono::steady_clock::time_point;
  /// Takes a permit of `key`'s bucket, when there is one.
  bool allow(const std::string& key, const Rate& rate, Time now = std::chrono::steady_clock::now());

 private:
  struct Bucket {
    double permits = 0;
    Time at{};
  };
  void forget_full(Time now);
  std::mutex mutex_;
  std::map<std::string, Bucket> buckets_;
};

/// How many of something one key holds at once: event streams of a device.
class Holds {
 public:
  bool take(const std::string& key, int most);
  void give_back(const std::string& key);

 private:
  std::mutex mutex_;
  std::map<std::string, int> held_;
};

}  // namespace firstdraw::serve
