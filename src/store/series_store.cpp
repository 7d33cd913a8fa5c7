// Logged readings behind the door of the room: Store's functions of series.
#include <algorithm>
#include <utility>

#include "store/draft_check.hpp"
#include "store/series_rows.hpp"
#include "store/session.hpp"

namespace firstdraw::store {

namespace {

struct Ordered {
  std::int64_t series = 0;
  std::vector<Sample> samples;
};

/// By series, so that two writers of the same series never wait for each other crosswise.
Result<std::vector<Ordered>> ordered(std::span<const SeriesBatch> batches) {
  std::vector<Ordered> all;
  for (const SeriesBatch& batch : batches) {
    auto samples = in_order(batch.samples);
    if (!samples) return std::unexpected(std::move(samples).error());
    all.push_back({batch.series, *std::move(samples)});
  }
  std::ranges::stable_sort(all, {}, &Ordered::series);
  return all;
}

struct Days {
  std::int64_t first = 0, last = -1;
};
/// Those that the moments from <= at < to lie on.
Days days_touched(std::int64_t from_ms, std::int64_t to_ms) {
  if (from_ms >= to_ms) return {};
  return {day_of(from_ms), day_of(to_ms - 1)};
}

void append_within(std::vector<Sample>& found, const std::vector<Sample>& day, std::int64_t from_ms,
                   std::int64_t to_ms) {
  const auto first = std::ranges::lower_bound(day, from_ms, {}, &Sample::at_ms);
  const auto end = std::ranges::lower_bound(first, day.end(), to_ms, {}, &Sample::at_ms);
  found.insert(found.end(), first, end);
}

}  // namespace

Result<std::int64_t> Store::series(std::string_view job, const SeriesInfo& info) {
  if (auto wrong = complaint_about_name("book", job)) return std::unexpected(*std::move(wrong));
  if (auto wrong = complaint_about(info)) return std::unexpected(*std::move(wrong));
  return inside_->write([&](soci::session& sql) { return find_or_make_series(sql, std::string(job), info); });
}

Result<std::vector<SeriesInfo>> Store::series_of(std::string_view job) const {
  return inside_->read([&](soci::session& sql) { return series_by_name(sql, std::string(job)); });
}

Result<WriteCount> Store::write(std::int64_t series, std::span<const Sample> samples) {
  const SeriesBatch batch{series, samples};
  return write(std::span(&batch, 1));
}

Result<WriteCount> Store::write(std::span<const SeriesBatch> batches) {
  const auto all = ordered(batches);
  if (!all) return std::unexpected(all.error());
  // Writing the same again changes nothing, so a commit of unknown fate may simply be repeated.
  return inside_->write([&](soci::session& sql) {
    WriteCount total;
    for (const Ordered& batch : *all) {
      const WriteCount count = merge_samples(sql, inside_->dialect(), batch.series, batch.samples);
      total.added += count.added;
      total.replaced += count.replaced;
      total.same += count.same;
    }
    return total;
  });
}

Result<std::vector<Sample>> Store::samples(std::int64_t series, std::int64_t from_ms,
                                           std::int64_t to_ms) const {
  return inside_->read([&](soci::session& sql) {
    require_series(sql, series);
    const Days days = days_touched(from_ms, to_ms);
    std::vector<Sample> found;
    each_day(sql, series, days.first, days.last, [&](std::int64_t /*day*/, const std::vector<Sample>& day) {
      append_within(found, day, from_ms, to_ms);
    });
    return found;
  });
}

Result<std::vector<DayFigures>> Store::days(std::int64_t series, std::int64_t from_ms,
                                            std::int64_t to_ms) const {
  return inside_->read([&](soci::session& sql) {
    require_series(sql, series);
    const Days days = days_touched(from_ms, to_ms);
    return day_figures(sql, series, days.first, days.last);
  });
}

}  // namespace firstdraw::store
