// The monthly page as JSON: schemas/evidence.schema.json.
#include <fmt/format.h>
#include <cmath>

#include "plan/json_number.hpp"
#include "plan/plan.hpp"
#include "rules/rules.hpp"
#include "watch/evidence.hpp"
#include "watch/watch_json.hpp"

namespace firstdraw::watch {
namespace {

using nlohmann::json;
using plan::json_number;

json numbers(const std::vector<double>& values) {
  json all = json::array();
  for (const double value : values) all.push_back(json_number(value));
  return all;
}

json place_json(const PlaceEvidence& place) {
  return {{"series", place.series},
          {"place", place.place},
          {"what", place.what},
          {"logged_h", json_number(place.logged_h)},
          {"missing_h", json_number(place.missing_h)},
          {"below_h", json_number(place.below_h)},
          {"above_h", json_number(place.above_h)},
          {"band_h", json_number(place.band_h)},
          {"longest_below_h", json_number(place.longest_below_h)},
          {"least_c", json_number(place.least_c)},
          {"mean_c", json_number(place.mean_c)},
          {"most_c", json_number(place.most_c)},
          {"least_limit_c", json_number(place.least_limit_c)},
          {"most_limit_c", json_number(place.most_limit_c)},
          {"limit_basis", place.limit_basis},
          {"day_least_c", numbers(place.day_least_c)},
          {"day_below_h", numbers(place.day_below_h)}};
}

json estimated_json(const Estimated& e) {
  return {{"low", json_number(e.low)},
          {"usual", json_number(e.usual)},
          {"high", json_number(e.high)},
          {"known", e.known}};
}

}  // namespace

std::string utc_text(std::int64_t at_ms) {
  const std::chrono::sys_seconds at{std::chrono::seconds{at_ms / 1000}};
  const auto day = std::chrono::floor<std::chrono::days>(at);
  const std::chrono::year_month_day date{day};
  const std::chrono::hh_mm_ss time{at - day};
  return fmt::format("{}-{:02}-{:02}T{:02}:{:02}:{:02}Z", static_cast<int>(date.year()),
                     static_cast<unsigned>(date.month()), static_cast<unsigned>(date.day()),
                     time.hours().count(), time.minutes().count(), time.seconds().count());
}

json to_json(const GroupEstimate& one) {
  return {{"group", one.group},
          {"run", one.run},
          {"conductance_frac", estimated_json(one.conductance_frac)},
          {"air_c", estimated_json(one.air_c)},
          {"cable_frac", estimated_json(one.cable_frac)},
          {"residual_k", json_number(one.residual_k)},
          {"used", one.used},
          {"said", one.said},
          {"warnings", one.warnings}};
}

json to_json(const Change& one) {
  return {{"series", one.series},
          {"at", utc_text(one.at_ms)},
          {"earliest", utc_text(one.earliest_ms)},
          {"latest", utc_text(one.latest_ms)},
          {"before", json_number(one.before)},
          {"after", json_number(one.after)},
          {"false_alarm_prob", json_number(one.false_alarm_prob)},
          {"said", one.said}};
}

json to_json(const ScheduleCheck& one) {
  return {{"group", one.group},
          {"told", one.told},
          {"agrees_frac", one.told ? json_number(one.agrees_frac) : json(nullptr)},
          {"clock_off_s", one.told ? json_number(one.clock_off_s) : json(nullptr)},
          {"weekday_off", one.told ? json_number(one.weekday_off) : json(nullptr)},
          {"said", one.said}};
}

json to_json(const job::Job& job, const Evidence& page) {
  const auto band = rules::growth_band();
  json places = json::array(), oddities = json::array(), actions = json::array(), sources = json::array();
  for (const PlaceEvidence& place : page.places) places.push_back(place_json(place));
  for (const Oddity& oddity : page.oddities)
    oddities.push_back({{"kind", name_of(oddity.kind)},
                        {"series", oddity.series},
                        {"from", utc_text(oddity.from_ms)},
                        {"to", utc_text(oddity.to_ms)},
                        {"count", oddity.count},
                        {"said", oddity.said}});
  for (const ActionTaken& action : page.actions)
    actions.push_back(
        {{"at", action.at}, {"who", action.who}, {"text", action.text}, {"record", action.record}});
  for (const rules::Citation& source : page.sources)
    sources.push_back({{"document", source.document},
                       {"edition", source.edition},
                       {"clause", source.clause},
                       {"basis", source.basis}});
  return {{"site", {{"name", job.site.name}}},
          {"month", fmt::format("{}-{:02}", page.year, page.month)},
          {"zone", page.zone},
          {"guideline", job.requirements.guideline},
          {"band_low_c", json_number(band.low_c)},
          {"band_high_c", json_number(band.high_c)},
          {"places", places},
          {"oddities", oddities},
          {"actions", actions},
          {"findings", plan::to_json(page.findings)},
          {"notes", page.notes},
          {"sources", sources}};
}

}  // namespace firstdraw::watch
