#include "store/day_rows.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <string_view>
#include <utility>
#include <vector>

#include "store/hex.hpp"
#include "store/pack.hpp"

namespace firstdraw::store {

namespace {

constexpr std::string_view kColumns =
    "series, day, samples, least, most, mean, first_ms, first_value, last_ms, last_value, packed";
constexpr std::string_view kReplace =
    " ON CONFLICT (series, day) DO UPDATE SET samples = excluded.samples, least = excluded.least, "
    "most = excluded.most, mean = excluded.mean, first_ms = excluded.first_ms, "
    "first_value = excluded.first_value, last_ms = excluded.last_ms, last_value = excluded.last_value, "
    "packed = excluded.packed";

/// SQLite takes parameters of the same name for the same one.
std::string row_of_parameters(std::size_t i) {
  return fmt::format(
      "(:s{0}, :d{0}, :n{0}, :l{0}, :m{0}, :a{0}, :ft{0}, :fv{0}, :lt{0}, :lv{0}, decode(:p{0}, 'hex'))", i);
}

std::string insert_of(std::size_t count) {
  std::vector<std::string> rows;
  for (std::size_t i = 0; i < count; ++i) rows.push_back(row_of_parameters(i));
  return fmt::format("INSERT INTO reading_day ({}) VALUES {}{}", kColumns, fmt::join(rows, ", "), kReplace);
}

double mean_of(std::span<const Sample> samples) {
  long double sum = 0;  // of its wider range: readings may be as large as doubles are
  for (const Sample& sample : samples) sum += sample.value;
  return static_cast<double>(sum / static_cast<long double>(samples.size()));
}

}  // namespace

DayRow day_row(std::int64_t series, std::int64_t day, std::span<const Sample> samples) {
  const auto [least, most] = std::ranges::minmax_element(samples, {}, &Sample::value);
  return {series,
          day,
          static_cast<long long>(samples.size()),
          least->value,
          most->value,
          mean_of(samples),
          samples.front().at_ms,
          samples.front().value,
          samples.back().at_ms,
          samples.back().value,
          to_hex(pack(samples))};
}

std::unique_ptr<soci::statement> DayWriter::prepared(std::size_t count) {
  auto statement = std::make_unique<soci::statement>(sql_);
  for (std::size_t i = 0; i < count; ++i) {
    DayRow& row = rows_.at(i);
    for (long long* number : {&row.series, &row.day, &row.samples}) statement->exchange(soci::use(*number));
    for (double* number : {&row.least, &row.most, &row.mean}) statement->exchange(soci::use(*number));
    statement->exchange(soci::use(row.first_ms));
    statement->exchange(soci::use(row.first_value));
    statement->exchange(soci::use(row.last_ms));
    statement->exchange(soci::use(row.last_value));
    statement->exchange(soci::use(row.packed_hex));
  }
  statement->alloc();
  statement->prepare(insert_of(count));
  statement->define_and_bind();
  return statement;
}

void DayWriter::put(DayRow row) {
  rows_.at(count_++) = std::move(row);
  if (count_ < together) return;
  if (!full_) full_ = prepared(together);
  full_->execute(true);
  count_ = 0;
}

void DayWriter::finish() {
  if (count_ > 0) prepared(count_)->execute(true);
  count_ = 0;
}

}  // namespace firstdraw::store
