#include "store/pack.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <stdexcept>
#include <utility>

#include "store/day_times.hpp"
#include "store/day_values.hpp"
#include "store/squeeze.hpp"
#include "store/varint.hpp"

namespace firstdraw::store {

namespace {

constexpr char kVersion = 1;
constexpr std::size_t kMostBytes = 64 + most_samples_a_day * 20;  // a time and a value of ten bytes

void check(std::span<const Sample> samples) {
  const auto late = [](const Sample& sample) { return std::abs(sample.at_ms) > latest_ms; };
  if (samples.empty() || samples.size() > most_samples_a_day || late(samples.front()) || late(samples.back()))
    throw std::logic_error("pack: too few or too many samples, or out of time");
  const auto not_after = [](const Sample& a, const Sample& b) { return b.at_ms <= a.at_ms; };
  if (std::ranges::adjacent_find(samples, not_after) != samples.end())
    throw std::logic_error("pack: samples must rise in time");
}

std::unexpected<Failure> damaged() {
  return std::unexpected(Failure{FailureKind::damaged, "a packed day of readings is damaged",
                                 "restore the store from a backup or an archive"});
}

}  // namespace

std::string pack(std::span<const Sample> samples) {
  check(samples);
  std::string head;
  head.reserve(32 + samples.size() * 3);
  add_times(head, samples);
  return kVersion + with_values(std::move(head), samples);
}

Result<std::vector<Sample>> unpack(std::string_view blob) {
  if (blob.size() < 2 || blob.front() == 0) return damaged();
  if (blob.front() != kVersion)
    return std::unexpected(
        Failure{FailureKind::newer,
                fmt::format("a day of readings is packed in layout {}, this program knows {}",
                            static_cast<unsigned char>(blob.front()), int{kVersion}),
                "use the later version of the program that wrote it"});
  const auto bytes = unsqueezed(blob.substr(1), kMostBytes);
  if (!bytes) return damaged();
  ByteReader in(*bytes);
  auto samples = read_times(in);
  if (!samples || !read_values(in, *samples) || in.left() != 0) return damaged();
  const auto no_number = [](const Sample& sample) { return !std::isfinite(sample.value); };
  if (std::ranges::any_of(*samples, no_number)) return damaged();
  return std::move(*samples);
}

}  // namespace firstdraw::store
