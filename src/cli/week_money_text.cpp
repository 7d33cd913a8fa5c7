// What the demands cost, and what would make the week cheaper.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/week_sheet.hpp"

namespace firstdraw::cli {
namespace {

using settings::FrontierPoint;
using units::Kind;
constexpr Column::Kind number = Column::Kind::number, prose = Column::Kind::wrapping_text;

void add_prices(Page& page, const WeekSheet& sheet) {
  page.heading("Why not cheaper: what each demand costs");
  if (sheet.week.why_not.empty())
    return page.paragraph("No demand by itself costs more than the search is uncertain by.");
  const std::string currency = sheet.job.economics.currency;
  TextTable table({{"Demand", "", prose},
                   {"With", "", prose},
                   {"The year costs less by", currency, number},
                   {"give or take", currency, number}});
  for (const settings::DemandPrice& price : sheet.week.why_not)
    table.add_row({{price.demand},
                   {price.eased},
                   {sheet.amount(price.saving_per_year)},
                   {sheet.amount(price.uncertain_per_year)}});
  page.paragraph(
      "By the search's model: the cheapest week with this one thing eased, against the one above. What is "
      "asked "
      "for health is shown with its price so that it can be defended, not so that it is dropped.");
  page.table(table);
}

void add_curve(Page& page, const WeekSheet& sheet, const std::vector<FrontierPoint>& curve,
               const std::string& heading, const Column& first, double scale) {
  if (curve.empty()) return;
  const std::string currency = sheet.job.economics.currency;
  TextTable table(
      {first, {"Cost a year", currency, number}, {"No week costs less", currency, number}, {"", ""}});
  for (const FrontierPoint& point : curve)
    table.add_row({{fmt::format("{:.3g}", scale * point.asked)},
                   {point.possible ? sheet.amount(point.cost_per_year) : "no such week"},
                   {point.possible ? sheet.amount(point.bound_per_year) : "–"},
                   {point.chosen ? "asked for" : ""}});
  page.heading(heading);
  page.table(table);
}

void add_sensors(Page& page, const WeekSheet& sheet) {
  if (sheet.week.sensors.empty()) return;
  TextTable table({{"Group", ""},
                   {"Sensor on", ""},
                   {"Set-point", sheet.unit(Kind::temperature), number},
                   {"Cost a year", sheet.job.economics.currency, number},
                   {"Coldest", sheet.unit(Kind::temperature), number},
                   {"Below the guideline", "h on end", number},
                   {"Keeps it", ""},
                   {"", "", prose}});
  for (const settings::SensorChoice& choice : sheet.week.sensors) {
    const std::string note = choice.present && choice.best ? "where it is: the best"
                             : choice.present              ? "where it is"
                             : choice.best                 ? "the best"
                                                           : "";
    table.add_row({{choice.group},
                   {choice.run},
                   sheet.cell(choice.set_point_c, Kind::temperature),
                   {sheet.amount(choice.cost_per_year)},
                   sheet.cell(choice.coldest_c, Kind::temperature),
                   sheet.hours(choice.longest_below_s),
                   {choice.keeps ? "yes" : "no", choice.keeps ? Style::plain : Style::yellow},
                   {note}});
  }
  page.heading("Where the sensor could sit");
  page.paragraph("Compared at one set-point day and night, energy at the mean price, same draws.");
  page.table(table);
}

std::string runs_in_words(const settings::InsulationChange& change) {
  constexpr std::size_t shown = 4;
  std::string text;
  for (std::size_t i = 0; i < std::min(shown, change.runs.size()); ++i)
    text += (i > 0 ? ", " : "") + change.runs[i];
  if (change.runs.size() > shown) text += fmt::format(" and {} more", change.runs.size() - shown);
  return text;
}

void add_insulation(Page& page, const WeekSheet& sheet) {
  if (sheet.week.insulation.empty()) return;
  const std::string currency = sheet.job.economics.currency;
  TextTable table({{"Group", ""},
                   {"Runs", "", prose},
                   {"Pipe", sheet.unit(Kind::length), number},
                   {"From", ""},
                   {"To", ""},
                   {"Costs once", currency, number},
                   {"Saves a year", currency, number},
                   {"Pays back", "years", number},
                   {"Worth", currency, number}});
  for (const settings::InsulationChange& change : sheet.week.insulation)
    table.add_row({{change.group},
                   {runs_in_words(change)},
                   sheet.cell(change.pipe_length_m, Kind::length),
                   {change.from},
                   {change.to},
                   {sheet.amount(change.first_cost)},
                   {sheet.amount(change.saving_per_year)},
                   {week_decimals(change.pays_back_years, 1)},
                   {sheet.amount(change.worth)}});
  page.heading("Thicker insulation that pays");
  page.paragraph(
      fmt::format("In this order: each saves against the thickness before it, with those above it done. "
                  "Worth: savings over {:.3g} years, less the first cost.",
                  sheet.job.economics.life_years));
  page.table(table);
}

}  // namespace

void add_week_why_not(Page& page, const WeekSheet& sheet) {
  if (sheet.week.comfort_curve.empty() && sheet.week.band_curve.empty() && sheet.week.why_not.empty()) return;
  add_prices(page, sheet);
  add_curve(page, sheet, sheet.week.comfort_curve, "Cost against comfort",
            {"Share of the comfort targets", "%", number}, 100);
  add_curve(page, sheet, sheet.week.band_curve,
            "Cost against hours in the growth band, as if no guideline asked for a temperature",
            {"Longest on end", "h", number}, 1);
}

void add_week_improve(Page& page, const WeekSheet& sheet) {
  add_sensors(page, sheet);
  add_insulation(page, sheet);
}

}  // namespace firstdraw::cli
