#include "watch/evidence_place.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <limits>

#include "rules/rules.hpp"
#include "watch/log_grid.hpp"

namespace firstdraw::watch {
namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double hour_ms = 3.6e6;
constexpr int intervals_a_reading_stands = 3;

const job::ControlGroup* group_named(const job::Job& job, const std::string& id) {
  const auto found = std::ranges::find(job.groups, id, &job::ControlGroup::id);
  return found == job.groups.end() ? nullptr : &*found;
}

/// What the guideline asks of water in pipes and at taps; NaN when it asks nothing.
double asked_c(const job::Job& job, std::string& basis, std::vector<rules::Citation>& sources) {
  const auto guideline = rules::find_guideline(job.requirements.guideline);
  if (!guideline || std::isnan(guideline->distributed_c)) return nan;
  basis = guideline->citation.text();
  sources.push_back(guideline->citation);
  return guideline->distributed_c;
}

void pipe_limits(const job::Job& job, const job::ControlGroup* group, PlaceLimits& limits,
                 std::vector<rules::Citation>& sources) {
  limits.least_c = asked_c(job, limits.basis, sources);
  limits.most_c = nan;
  if (group == nullptr) return;
  if (std::isnan(limits.least_c)) {
    limits.least_c = group->maintain_c - group->hold_tolerance_k;
    limits.basis = "the job's maintain temperature less its tolerance";
  }
  if (group->high_alarm_c <= 0) return;
  limits.most_c = group->high_alarm_c;
  limits.basis += "; above: the job's high alarm";
}

void outlet_limits(const job::Job& job, const job::Outlet& outlet, PlaceLimits& limits,
                   std::vector<rules::Citation>& sources) {
  limits.least_c = asked_c(job, limits.basis, sources);
  const auto most =
      rules::outlet_limit(job.requirements.rules, outlet.fixture, job.requirements.building_kind);
  limits.most_c = most.water_c;
  if (std::isnan(most.water_c)) return;
  sources.push_back(most.citation);
  limits.basis += (limits.basis.empty() ? "above: " : "; above: ") + most.citation.text();
}

}  // namespace

Month month_of(const week::Zone& zone, int year, int month) {
  Month made;
  week::Date day = week::first_of_month(year, month);
  const int days = week::days_in_month(year, month);
  for (int d = 0; d <= days; ++d) {
    made.day_begin_ms.push_back(1000 * week::day_begin(zone, day));
    day = week::next_day(day);
  }
  made.begin_ms = made.day_begin_ms.front();
  made.end_ms = made.day_begin_ms.back();
  return made;
}

std::optional<PlaceLimits> limits_of(const job::Job& job, const std::string& place,
                                     std::vector<rules::Citation>& sources) {
  using enum plan::Finding::PlaceKind;
  PlaceLimits limits;
  if (const job::ControlGroup* of = group_named(job, place)) {
    limits.kind = group;
    limits.what = "sensor of group " + place;
    if (!of->sensor_run.empty()) limits.what += ", on run " + of->sensor_run;
    pipe_limits(job, of, limits, sources);
    return limits;
  }
  if (const auto found = std::ranges::find(job.runs, place, &job::Run::id); found != job.runs.end()) {
    limits.kind = run;
    limits.what = "pipe of run " + place;
    pipe_limits(job, found->traced ? group_named(job, found->group) : nullptr, limits, sources);
    return limits;
  }
  if (const auto found = std::ranges::find(job.outlets, place, &job::Outlet::id);
      found != job.outlets.end()) {
    limits.kind = outlet;
    limits.at_outlet = true;
    limits.what = fmt::format("tap {} ({})", place, found->fixture);
    outlet_limits(job, *found, limits, sources);
    return limits;
  }
  return {};
}

namespace {

/// Adds stretches of one reading after another.
class Tally {
 public:
  Tally(PlaceEvidence& made, const Month& month) : made_(made), month_(month), band_(rules::growth_band()) {
    const std::size_t days = month.day_begin_ms.size() - 1;
    made_.day_least_c.assign(days, nan);
    made_.day_below_h.assign(days, nan);
  }

  void add(std::int64_t from_ms, std::int64_t to_ms, double value) {
    while (from_ms < to_ms) {
      const auto next = std::ranges::upper_bound(month_.day_begin_ms, from_ms);
      const auto day = static_cast<std::size_t>(next - month_.day_begin_ms.begin()) - 1;
      const std::int64_t end_ms = std::min(to_ms, *next);
      add_to_day(day, static_cast<double>(end_ms - from_ms) / hour_ms, value);
      from_ms = end_ms;
    }
    stay(to_ms, value);
  }
  /// Nothing is known from here on: a stay below the limit ends.
  void gap() { below_h_ = 0; }

 private:
  void add_to_day(std::size_t day, double hours, double value) {
    made_.logged_h += hours;
    sum_ += hours * value;
    made_.mean_c = sum_ / made_.logged_h;
    const bool below = value < made_.least_limit_c;
    if (below) made_.below_h += hours, below_h_ += hours;
    if (value > made_.most_limit_c) made_.above_h += hours;
    if (value >= band_.low_c && value < band_.high_c) made_.band_h += hours;
    auto& least = made_.day_least_c[day];
    least = std::isnan(least) ? value : std::min(least, value);
    auto& low_h = made_.day_below_h[day];
    low_h = (std::isnan(low_h) ? 0 : low_h) + (below ? hours : 0);
    made_.least_c = std::isnan(made_.least_c) ? value : std::min(made_.least_c, value);
    made_.most_c = std::isnan(made_.most_c) ? value : std::max(made_.most_c, value);
  }
  void stay(std::int64_t, double value) {
    made_.longest_below_h = std::max(made_.longest_below_h, below_h_);
    if (!(value < made_.least_limit_c)) below_h_ = 0;
  }

  PlaceEvidence& made_;
  const Month& month_;
  rules::GrowthBand band_;
  double sum_ = 0, below_h_ = 0;
};

}  // namespace

PlaceEvidence place_evidence(const store::SeriesInfo& info, const std::vector<store::Sample>& samples,
                             const Month& month, const PlaceLimits& limits) {
  PlaceEvidence made;
  made.series = info.name;
  made.place = info.place;
  made.what = limits.what;
  made.least_limit_c = limits.least_c;
  made.most_limit_c = limits.most_c;
  made.limit_basis = limits.basis;
  made.least_c = made.mean_c = made.most_c = nan;
  Tally tally(made, month);
  const auto most_ms =
      static_cast<std::int64_t>(1000 * intervals_a_reading_stands * std::max(1.0, usual_interval_s(samples)));
  std::int64_t known_to_ms = month.begin_ms;
  for (std::size_t i = 0; i < samples.size(); ++i) {
    const std::int64_t stands_to =
        std::min(i + 1 < samples.size() ? samples[i + 1].at_ms : samples[i].at_ms + most_ms,
                 samples[i].at_ms + most_ms);
    const std::int64_t from = std::max(samples[i].at_ms, month.begin_ms),
                       to = std::min(stands_to, month.end_ms);
    if (to <= from) continue;
    if (from > known_to_ms) tally.gap();
    tally.add(from, to, samples[i].value);
    known_to_ms = to;
  }
  made.missing_h = static_cast<double>(month.end_ms - month.begin_ms) / hour_ms - made.logged_h;
  return made;
}

}  // namespace firstdraw::watch
