// Private to the room: rows of series and of their days, within a transaction that the caller has begun.
#pragma once

#include <soci/soci.h>

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "store/address.hpp"
#include "store/failure.hpp"
#include "store/series.hpp"

namespace firstdraw::store {

/// Days since 1970-01-01, UTC; also before that.
std::int64_t day_of(std::int64_t at_ms);
inline constexpr std::int64_t day_ms = 86'400'000;

std::optional<Failure> complaint_about(const SeriesInfo& info);

/// Rising, one of each moment (the later given); `bad_input` for values and times that no reading has.
Result<std::vector<Sample>> in_order(std::span<const Sample> samples);

/// Throws Stop (bad_input) where the name is taken by a series of something else. A place that was left open
/// is filled in.
std::int64_t find_or_make_series(soci::session& sql, const std::string& job, const SeriesInfo& info);
std::vector<SeriesInfo> series_by_name(soci::session& sql, const std::string& job);
/// Throws Stop (bad_input) where there is none.
void require_series(soci::session& sql, std::int64_t series);

/// Merges samples, which are `in_order`, with the days that are there. Other writers of the series wait until
/// the end of the transaction.
WriteCount merge_samples(soci::session& sql, Dialect dialect, std::int64_t series,
                         std::span<const Sample> samples);

/// The days from `first` to `last`, rising. Throws Stop (damaged) where a day is not what its row says.
void each_day(soci::session& sql, std::int64_t series, std::int64_t first, std::int64_t last,
              const std::function<void(std::int64_t day, std::vector<Sample> samples)>& take);
std::vector<DayFigures> day_figures(soci::session& sql, std::int64_t series, std::int64_t first,
                                    std::int64_t last);

}  // namespace firstdraw::store
