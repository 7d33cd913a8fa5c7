#include "store/day_times.hpp"

#include <algorithm>
#include <cstddef>
#include <cstdint>
#include <numeric>

#include "store/pack.hpp"

namespace firstdraw::store {

namespace {

std::int64_t usual_step(std::span<const Sample> samples) {
  std::vector<std::int64_t> steps;
  steps.reserve(samples.size() - 1);
  for (std::size_t i = 1; i < samples.size(); ++i) steps.push_back(samples[i].at_ms - samples[i - 1].at_ms);
  const auto middle = steps.begin() + static_cast<std::ptrdiff_t>(steps.size() / 2);
  std::nth_element(steps.begin(), middle, steps.end());
  return *middle;
}

bool read_steps(ByteReader& in, std::vector<Sample>& samples) {
  const auto usual = in.varint_within(1, 2 * latest_ms);
  const auto unit = in.varint_within(1, 2 * latest_ms);
  if (!usual || !unit) return false;
  for (std::size_t i = 1; i < samples.size(); ++i) {
    const auto steps = in.signed_varint();
    if (!steps) return false;
    std::int64_t step = 0;
    if (__builtin_mul_overflow(*steps, *unit, &step) || __builtin_add_overflow(step, *usual, &step) ||
        step < 1 || step > 2 * latest_ms)
      return false;
    samples[i].at_ms = samples[i - 1].at_ms + step;
    if (samples[i].at_ms > latest_ms) return false;
  }
  return true;
}

}  // namespace

void add_times(std::string& out, std::span<const Sample> samples) {
  add_varint(out, samples.size());
  add_varint(out, zigzag(samples.front().at_ms));
  if (samples.size() == 1) return;
  const std::int64_t usual = usual_step(samples);
  std::int64_t unit = 0;
  for (std::size_t i = 1; i < samples.size(); ++i)
    unit = std::gcd(unit, samples[i].at_ms - samples[i - 1].at_ms - usual);
  unit = std::max<std::int64_t>(unit, 1);
  add_varint(out, static_cast<std::uint64_t>(usual));
  add_varint(out, static_cast<std::uint64_t>(unit));
  for (std::size_t i = 1; i < samples.size(); ++i)
    add_varint(out, zigzag((samples[i].at_ms - samples[i - 1].at_ms - usual) / unit));
}

std::optional<std::vector<Sample>> read_times(ByteReader& in) {
  const auto count = in.varint_within(1, most_samples_a_day);
  const auto first = in.signed_varint();
  if (!count || !first || *first > latest_ms || *first < -latest_ms) return std::nullopt;
  std::vector<Sample> samples(static_cast<std::size_t>(*count));
  samples.front().at_ms = *first;
  if (samples.size() > 1 && !read_steps(in, samples)) return std::nullopt;
  return samples;
}

}  // namespace firstdraw::store
