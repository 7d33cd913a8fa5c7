#include "store/day_values.hpp"

#include <algorithm>
#include <bit>
#include <cstddef>
#include <cstdint>
#include <limits>
#include <numeric>
#include <optional>
#include <string_view>
#include <utility>

#include "store/squeeze.hpp"
#include "store/value_law.hpp"

namespace firstdraw::store {

namespace {

constexpr std::int64_t kMostTable = 4096;
enum class Form : std::uint8_t { whole = 0, table = 1, plain = 2 };
using Wholes = std::vector<std::int64_t>;

/// Values that wander pack better as differences, values that jump about better as they are.
void add_wholes(std::string& out, const Wholes& wholes, bool differences) {
  out += static_cast<char>(differences);
  std::int64_t before = 0;
  for (const std::int64_t whole : wholes) {
    add_varint(out, zigzag(whole - before));
    if (differences) before = whole;
  }
}

bool read_wholes(ByteReader& in, Wholes& wholes) {
  const auto differences = in.byte();
  if (!differences || *differences > 1) return false;
  std::int64_t before = 0;
  for (std::int64_t& whole : wholes) {
    const auto read = in.signed_varint();
    if (!read || __builtin_add_overflow(*read, before, &whole)) return false;
    if (*differences == 1) before = whole;
  }
  return true;
}

/// Doubles by the rank of their bytes: high bytes, which are alike, stand together.
void add_doubles(std::string& out, std::span<const std::uint64_t> bits) {
  for (int rank = 7; rank >= 0; --rank) {
    for (const std::uint64_t value : bits)
      out += static_cast<char>(static_cast<unsigned char>(value >> (8U * static_cast<unsigned>(rank))));
  }
}

bool read_doubles(ByteReader& in, std::span<std::uint64_t> bits) {
  std::ranges::fill(bits, 0U);
  for (int rank = 7; rank >= 0; --rank) {
    const auto plane = in.bytes(bits.size());
    if (!plane) return false;
    for (std::size_t i = 0; i < bits.size(); ++i)
      bits[i] = bits[i] << 8U | static_cast<unsigned char>((*plane)[i]);
  }
  return true;
}

std::vector<std::uint64_t> bits_of(std::span<const Sample> samples) {
  std::vector<std::uint64_t> bits;
  bits.reserve(samples.size());
  for (const Sample& sample : samples) bits.push_back(std::bit_cast<std::uint64_t>(sample.value));
  return bits;
}

/// Few different values of no known law: the values by size, and which of them.
struct Table {
  std::vector<std::uint64_t> values;
  Wholes places;
};
std::optional<Table> table_of(std::span<const Sample> samples) {
  Table table{bits_of(samples), {}};
  const std::vector<std::uint64_t> all = table.values;
  const auto smaller = [](std::uint64_t a, std::uint64_t b) {
    const auto x = std::bit_cast<double>(a);
    const auto y = std::bit_cast<double>(b);
    return x < y || (!(y < x) && a < b);
  };
  std::ranges::sort(table.values, smaller);
  table.values.erase(std::unique(table.values.begin(), table.values.end()), table.values.end());
  if (table.values.size() > static_cast<std::size_t>(kMostTable) || table.values.size() > samples.size() / 2)
    return std::nullopt;
  table.places.reserve(all.size());
  for (const std::uint64_t value : all) {
    const auto at = std::ranges::lower_bound(table.values, value, smaller);
    table.places.push_back(at - table.values.begin());
  }
  return table;
}

/// Sensors of sixteenths or halves of a degree step by more than their last digit.
struct Stride {
  std::int64_t base = 0, stride = 1;
};
Stride to_strides(Wholes& k) {
  Stride found{k.front(), 0};
  for (const std::int64_t whole : k) found.stride = std::gcd(found.stride, whole - found.base);
  found.stride = std::max<std::int64_t>(found.stride, 1);
  for (std::int64_t& whole : k) whole = (whole - found.base) / found.stride;
  return found;
}

bool from_strides(Wholes& k, const Stride& by) {
  for (std::int64_t& whole : k) {
    if (__builtin_mul_overflow(whole, by.stride, &whole) || __builtin_add_overflow(whole, by.base, &whole))
      return false;
  }
  return true;
}

bool read_whole_form(ByteReader& in, std::vector<Sample>& samples) {
  const auto unit = in.byte();
  const auto decimals = in.byte();
  const auto times_step = in.byte();
  const auto base = in.signed_varint();
  const auto stride = in.varint_within(1, std::numeric_limits<std::int64_t>::max());
  Wholes k(samples.size());
  if (!base || !stride || !unit || *unit >= law_units() || !decimals || *decimals > most_decimals ||
      !times_step || *times_step > 1 || !read_wholes(in, k) || !from_strides(k, {*base, *stride}))
    return false;
  const ValueLaw law{*unit, *decimals, *times_step == 1};
  for (std::size_t i = 0; i < k.size(); ++i) samples[i].value = law.value_of(k[i]);
  return true;
}

bool read_table_form(ByteReader& in, std::vector<Sample>& samples) {
  const auto size = in.varint_within(1, kMostTable);
  if (!size) return false;
  std::vector<std::uint64_t> values(static_cast<std::size_t>(*size));
  Wholes places(samples.size());
  if (!read_doubles(in, values) || !read_wholes(in, places)) return false;
  for (std::size_t i = 0; i < places.size(); ++i) {
    if (places[i] < 0 || places[i] >= *size) return false;
    samples[i].value = std::bit_cast<double>(values[static_cast<std::size_t>(places[i])]);
  }
  return true;
}

bool read_plain_form(ByteReader& in, std::vector<Sample>& samples) {
  std::vector<std::uint64_t> bits(samples.size());
  if (!read_doubles(in, bits)) return false;
  for (std::size_t i = 0; i < bits.size(); ++i) samples[i].value = std::bit_cast<double>(bits[i]);
  return true;
}

std::string smaller_of(std::string_view head, const Wholes& wholes) {
  std::string best;
  for (const bool differences : {true, false}) {
    std::string bytes(head);
    add_wholes(bytes, wholes, differences);
    std::string frame = squeezed(bytes);
    if (best.empty() || frame.size() < best.size()) best = std::move(frame);
  }
  return best;
}

}  // namespace

std::string with_values(std::string head, std::span<const Sample> samples) {
  if (auto wholes = whole_numbers(samples)) {
    const Stride by = to_strides(wholes->k);
    head += static_cast<char>(Form::whole);
    head += static_cast<char>(wholes->law.unit);
    head += static_cast<char>(wholes->law.decimals);
    head += static_cast<char>(wholes->law.times_step);
    add_varint(head, zigzag(by.base));
    add_varint(head, static_cast<std::uint64_t>(by.stride));
    return smaller_of(head, wholes->k);
  }
  if (const auto table = table_of(samples)) {
    head += static_cast<char>(Form::table);
    add_varint(head, table->values.size());
    add_doubles(head, table->values);
    return smaller_of(head, table->places);
  }
  head += static_cast<char>(Form::plain);
  add_doubles(head, bits_of(samples));
  return squeezed(head);
}

bool read_values(ByteReader& in, std::vector<Sample>& samples) {
  const auto form = in.byte();
  if (!form) return false;
  switch (static_cast<Form>(*form)) {
    case Form::whole:
      return read_whole_form(in, samples);
    case Form::table:
      return read_table_form(in, samples);
    case Form::plain:
      return read_plain_form(in, samples);
  }
  return false;
}

}  // namespace firstdraw::store
