// The parts of the hand-over pack, in the order of the pack.
#pragma once

#include "forecast/forecast.hpp"
#include "paper/currents.hpp"
#include "paper/field_book.hpp"
#include "paper/flow.hpp"
#include "paper/naming.hpp"
#include "paper/riser_picture.hpp"
#include "paper/table.hpp"
#include "settings/settings.hpp"

namespace firstdraw::paper {

/// What every part reads.
struct Pack {
  const job::Job& job;
  const plan::Plan& plan;
  const RiserDrawing& drawing;
  Show show;
  const forecast::Forecast* forecast = nullptr;  // none: no sheets of the network in time
  std::vector<CurrentGrid> currents{};           // like plan.circuits
  const settings::WeekAnswer* week = nullptr;    // none: settings as the plan alone has them
  const FieldBook* field = nullptr;              // none: blank test sheets
};

void cover(Book& book, const Pack& pack);
void contents(Book& book);
void riser_sheets(Book& book, const Pack& pack);
void run_schedule(Book& book, const Pack& pack);
void circuit_schedule(Book& book, const Pack& pack);
void one_line_diagrams(Book& book, const Pack& pack);
void panel_schedules(Book& book, const Pack& pack);
void load_calculation(Book& book, const Pack& pack);
/// Currents of a cold start and the start sequence, panel by panel; nothing where no start was judged.
void starts_from_cold(Book& book, const Pack& pack);
void bill_of_materials(Book& book, const Pack& pack);
/// One page for each group with a week, the plan's own lines without.
void settings_sheets(Book& book, const Pack& pack);
void week_settings_sheets(Book& book, const Pack& pack);
/// The week: what it costs and keeps, and what else was asked of it; nothing without a week.
void the_week(Book& book, const Pack& pack);
void week_summary(Book& book, const Pack& pack);
void week_charts(Book& book, const Pack& pack);
void week_why_not(Book& book, const Pack& pack);
void week_improvements(Book& book, const Pack& pack);
void week_alarms(Book& book, const Pack& pack);
void week_wrong_settings(Book& book, const Pack& pack);
void design_choices(Book& book, const Pack& pack);
/// The network in time; nothing without a forecast. Below, its sheets one by one.
void first_draw(Book& book, const Pack& pack);
void forecast_summary(Book& book, const Pack& pack);
void forecast_week(Book& book, const Pack& pack);
void forecast_waits(Book& book, const Pack& pack);
void forecast_energy(Book& book, const Pack& pack);
void forecast_openings(Book& book, const Pack& pack);
void forecast_riser_sheets(Book& book, const Pack& pack);
/// Hours a day in the growth band, for the heat map; 24 is the darkest.
RunShades growth_shades(const job::Job& job, const forecast::Forecast& forecast);
void installation_sheets(Book& book, const Pack& pack);
void field_test_sheets(Book& book, const Pack& pack);
/// Results of the tests where there are any, signature blocks always, records and their hash.
void commissioning_summary(Book& book, const Pack& pack);
void recorded(Book& book, const Pack& pack);
void labels(Book& book, const Pack& pack);
void assumptions(Book& book, const Pack& pack);
/// The plan's findings and those of the week that are not among them.
void findings(Book& book, const Pack& pack);
void cautions(Book& book, const Pack& pack);
void sources(Book& book, const Pack& pack);

/// The statement that stands wherever someone might build from the page.
inline constexpr const char* authority_statement =
    "This pack is a calculation and a set of instructions, not a permit. A licensed electrician makes every "
    "electrical "
    "connection, under the codes in force at the site and the cable maker's installation instructions; where "
    "they differ "
    "from this pack, they rule. The authority having jurisdiction decides.";

}  // namespace firstdraw::paper
