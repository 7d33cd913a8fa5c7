#include "store/series_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iterator>
#include <utility>

#include "store/day_rows.hpp"
#include "store/draft_check.hpp"
#include "store/pack.hpp"
#include "store/session.hpp"

namespace firstdraw::store {

namespace {

Failure bad(std::string what, std::string remedy) {
  return {FailureKind::bad_input, std::move(what), std::move(remedy)};
}

std::optional<SeriesInfo> find_series(soci::session& sql, const std::string& job, const std::string& name) {
  SeriesInfo found;
  long long id = 0;
  sql << "SELECT id, name, quantity, place FROM series WHERE job = :job AND name = :name", soci::into(id),
      soci::into(found.name), soci::into(found.quantity), soci::into(found.place), soci::use(job, "job"),
      soci::use(name, "name");
  if (!sql.got_data()) return std::nullopt;
  found.id = id;
  return found;
}

void refuse_another_meaning(const SeriesInfo& there, const SeriesInfo& wanted) {
  const bool moved = !there.place.empty() && !wanted.place.empty() && there.place != wanted.place;
  if (there.quantity == wanted.quantity && !moved) return;
  const bool other = there.quantity != wanted.quantity;
  throw Stop{bad(fmt::format("The series \"{}\" holds {} \"{}\" already, not \"{}\".", wanted.name,
                             other ? "the quantity" : "readings of the place",
                             other ? there.quantity : there.place, other ? wanted.quantity : wanted.place),
                 "Give the new readings a name of their own.")};
}

void insert_series(soci::session& sql, const std::string& job, const SeriesInfo& info) {
  sql << "INSERT INTO series (job, name, quantity, place) VALUES (:job, :name, :quantity, :place) "
         "ON CONFLICT (job, name) DO NOTHING",
      soci::use(job, "job"), soci::use(info.name, "name"), soci::use(info.quantity, "quantity"),
      soci::use(info.place, "place");
}

Failure contradicts(std::int64_t series, std::int64_t day) {
  return {FailureKind::damaged,
          fmt::format("Day {} of series {} does not hold the readings that its row says.", day, series),
          "Put the last back-up in its place, or import an archive into a new store."};
}

/// New readings stand in the place of old ones of the same moment.
std::vector<Sample> merged(std::span<const Sample> old, std::span<const Sample> fresh, WriteCount& count) {
  std::vector<Sample> all;
  all.reserve(old.size() + fresh.size());
  std::size_t i = 0;
  for (const Sample& sample : fresh) {
    while (i < old.size() && old[i].at_ms < sample.at_ms) all.push_back(old[i++]);
    const bool there = i < old.size() && old[i].at_ms == sample.at_ms;
    if (!there) ++count.added;
    if (there) ++(old[i++].value == sample.value ? count.same : count.replaced);
    all.push_back(sample);
  }
  all.insert(all.end(), old.begin() + static_cast<std::ptrdiff_t>(i), old.end());
  return all;
}

void refuse_too_many(std::size_t count, std::int64_t series, std::int64_t day) {
  if (count <= most_samples_a_day) return;
  throw Stop{bad(fmt::format("Series {} would hold {} readings on day {}; {} a day are the most.", series,
                             count, day, most_samples_a_day),
                 "Store fewer readings: one a second is plenty for a pipe.")};
}

/// Stretches of one day each.
std::vector<std::span<const Sample>> by_day(std::span<const Sample> samples) {
  std::vector<std::span<const Sample>> days;
  for (std::size_t from = 0; from < samples.size();) {
    const std::int64_t next_ms = (day_of(samples[from].at_ms) + 1) * day_ms;
    const auto end = std::ranges::lower_bound(samples.subspan(from), next_ms, {}, &Sample::at_ms);
    const auto count = static_cast<std::size_t>(end - samples.subspan(from).begin());
    days.push_back(samples.subspan(from, count));
    from += count;
  }
  return days;
}

/// Waits for other writers of the series and keeps them waiting. SQLite has one writer at a time anyway.
void lock_series(soci::session& sql, Dialect dialect, std::int64_t series) {
  if (dialect == Dialect::sqlite) return require_series(sql, series);
  const long long wanted = series;
  long long id = 0;
  sql << "SELECT id FROM series WHERE id = :id FOR NO KEY UPDATE", soci::into(id), soci::use(wanted, "id");
  if (!sql.got_data()) require_series(sql, series);
}

std::vector<std::pair<std::int64_t, std::vector<Sample>>> days_there(soci::session& sql, std::int64_t series,
                                                                     std::span<const Sample> samples) {
  std::vector<std::pair<std::int64_t, std::vector<Sample>>> there;
  each_day(sql, series, day_of(samples.front().at_ms), day_of(samples.back().at_ms),
           [&](std::int64_t day, std::vector<Sample> old) { there.emplace_back(day, std::move(old)); });
  return there;
}

}  // namespace

std::int64_t day_of(std::int64_t at_ms) { return at_ms / day_ms - (at_ms % day_ms < 0 ? 1 : 0); }

std::optional<Failure> complaint_about(const SeriesInfo& info) {
  if (auto wrong = complaint_about_name("name of a series", info.name)) return wrong;
  if (auto wrong = complaint_about_name("quantity of a series", info.quantity)) return wrong;
  return info.place.empty() ? std::nullopt : complaint_about_name("place of a series", info.place);
}

Result<std::vector<Sample>> in_order(std::span<const Sample> samples) {
  for (const Sample& sample : samples) {
    if (!std::isfinite(sample.value))
      return std::unexpected(bad(fmt::format("The reading at {} ms is not a number.", sample.at_ms),
                                 "Leave out readings that are none; a gap says that there was none."));
    if (sample.at_ms > latest_ms || sample.at_ms < -latest_ms)
      return std::unexpected(bad(fmt::format("{} ms is no time of a reading.", sample.at_ms),
                                 "Give milliseconds since 1970-01-01, up to the year 9999."));
  }
  std::vector<Sample> sorted(samples.begin(), samples.end());
  std::ranges::stable_sort(sorted, {}, &Sample::at_ms);
  const auto same_moment = [](const Sample& a, const Sample& b) { return a.at_ms == b.at_ms; };
  // From the end, so that the last given of a moment is the one that stays.
  const auto kept = std::unique(sorted.rbegin(), sorted.rend(), same_moment);
  sorted.erase(sorted.begin(), kept.base());
  return sorted;
}

std::int64_t find_or_make_series(soci::session& sql, const std::string& job, const SeriesInfo& info) {
  auto there = find_series(sql, job, info.name);
  if (!there) {
    insert_series(sql, job, info);
    there = find_series(sql, job, info.name).value();
  }
  refuse_another_meaning(*there, info);
  const long long id = there->id;
  if (there->place.empty() && !info.place.empty())
    sql << "UPDATE series SET place = :place WHERE id = :id", soci::use(info.place, "place"),
        soci::use(id, "id");
  return there->id;
}

std::vector<SeriesInfo> series_by_name(soci::session& sql, const std::string& job) {
  std::vector<SeriesInfo> all;
  const soci::rowset<soci::row> rows =
      (sql.prepare << "SELECT CAST(id AS TEXT), name, quantity, place FROM series WHERE job = :job",
       soci::use(job, "job"));
  for (const soci::row& row : rows)
    all.push_back({std::stoll(row.get<std::string>(0)), row.get<std::string>(1), row.get<std::string>(2),
                   row.get<std::string>(3)});
  std::ranges::sort(all, {}, &SeriesInfo::name);  // by bytes: databases differ in how they sort text
  return all;
}

void require_series(soci::session& sql, std::int64_t series) {
  const long long wanted = series;
  long long id = 0;
  sql << "SELECT id FROM series WHERE id = :id", soci::into(id), soci::use(wanted, "id");
  if (!sql.got_data())
    throw Stop{bad(fmt::format("There is no series {}.", series), "Ask for the series by its name first.")};
}

void each_day(soci::session& sql, std::int64_t series, std::int64_t first, std::int64_t last,
              const std::function<void(std::int64_t, std::vector<Sample>)>& take) {
  const long long wanted = series, from = first, to = last;
  long long day = 0, count = 0;
  std::string packed;
  soci::statement rows = (sql.prepare << "SELECT day, samples, encode(packed, 'hex') FROM reading_day WHERE "
                                         "series = :series AND day BETWEEN :first AND :last ORDER BY day",
                          soci::use(wanted, "series"), soci::use(from, "first"), soci::use(to, "last"),
                          soci::into(day), soci::into(count), soci::into(packed));
  rows.execute();
  while (rows.fetch()) {
    auto samples = unpack(from_hex(packed));
    if (!samples) throw Stop{samples.error()};
    if (static_cast<long long>(samples->size()) != count || day_of(samples->front().at_ms) != day ||
        day_of(samples->back().at_ms) != day)
      throw Stop{contradicts(series, day)};
    take(day, *std::move(samples));
  }
}

WriteCount merge_samples(soci::session& sql, Dialect dialect, std::int64_t series,
                         std::span<const Sample> samples) {
  lock_series(sql, dialect, series);
  WriteCount count;
  if (samples.empty()) return count;
  const auto there = days_there(sql, series, samples);
  DayWriter writer(sql);
  for (const std::span<const Sample> fresh : by_day(samples)) {
    const std::int64_t day = day_of(fresh.front().at_ms);
    const auto old = std::ranges::lower_bound(there, day, {}, [](const auto& known) { return known.first; });
    const bool is_new = old == there.end() || old->first != day;
    const std::int64_t changed_before = count.added + count.replaced;
    const auto all = merged(is_new ? std::span<const Sample>() : old->second, fresh, count);
    if (count.added + count.replaced == changed_before) continue;
    refuse_too_many(all.size(), series, day);
    writer.put(day_row(series, day, all));
  }
  writer.finish();
  return count;
}

std::vector<DayFigures> day_figures(soci::session& sql, std::int64_t series, std::int64_t first,
                                    std::int64_t last) {
  const long long wanted = series, from = first, to = last;
  DayRow row;
  soci::statement rows =
      (sql.prepare
           << "SELECT day, samples, least, most, mean, first_ms, first_value, last_ms, last_value FROM "
              "reading_day WHERE series = :series AND day BETWEEN :first AND :last ORDER BY day",
       soci::use(wanted, "series"), soci::use(from, "first"), soci::use(to, "last"), soci::into(row.day),
       soci::into(row.samples), soci::into(row.least), soci::into(row.most), soci::into(row.mean),
       soci::into(row.first_ms), soci::into(row.first_value), soci::into(row.last_ms),
       soci::into(row.last_value));
  rows.execute();
  std::vector<DayFigures> figures;
  while (rows.fetch())
    figures.push_back({row.day,
                       row.samples,
                       row.least,
                       row.most,
                       row.mean,
                       {row.first_ms, row.first_value},
                       {row.last_ms, row.last_value}});
  return figures;
}

}  // namespace firstdraw::store
