#include "watch/evidence.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "plan/check_context.hpp"
#include "plan/checks.hpp"
#include "rules/holding.hpp"
#include "rules/rules.hpp"
#include "units/quantity.hpp"
#include "watch/evidence_place.hpp"
#include "week/calendar.hpp"

namespace firstdraw::watch {
namespace {

using plan::Findings;
using units::Kind;

// From when something is worth a finding: our choices, no source.
constexpr double short_stay_h = 1, short_hot_h = 0.25, most_missing_frac = 0.05;
constexpr double agrees_well_frac = 0.95, clock_well_s = 900;
constexpr double conductance_up_frac = 1.15, cable_down_frac = 0.9;

struct View {
  const job::Job& job;
  const Month& month;
  std::string temperature(double c) const { return units::show(c, Kind::temperature, job.units); }
  std::string hours(double h) const { return units::show(3600 * h, Kind::duration, job.units); }
  double month_h() const { return static_cast<double>(month.end_ms - month.begin_ms) / 3.6e6; }
};

plan::Subject subject_of(const job::Job& job, const std::string& place) {
  for (const job::ControlGroup& group : job.groups)
    if (group.id == place) return plan::about(group);
  for (const job::Run& run : job.runs)
    if (run.id == place) return plan::about(run);
  for (const job::Outlet& outlet : job.outlets)
    if (outlet.id == place) return plan::about(outlet);
  return plan::about_site();
}

bool is_outlet(const job::Job& job, const std::string& place) {
  return std::ranges::find(job.outlets, place, &job::Outlet::id) != job.outlets.end();
}

/// Days on which a place was colder for longer than the guideline lets it.
int long_days(const PlaceEvidence& place, double allowed_h) {
  return static_cast<int>(std::ranges::count_if(place.day_below_h, [&](double h) { return h > allowed_h; }));
}

void cold(const View& view, const PlaceEvidence& place, Findings& found) {
  if (is_outlet(view.job, place.place)) return;  // cold between draws is as it should be
  const auto holding = rules::holding(view.job.requirements.guideline);
  const bool by_day = holding.given && holding.colder_h_per_day > 0;
  const double allowed_h = by_day ? holding.colder_h_per_day : short_stay_h;
  const int days = long_days(place, allowed_h);
  const bool bad = by_day ? days > 0 : place.longest_below_h > allowed_h;
  if (!bad) return;
  found.add("watch-cold", subject_of(view.job, place.place),
            fmt::format("{} was below {} for {} of the month, {} on end; its coldest reading was {}.",
                        place.what, view.temperature(place.least_limit_c), view.hours(place.below_h),
                        view.hours(place.longest_below_h), view.temperature(place.least_c)),
            "Find out why before anything else: set-point, cable, circuit, insulation (firstdraw diagnose); "
            "what the water management plan says of cold water is to be done.",
            by_day ? holding.citation : plan::common_practice());
}

void hot(const View& view, const PlaceEvidence& place, Findings& found) {
  if (!(place.above_h > short_hot_h)) return;
  found.add("watch-hot", subject_of(view.job, place.place),
            fmt::format("{} was above {} for {} of the month; its hottest reading was {}.", place.what,
                        view.temperature(place.most_limit_c), view.hours(place.above_h),
                        view.temperature(place.most_c)),
            "Check mixing valves, the contactor and the set-point now: water this hot can scald.");
}

void gaps(const View& view, const PlaceEvidence& place, Findings& found) {
  if (place.missing_h <= most_missing_frac * view.month_h()) return;
  found.add("watch-gap", subject_of(view.job, place.place),
            fmt::format("{} was not logged for {} of {}.", place.what, view.hours(place.missing_h),
                        view.hours(view.month_h())),
            "Find out what stopped the logger; the month is no evidence for the time that is missing.");
}

void stuck(const View& view, const std::vector<Oddity>& oddities, const Logged& logged, Findings& found) {
  for (const Oddity& oddity : oddities) {
    if (oddity.kind != Oddity::Kind::stuck) continue;
    const auto series = std::ranges::find(logged.series, oddity.series,
                                          [](const LoggedSeries& one) { return one.info.name; });
    const std::string place = series == logged.series.end() ? "" : series->info.place;
    found.add("watch-stuck", subject_of(view.job, place),
              fmt::format("{} read the same value for {}.", oddity.series,
                          view.hours(static_cast<double>(oddity.to_ms - oddity.from_ms) / 3.6e6)),
              "Check sensor, cable and logger: a stuck reading is no evidence.");
  }
}

void schedules(const View& view, const std::vector<ScheduleCheck>& checks, Findings& found) {
  for (const ScheduleCheck& check : checks) {
    if (!check.told) continue;
    const bool clock = std::abs(check.clock_off_s) >= clock_well_s || check.weekday_off != 0;
    if (!clock && check.agrees_frac >= agrees_well_frac) continue;
    std::string what = fmt::format("Group {}:", check.group);
    for (const std::string& sentence : check.said) what += " " + sentence;
    found.add("watch-schedule", subject_of(view.job, check.group), what,
              "Set the controller's clock, or key in the periods of the settings sheet.");
  }
}

void estimates(const View& view, const std::vector<GroupEstimate>& all, Findings& found) {
  const auto interval = [](const Estimated& e) {
    return fmt::format("{:.0f} to {:.0f} %", 100 * e.low, 100 * e.high);
  };
  for (const GroupEstimate& one : all) {
    if (one.conductance_frac.known && one.conductance_frac.low > conductance_up_frac)
      found.add("watch-insulation", subject_of(view.job, one.run),
                fmt::format("Run {} loses {} of the heat it was designed to lose.", one.run,
                            interval(one.conductance_frac)),
                "Look for wet, missing or pressed insulation and for colder air than was entered.");
    if (one.cable_frac.known && one.cable_frac.high < cable_down_frac)
      found.add("watch-cable", subject_of(view.job, one.run),
                fmt::format("The cable on run {} gives {} of its designed output.", one.run,
                            interval(one.cable_frac)),
                "Measure its voltage, current and insulation resistance (firstdraw tests).");
  }
}

void changed(const View& view, const Logged& logged, const std::vector<Change>& all, Findings& found) {
  for (const Change& change : all) {
    if (change.latest_ms < view.month.begin_ms || change.earliest_ms >= view.month.end_ms) continue;
    const auto series = std::ranges::find(logged.series, change.series,
                                          [](const LoggedSeries& one) { return one.info.name; });
    const std::string place = series == logged.series.end() ? "" : series->info.place;
    found.add("watch-change", subject_of(view.job, place), change.said,
              "Find out what was done or happened then, and write it into the records.");
  }
}

std::vector<plan::Finding> findings_of(const View& view, const Evidence& page, const Logged& logged,
                                       const Judged& judged) {
  Findings found;
  for (const PlaceEvidence& place : page.places) {
    cold(view, place, found);
    hot(view, place, found);
    gaps(view, place, found);
  }
  stuck(view, page.oddities, logged, found);
  schedules(view, judged.schedules, found);
  estimates(view, judged.estimates, found);
  changed(view, logged, judged.changes, found);
  std::vector<plan::Finding> all = found.take();
  plan::apply_acceptances(view.job, all);
  plan::sort_findings(all);
  return all;
}

void add_oddities(const LoggedSeries& series, units::System system, const week::Zone& zone,
                  const Month& month, Evidence& page) {
  const LogColumn column{series.info.name, series.info.name, series.info.quantity, series.info.place, ""};
  for (Oddity& oddity : oddities_of(column, series.samples, system)) {
    if (oddity.to_ms < month.begin_ms || oddity.from_ms >= month.end_ms) continue;
    const std::int64_t shown_ms = std::max(oddity.from_ms, month.begin_ms);
    oddity.series = series.info.name;
    oddity.said =
        fmt::format("{}, {}: {}", series.info.name, week::moment_text(zone, shown_ms / 1000), oddity.said);
    page.oddities.push_back(std::move(oddity));
  }
}

/// What holds for this month.
std::vector<std::string> own_notes(const job::Job& job, const Evidence& page) {
  std::vector<std::string> notes;
  if (std::ranges::any_of(page.places, [&](const PlaceEvidence& p) { return is_outlet(job, p.place); }))
    notes.push_back("At a tap water cools between draws: time below the limit there counts no fault.");
  if (page.places.empty()) notes.push_back("No temperature of a group, run or outlet was logged.");
  return notes;
}

void keep_each_once(std::vector<rules::Citation>& sources) {
  const auto text = [](const rules::Citation& c) { return c.text(); };
  std::ranges::sort(sources, {}, text);
  const auto rest = std::ranges::unique(sources, {}, text);
  sources.erase(rest.begin(), rest.end());
}

}  // namespace

std::vector<std::string> standing_notes() {
  return {
      "These are temperatures where sensors sit. They are no proof that the water is free of bacteria: only "
      "samples, taken and judged as the water management plan says, can show that.",
      "A reading stands for the time to the next one, at most three usual intervals; the rest is missing "
      "time.",
      "Water hot enough to hold bacteria down can scald; safe-outlet valves have to be tested as their maker "
      "says."};
}

Judged judge(const job::Job& job, const plan::Plan& plan, const Logged& logged, const week::Zone& zone,
             int year, int month) {
  const Month span = month_of(zone, year, month);
  Logged inside{span.begin_ms, span.end_ms, {}};
  for (const LoggedSeries& series : logged.series) {
    LoggedSeries some{series.info, {}};
    for (const store::Sample& sample : series.samples)
      if (sample.at_ms >= span.begin_ms && sample.at_ms < span.end_ms) some.samples.push_back(sample);
    if (!some.samples.empty()) inside.series.push_back(std::move(some));
  }
  return {estimate(job, plan, inside), changes(logged, job.units, 0.01, &zone),
          check_schedule(job, plan, inside, zone)};
}

Evidence evidence(const job::Job& job, const plan::Plan&, const Logged& logged, const week::Zone& zone,
                  int year, int month, std::vector<ActionTaken> actions, const Judged& judged) {
  Evidence page;
  page.year = year;
  page.month = month;
  page.zone = zone.name;
  page.actions = std::move(actions);
  const Month span = month_of(zone, year, month);
  page.sources.push_back(rules::growth_band().citation);
  for (const LoggedSeries& series : logged.series) {
    add_oddities(series, job.units, zone, span, page);
    if (series.info.quantity != "temperature") continue;
    const auto limits = limits_of(job, series.info.place, page.sources);
    if (limits) page.places.push_back(place_evidence(series.info, series.samples, span, *limits));
  }
  page.findings = findings_of({job, span}, page, logged, judged);
  for (const plan::Finding& finding : page.findings) page.sources.push_back(finding.citation);
  keep_each_once(page.sources);
  page.notes = standing_notes();
  std::ranges::move(own_notes(job, page), std::back_inserter(page.notes));
  return page;
}

}  // namespace firstdraw::watch
