#include "serve/limits.hpp"

#include <algorithm>

namespace firstdraw::serve {
namespace {

constexpr std::size_t most_buckets = 5000;
constexpr std::chrono::minutes full_after{15};

}  // namespace

bool Limits::allow(const std::string& key, const Rate& rate, Time now) {
  const std::lock_guard lock(mutex_);
  if (buckets_.size() > most_buckets) forget_full(now);
  const auto [found, fresh] = buckets_.try_emplace(key, Bucket{rate.burst, now});
  Bucket& bucket = found->second;
  const double passed_s = std::chrono::duration<double>(now - bucket.at).count();
  bucket.permits = std::min(rate.burst, bucket.permits + rate.per_second * std::max(0.0, passed_s));
  bucket.at = now;
  if (bucket.permits < 1) return false;
  bucket.permits -= 1;
  return true;
}

void Limits::forget_full(Time now) {
  std::erase_if(buckets_, [now](const auto& each) { return now - each.second.at > full_after; });
  // Somebody asks under thousands of names at once: everybody begins anew rather than the memory grow.
  if (buckets_.size() > most_buckets) buckets_.clear();
}

bool Holds::take(const std::string& key, int most) {
  const std::lock_guard lock(mutex_);
  int& held = held_[key];
  if (held >= most) return false;
  ++held;
  return true;
}

void Holds::give_back(const std::string& key) {
  const std::lock_guard lock(mutex_);
  const auto found = held_.find(key);
  if (found != held_.end() && --found->second <= 0) held_.erase(found);
}

}  // namespace firstdraw::serve
