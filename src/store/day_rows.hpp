// Private to the room: days of readings as the database holds them, many rows a statement.
#pragma once

#include <soci/soci.h>

#include <array>
#include <cstddef>
#include <cstdint>
#include <memory>
#include <span>
#include <string>

#include "store/series.hpp"

namespace firstdraw::store {

struct DayRow {
  long long series = 0, day = 0, samples = 0;
  double least = 0, most = 0, mean = 0;
  long long first_ms = 0;
  double first_value = 0;
  long long last_ms = 0;
  double last_value = 0;
  std::string packed_hex{};
};
/// `samples` of one day, rising, one at least.
DayRow day_row(std::int64_t series, std::int64_t day, std::span<const Sample> samples);

/// Puts rows in place of those of the same series and day. The rows are written when enough are together
/// and by `finish`.
class DayWriter {
 public:
  explicit DayWriter(soci::session& sql) : sql_(sql) {}
  void put(DayRow row);
  void finish();

 private:
  static constexpr std::size_t together = 40;
  std::unique_ptr<soci::statement> prepared(std::size_t count);

  soci::session& sql_;
  std::array<DayRow, together> rows_;
  std::size_t count_ = 0;
  std::unique_ptr<soci::statement> full_;
};

}  // namespace firstdraw::store
