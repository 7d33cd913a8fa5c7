// The week: what these settings cost, what was asked of them and what they keep.
#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

#include "paper/forecast_words.hpp"
#include "paper/week_words.hpp"

namespace firstdraw::paper {
namespace {

using draw::at;
using settings::SeasonAnswer;
constexpr std::size_t listed_runs = 12, listed_taps = 10;

Column number(const char* title, const std::string& unit = "") { return {title, unit, Anchor::end}; }

std::string saving_text(const Pack& pack, const char* other) {
  const settings::CostOfYear *week = pack.week->cost("week"), *than = pack.week->cost(other);
  if (!week || !than) return "–";
  const double saving = than->total - week->total;
  if (std::abs(saving) < 0.5) return "nothing";
  if (saving < 0) return yearly(pack, -saving) + " dearer";
  return yearly(pack, saving) + (than->total > 0 ? " (" + percent(saving / than->total) + ")" : "");
}

std::string gap_text(const settings::WeekAnswer& week) {
  if (!(week.model_cost_per_year > 0)) return "–";
  return percent(std::max(0.0, 1 - week.bound_per_year / week.model_cost_per_year), 1);
}

/// Share of draws by which the worst comfort target of any season is missed or passed.
std::string comfort_text(const settings::WeekAnswer& week) {
  const settings::ComfortAnswer* worst = nullptr;
  for (const SeasonAnswer& season : week.seasons)
    for (const settings::ComfortAnswer& each : season.proof.comfort)
      if (std::isfinite(each.reached_frac) &&
          (!worst || each.reached_frac - each.asked_frac < worst->reached_frac - worst->asked_frac))
        worst = &each;
  return worst ? fmt::format("{} of {} asked", percent(worst->reached_frac), percent(worst->asked_frac))
               : "–";
}

void figures(Book& book, const Pack& pack) {
  const settings::CostOfYear* week = pack.week->cost("week");
  key_figures(book, {{"These settings, a year", week ? yearly(pack, week->total) : "–"},
                     {"Saved against always on", saving_text(pack, "always-on")},
                     {"Saved against the week the job describes", saving_text(pack, "as-described")},
                     {"Heating cable, a year", week ? count(week->kwh) + " kWh" : "–"},
                     {"Comfort: the target that is closest to being missed", comfort_text(*pack.week)},
                     {"At most so much dearer than the least possible, by the search’s model",
                      gap_text(*pack.week)}});
}

std::string season_names(const settings::WeekAnswer& week) {
  std::vector<std::string> names;
  for (const SeasonAnswer& each : week.seasons)
    names.push_back(fmt::format("{} ({:.0f} days from {})", each.season.name, each.season.days,
                                day_of_year(each.season.from_month, each.season.from_day)));
  return fmt::format("{}", fmt::join(names, ", "));
}

void basis(Book& book, const Pack& pack) {
  const settings::WeekAnswer& week = *pack.week;
  const forecast::Forecast& lived = week.seasons.front().proof.forecast;
  facts(book,
        {{"Tariff", week.inputs.tariff.name.empty() ? "one price at all hours" : week.inputs.tariff.name},
         {"Priced", fmt::format("the days of {}, {}", week.inputs.year, week.inputs.calendar.zone.name)},
         {"Seasons", season_names(week)},
         {"Proven by", what_was_simulated(lived)},
         {"Draws", where_draws_come_from(pack.job, lived)}});
}

void costs(Book& book, const Pack& pack) {
  heading(book, "What a year costs", 26);
  Table table;
  table.columns = {{"", ""},
                   number("Energy", pack.job.economics.currency),
                   number("Demand", pack.job.economics.currency),
                   number("Total", pack.job.economics.currency),
                   number("Energy", "kWh"),
                   {"Basis", ""}};
  for (const settings::CostOfYear& cost : pack.week->costs)
    table.rows.push_back({Row::Kind::plain,
                          {cost.name, count(cost.energy), count(cost.demand), count(cost.total),
                           count(cost.kwh), cost.basis}});
  flow(book, table);
}

void asked(Book& book, const Pack& pack) {
  if (pack.week->demands.empty()) return;
  heading(book, "What is asked", 20);
  bullets(book, pack.week->demands);
}

void season_row(Table& table, const Pack& pack, const SeasonAnswer& season) {
  if (pack.week->seasons.size() > 1)
    table.rows.push_back({Row::Kind::group, {"Season: " + season.season.name}});
}

void comfort(Book& book, const Pack& pack) {
  Table table;
  table.columns = {{"Fixture", ""},
                   number("Asked"),
                   number("Within"),
                   number("Reached"),
                   number("Buildings that reach it"),
                   number("Draws a day"),
                   {"", ""}};
  for (const SeasonAnswer& season : pack.week->seasons) {
    season_row(table, pack, season);
    for (const settings::ComfortAnswer& each : season.proof.comfort)
      table.rows.push_back(
          {Row::Kind::plain,
           {each.fixture == "*" ? "every other" : each.fixture, percent(each.asked_frac),
            elapsed_text(each.within_s), percent(each.reached_frac), percent(each.members_frac),
            count(each.draws_per_day, 1), each.reached_frac < each.asked_frac ? "! missed" : ""}});
  }
  if (std::ranges::none_of(table.rows, [](const Row& row) { return row.kind == Row::Kind::plain; })) return;
  heading(book, "Comfort reached", 26);
  paragraph(book,
            "Share of the draws that last so long and are hot in time, over all simulated buildings; a dash: "
            "no draw lasted "
            "so long. Buildings: the share of them in which the target is met.",
            small_style);
  flow(book, table);
}

std::vector<const settings::RunProof*> longest_first(const settings::Proof& proof) {
  std::vector<const settings::RunProof*> runs;
  for (const settings::RunProof& run : proof.runs) runs.push_back(&run);
  std::ranges::stable_sort(runs, [](const settings::RunProof* a, const settings::RunProof* b) {
    return std::pair(a->members_held_frac, -a->longest_in_band_s) <
           std::pair(b->members_held_frac, -b->longest_in_band_s);
  });
  return runs;
}

std::string guideline_text(const Pack& pack) {
  const auto guideline = rules::find_guideline(pack.job.requirements.guideline);
  if (!guideline || !std::isfinite(guideline->distributed_c)) return "no guideline temperature is asked";
  return "below " + in_both(pack, guideline->distributed_c, Kind::temperature) + ", " +
         citation_text(guideline->citation);
}

Table hygiene_table(const Pack& pack) {
  constexpr double enough_log = 20;
  Table table;
  table.columns = {{"Run", ""},
                   number("Lowest", pack.show.unit(Kind::temperature)),
                   number("Longest below the guideline", "h"),
                   number("Longest in the growth band", "h"),
                   number("Buildings in which it keeps what is asked"),
                   {"", ""},
                   number("Tenfold reductions", "a week")};
  for (const SeasonAnswer& season : pack.week->seasons) {
    season_row(table, pack, season);
    const auto runs = longest_first(season.proof);
    for (std::size_t each = 0; each < std::min(runs.size(), listed_runs); ++each) {
      const settings::RunProof& run = *runs[each];
      table.rows.push_back(
          {Row::Kind::plain,
           {run_name(pack.job.runs.at(at(run.run))), pack.show.number(run.lowest_c, Kind::temperature),
            count(run.longest_below_s / draw::hour_s, 1), count(run.longest_in_band_s / draw::hour_s, 1),
            percent(run.members_held_frac),
            run.members_held_frac < pack.job.week.confidence_frac ? "! too few" : "",
            run.log_reduction_per_week > enough_log ? "over 20" : count(run.log_reduction_per_week, 1)}});
    }
  }
  return table;
}

void hygiene(Book& book, const Pack& pack) {
  const rules::GrowthBand band = rules::growth_band();
  heading(book, "Hygiene of the heated pipes", 40);
  paragraph(book,
            fmt::format("The runs that keep least come first, at most {} for each season. Below the "
                        "guideline: {}. Growth band: "
                        "{} to {}, {}.",
                        listed_runs, guideline_text(pack), in_both(pack, band.low_c, Kind::temperature),
                        in_both(pack, band.high_c, Kind::temperature), citation_text(band.citation)),
            small_style);
  flow(book, hygiene_table(pack));
  caution(book, "Reductions are of bacteria that drift alone in the water",
          "Published survival in water says nothing of biofilm, sediment and amoebae, which protect "
          "Legionella many times "
          "over. A high figure is no proof of safe water. The untraced pipes to the taps cool between draws "
          "and are not "
          "in this table: flush them, and sample as the water management plan says.");
}

std::string scald_words(const settings::TapScald& tap) {
  constexpr double soon_s = 60;
  if (tap.valve) return "";
  if (std::isfinite(tap.limit_c)) return tap.hottest_c > tap.limit_c ? "! above its limit" : "";
  return tap.second_degree_s < soon_s ? "no limit given: can scald" : "";
}

void scalds(Book& book, const Pack& pack) {
  Table table;
  table.columns = {{"Tap", ""},
                   number("Hottest", pack.show.unit(Kind::temperature)),
                   number("Limit", pack.show.unit(Kind::temperature)),
                   {"Safe-outlet valve", ""},
                   number("Second-degree burn after"),
                   {"", ""}};
  for (const SeasonAnswer& season : pack.week->seasons) {
    if (season.proof.scald.empty()) continue;
    season_row(table, pack, season);
    for (std::size_t each = 0; each < std::min(season.proof.scald.size(), listed_taps); ++each) {
      const settings::TapScald& tap = season.proof.scald[each];
      table.rows.push_back({Row::Kind::plain,
                            {tap.tap, pack.show.number(tap.hottest_c, Kind::temperature),
                             pack.show.number(tap.limit_c, Kind::temperature), tap.valve ? "yes" : "no",
                             elapsed_text(tap.second_degree_s), scald_words(tap)}});
    }
  }
  if (table.rows.empty()) return;
  heading(book, "Scalding: the hottest taps", 30);
  paragraph(
      book,
      fmt::format(
          "Water that came out in any simulated building, at most {} taps for each season; with a "
          "safe-outlet "
          "valve, the water before it. Burn times: adult skin, the shorter of a burn integral and published "
          "times; children and old people burn faster. Measure every tap before hand-over.",
          listed_taps),
      small_style);
  flow(book, table);
}

void none_found(Book& book, const Pack& pack) {
  part(book, "The week");
  paragraph(book,
            "No week of settings keeps everything that is asked, so the settings sheet shows the plan’s own "
            "settings. What "
            "stands against it:");
  bullets(book, pack.week->unmet.empty()
                    ? std::vector<std::string>{"the search was stopped before it found one"}
                    : pack.week->unmet);
}

}  // namespace

void week_summary(Book& book, const Pack& pack) {
  part(book, "The week");
  paragraph(book,
            "The settings that cost least over the year of those that keep what is asked below, found by "
            "search, then "
            "lived through in the full simulation: what that shows stands here, “!” where it misses "
            "something. What to "
            "key in stands under Control settings.");
  if (pack.week->stopped)
    caution(book, "Stopped before the end", "Parts are missing or rest on fewer simulated weeks than asked.");
  basis(book, pack);
  figures(book, pack);
  costs(book, pack);
  asked(book, pack);
  comfort(book, pack);
  caution(
      book, "A simulation of an assumed week is no proof of safe water",
      "People draw otherwise, insulation is fitted otherwise. After keying in, measure at the coldest run "
      "and at every "
      "tap; the building’s water management plan, local codes and the authority having jurisdiction decide.");
  hygiene(book, pack);
  scalds(book, pack);
}

void the_week(Book& book, const Pack& pack) {
  if (!pack.week) return;
  if (!has_week(pack)) return none_found(book, pack);
  week_summary(book, pack);
  week_charts(book, pack);
  week_why_not(book, pack);
  week_improvements(book, pack);
  week_alarms(book, pack);
  week_wrong_settings(book, pack);
}

}  // namespace firstdraw::paper
