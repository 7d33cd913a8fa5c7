#include "cli/week_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "cli/findings_text.hpp"
#include "cli/sections.hpp"
#include "cli/week_sheet.hpp"
#include "rules/rules.hpp"
#include "settings/kept.hpp"

namespace firstdraw::cli {
namespace {

using settings::CostOfYear;
using units::Kind;
constexpr Column::Kind number = Column::Kind::number, prose = Column::Kind::wrapping_text;

/// What the week saves against one other way, in words: less than half a unit of money is the same.
std::string against(const WeekSheet& sheet, const CostOfYear& week, const CostOfYear& other) {
  const double saved = other.total - week.total;
  if (sheet.amount(std::abs(saved)) == sheet.amount(0)) return "the same";
  const std::string share =
      other.total > 0 ? fmt::format(" ({:.0f} %)", 100 * std::abs(saved) / other.total) : std::string();
  return fmt::format("{} {}{}", saved > 0 ? "saves" : "costs", sheet.amount(std::abs(saved)),
                     saved > 0 ? share : " more" + share);
}

/// A cheaper way that leaves pipes colder is no bargain.
std::string runs_kept(const CostOfYear& cost) {
  if (!std::isfinite(cost.runs_kept_frac)) return "–";
  return week_decimals(100 * cost.runs_kept_frac, cost.runs_kept_frac < 1 ? 1 : 0);
}

void add_costs(Page& page, const WeekSheet& sheet) {
  const CostOfYear* week = sheet.week.cost("week");
  if (week == nullptr) return;
  const std::string currency = sheet.job.economics.currency;
  TextTable table({{"Way", "", prose},
                   {"A year", currency, number},
                   {"of it for peaks", currency, number},
                   {"Energy", "kWh", number},
                   {"Runs kept", "%", number},
                   {"The week against it", currency, prose},
                   {"How known", "", prose}});
  for (const CostOfYear& cost : sheet.week.costs)
    table.add_row({{cost.name},
                   {sheet.amount(cost.total)},
                   {sheet.amount(cost.demand)},
                   {week_decimals(cost.kwh, 0)},
                   {runs_kept(cost)},
                   {&cost == week ? "–" : against(sheet, *week, cost)},
                   {cost.basis}});
  page.blank();
  page.table(table);
}

std::string cheapest_in_words(const WeekSheet& sheet) {
  const double cost = sheet.week.model_cost_per_year, bound = sheet.week.bound_per_year;
  return fmt::format(
      "in the search's model, without draws, the week costs {} a year, and no week that keeps what is asked "
      "costs less than {} (gap {:.1f} %)",
      sheet.money(cost), sheet.money(bound), 100 * (cost - bound) / cost);
}

std::string proof_in_words(const WeekSheet& sheet) {
  const settings::SeasonAnswer& first = sheet.week.seasons.front();
  const auto members = static_cast<std::size_t>(std::max(0, first.proof.forecast.members));
  return fmt::format("each season's week lived through by {} within the tolerances",
                     plural(members, "building", "buildings"));
}

/// What the proof of any season does not keep; empty: all is kept, or cannot be told.
std::string not_kept_in_words(const WeekSheet& sheet) {
  std::set<std::string> fixtures, taps;
  std::set<int> runs;
  for (const settings::SeasonAnswer& season : sheet.week.seasons) {
    for (const auto& answer : season.proof.comfort)
      if (!settings::kept(answer).value_or(true)) fixtures.insert(answer.fixture);
    for (const auto& run : season.proof.runs)
      if (!settings::kept(sheet.job, run)) runs.insert(run.run);
    for (const auto& tap : season.proof.scald)
      if (!settings::kept(tap).value_or(true)) taps.insert(tap.tap);
  }
  std::vector<std::string> parts;
  if (!fixtures.empty())
    parts.push_back("hot water in time at " + plural(fixtures.size(), "kind of fixture", "kinds of fixture"));
  if (!runs.empty()) parts.push_back("what is asked of " + plural(runs.size(), "run", "runs"));
  if (!taps.empty()) parts.push_back("the outlet's limit at " + plural(taps.size(), "tap", "taps"));
  return fmt::format("{}", fmt::join(parts, "; "));
}

std::string kept_by(const CostOfYear& week, const CostOfYear& other) {
  return fmt::format("; it keeps what is asked of {} % of the runs, these settings of {} %", runs_kept(other),
                     runs_kept(week));
}

std::vector<std::pair<std::string, std::string>> key_facts(const WeekSheet& sheet) {
  std::vector<std::pair<std::string, std::string>> facts;
  if (const CostOfYear* week = sheet.week.cost("week"); week != nullptr)
    facts.emplace_back("Cost", fmt::format("{} a year, {} kWh, priced for {}", sheet.money(week->total),
                                           week_decimals(week->kwh, 0), sheet.week.inputs.year));
  const CostOfYear* on = sheet.week.cost("always-on");
  const CostOfYear* week = sheet.week.cost("week");
  if (week != nullptr && on != nullptr)
    facts.emplace_back("Against always on",
                       against(sheet, *week, *on) + ", same draws and prices" + kept_by(*week, *on));
  if (!sheet.week.seasons.empty()) facts.emplace_back("Proven by", proof_in_words(sheet));
  if (const std::string missed = not_kept_in_words(sheet); !missed.empty())
    facts.emplace_back("Not kept", missed + " (--show asked): settle it before anything is keyed in");
  if (sheet.week.model_cost_per_year > 0) facts.emplace_back("How cheap", cheapest_in_words(sheet));
  if (sheet.week.stopped)
    facts.emplace_back("Stopped", "before the end: a partial answer, not to be keyed in");
  return facts;
}

void add_hygiene_and_scalding(Page& page, const WeekSheet& sheet) {
  const rules::GrowthBand band = rules::growth_band();
  page.blank();
  page.paragraph(
      fmt::format("Legionella multiplies between {} and {} ({}). Heating off or turned down lets water stand "
                  "there; heat tracing does not disinfect. The responsible person's water management plan "
                  "decides whether this week may be used.",
                  sheet.show(band.low_c, Kind::temperature), sheet.show(band.high_c, Kind::temperature),
                  band.citation.text()),
      "Hygiene: ", Style::yellow);
  const rules::BurnTime& burn = rules::burn_times().back();
  page.paragraph(
      fmt::format(
          "{} water burns adult skin in {} ({}); children and the elderly burn sooner. Hot enough for "
          "hygiene is too hot for skin: outlets for washing need safe-outlet valves.",
          sheet.show(burn.water_c, Kind::temperature), sheet.show(burn.third_degree_s, Kind::duration),
          burn.citation.text()),
      "Scalding: ", Style::yellow);
}

const std::vector<Section<WeekSheet>>& sections() {
  static const std::vector<Section<WeekSheet>> all{
      {"key", true, add_week_key},
      {"settings", true, add_week_settings},
      {"asked", true, add_week_asked},
      {"why-not", true, add_week_why_not},
      {"alarms", true, add_week_alarms},
      {"readings", true, add_week_readings},
      {"wrong", true, add_week_wrong},
      {"improve", true, add_week_improve},
      {"findings", true, [](Page& page, const WeekSheet& sheet) { add_findings(page, sheet.week.findings); }},
      {"assumptions", false,
       [](Page& page, const WeekSheet& sheet) { add_assumptions(page, sheet.week.assumptions); }},
  };
  return all;
}

void add_no_week(Page& page, const WeekSheet& sheet) {
  page.heading("No week keeps what is asked");
  for (const std::string& why : sheet.week.unmet) page.paragraph(why, "  ");
  for (const std::string& demand : sheet.week.demands) page.paragraph(demand, "  asked: ", Style::dim);
  add_findings(page, sheet.week.findings);
}

}  // namespace

Cell WeekSheet::hours(double time_s) const { return {week_decimals(time_s / 3600, 1)}; }

std::string WeekSheet::amount(double money) const {
  const CostOfYear* year = week.cost("week");
  const bool cents = year != nullptr && year->total < 100;
  return week_decimals(money, cents ? 2 : 0);
}

std::string WeekSheet::money(double money) const {
  return fmt::format("{} {}", amount(money), job.economics.currency);
}

std::string WeekSheet::heading(const std::string& what, const std::string& season) const {
  return many_seasons() ? fmt::format("{}: {}", what, season) : what;
}

std::size_t WeekSheet::listed(std::size_t size) const {
  return view.all ? size : std::min(size, static_cast<std::size_t>(std::max(0, view.worst)));
}

std::string week_percent(double frac) {
  return std::isfinite(frac) ? fmt::format("{:.0f}", 100 * frac) : "–";
}

std::string week_signed_percent(double frac) {
  if (!std::isfinite(frac)) return "–";
  const double percent = std::round(100 * frac);
  return percent == 0 ? "0" : fmt::format("{:+.0f}", percent);
}

std::string week_decimals(double value, int places) {
  if (std::isinf(value)) return "never";
  return std::isnan(value) ? "–" : fmt::format("{:.{}f}", value, places);
}

void add_week_key(Page& page, const WeekSheet& sheet) {
  page.heading(sheet.job.site.name.empty() ? "The week" : "The week of " + sheet.job.site.name);
  page.facts(key_facts(sheet));
  add_costs(page, sheet);
}

const std::vector<std::string>& week_sections() {
  static const std::vector<std::string> names = names_of(sections(), false);
  return names;
}

std::vector<std::string> usual_week_sections() { return names_of(sections(), true); }

void add_week_answer(Page& page, const job::Job& job, const settings::WeekAnswer& week,
                     const WeekView& view) {
  const WeekSheet sheet{job, week, view};
  if (week.unmet.empty()) {
    add_sections(page, sections(), sheet, view.sections);
  } else {
    add_no_week(page, sheet);
  }
  add_hygiene_and_scalding(page, sheet);
}

}  // namespace firstdraw::cli
