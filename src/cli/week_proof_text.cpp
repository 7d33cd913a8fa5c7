// What was asked, and whether the simulation keeps it.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <tuple>

#include "cli/findings_text.hpp"
#include "cli/week_sheet.hpp"
#include "draw/demand.hpp"
#include "settings/kept.hpp"

namespace firstdraw::cli {
namespace {

using settings::RunProof;
using units::Kind;
constexpr Column::Kind number = Column::Kind::number, prose = Column::Kind::wrapping_text;

Cell yes_or_no(std::optional<bool> kept) {
  if (!kept) return {"–"};
  return *kept ? Cell{"yes"} : Cell{"no", Style::yellow};
}

void add_comfort(Page& page, const WeekSheet& sheet, const settings::SeasonAnswer& season) {
  if (season.proof.comfort.empty()) return;
  TextTable table({{"Fixture", "", prose},
                   {"Draws a day", "", number},
                   {"Hot within", "s", number},
                   {"Asked", "%", number},
                   {"Reached", "%", number},
                   {"Buildings that reach it", "%", number},
                   {"Kept", ""}});
  for (const settings::ComfortAnswer& answer : season.proof.comfort)
    table.add_row({{answer.fixture == "*" ? "every other" : answer.fixture},
                   {week_decimals(answer.draws_per_day, 0)},
                   {week_decimals(answer.within_s, 0)},
                   {week_percent(answer.asked_frac)},
                   {week_percent(answer.reached_frac)},
                   {week_percent(answer.members_frac)},
                   yes_or_no(settings::kept(answer))});
  page.heading(sheet.heading("Hot water in time", season.season.name));
  page.table(table);
}

/// What failed first, then the longest below, then the coldest.
std::vector<const RunProof*> worst_first(const WeekSheet& sheet, const settings::Proof& proof) {
  std::vector<const RunProof*> runs;
  for (const RunProof& run : proof.runs) runs.push_back(&run);
  const auto badness = [](const RunProof* run) {
    return std::tuple(run->members_held_frac, -run->longest_below_s, -run->longest_in_band_s, run->lowest_c);
  };
  if (!sheet.view.all) std::ranges::stable_sort(runs, {}, badness);
  runs.resize(sheet.listed(runs.size()));
  return runs;
}

std::string held_in_words(const WeekSheet& sheet, const settings::Proof& proof) {
  const auto held =
      std::ranges::count_if(proof.runs, [&](const RunProof& run) { return settings::kept(sheet.job, run); });
  return fmt::format("{} of {} keep what is asked of them in {} % of the buildings or more", held,
                     plural(proof.runs.size(), "heated run", "heated runs"),
                     week_percent(sheet.job.week.confidence_frac));
}

void add_runs(Page& page, const WeekSheet& sheet, const settings::SeasonAnswer& season) {
  const settings::Proof& proof = season.proof;
  if (proof.runs.empty()) return;
  TextTable table({{"Run", ""},
                   {"Coldest", sheet.unit(Kind::temperature), number},
                   {"Below the guideline", "h on end", number},
                   {"In growth band", "h on end", number},
                   {"Log reduction", "a week", number},
                   {"Held in", "%", number},
                   {"Kept", ""}});
  constexpr double most_log = 20;  // beyond what a measurement can tell
  for (const RunProof* run : worst_first(sheet, proof)) {
    const double log = run->log_reduction_per_week;
    table.add_row({{sheet.job.runs.at(draw::at(run->run)).id},
                   sheet.cell(run->lowest_c, Kind::temperature),
                   sheet.hours(run->longest_below_s),
                   sheet.hours(run->longest_in_band_s),
                   {log > most_log ? "> 20" : week_decimals(log, 1)},
                   {week_percent(run->members_held_frac)},
                   yes_or_no(settings::kept(sheet.job, *run))});
  }
  page.heading(sheet.heading("Water standing in the pipes", season.season.name));
  page.paragraph(held_in_words(sheet, proof) + (sheet.listed(proof.runs.size()) < proof.runs.size()
                                                    ? "; the worst are listed (--all lists every one)."
                                                    : "."));
  page.table(table);
}

void add_scald(Page& page, const WeekSheet& sheet, const settings::SeasonAnswer& season) {
  const std::vector<settings::TapScald>& taps = season.proof.scald;
  if (taps.empty()) return;
  TextTable table({{"Tap", ""},
                   {"Hottest", sheet.unit(Kind::temperature), number},
                   {"Allowed", sheet.unit(Kind::temperature), number},
                   {"Safe-outlet valve", ""},
                   {"Second degree after", "s", number},
                   {"Kept", ""}});
  for (std::size_t i = 0; i < sheet.listed(taps.size()); ++i)
    table.add_row({{taps[i].tap},
                   sheet.cell(taps[i].hottest_c, Kind::temperature),
                   sheet.cell(taps[i].limit_c, Kind::temperature),
                   {taps[i].valve ? "yes" : "no"},
                   {week_decimals(taps[i].second_degree_s, taps[i].second_degree_s < 10 ? 1 : 0)},
                   yes_or_no(settings::kept(taps[i]))});
  page.heading(sheet.heading("Water that could scald", season.season.name));
  page.paragraph(
      "The hottest water that came to each tap in any building, before mixing at the fixture, on adult skin. "
      "A "
      "valve makes it safe only while it works.");
  page.table(table);
}

void add_groups(Page& page, const WeekSheet& sheet, const settings::SeasonAnswer& season) {
  if (season.proof.groups.empty()) return;
  TextTable table({{"Group", ""},
                   {"Energy", "kWh a week", number},
                   {"On", "%", number},
                   {"Switchings a day", "", number},
                   {"Lowest reading", sheet.unit(Kind::temperature), number},
                   {"Highest reading", sheet.unit(Kind::temperature), number}});
  for (const settings::GroupProof& group : season.proof.groups)
    table.add_row({{group.group},
                   {week_decimals(group.kwh_per_week, 1)},
                   {week_percent(group.on_frac)},
                   {week_decimals(group.switchings_per_day, 0)},
                   sheet.cell(group.lowest_reading_c, Kind::temperature),
                   sheet.cell(group.highest_reading_c, Kind::temperature)});
  page.heading(sheet.heading("What the controllers do", season.season.name));
  page.table(table);
}

}  // namespace

void add_week_asked(Page& page, const WeekSheet& sheet) {
  page.heading("What is asked");
  for (const std::string& demand : sheet.week.demands) page.paragraph(demand, "· ");
  for (const settings::SeasonAnswer& season : sheet.week.seasons) {
    add_comfort(page, sheet, season);
    add_runs(page, sheet, season);
    add_scald(page, sheet, season);
    add_groups(page, sheet, season);
  }
}

}  // namespace firstdraw::cli
