// The week in charts: each group's days, what a year costs, what each demand costs.
#include <fmt/format.h>

#include <algorithm>

#include "paper/forecast_words.hpp"
#include "paper/week_charts.hpp"

namespace firstdraw::paper {
namespace {

constexpr double footing_mm = 14;

template <class Chart>
void put(Book& book, const Chart& chart, double height_mm) {
  book.need(height_mm);
  const Frame& frame = book.frame();
  draw_chart(book, {frame.left_mm, book.y_mm(), frame.right_mm, book.y_mm() + height_mm - 3}, chart);
  book.skip(height_mm);
}

std::string chart_note(const Pack& pack) {
  return fmt::format(
      "A value every {}; what happens between them is not drawn. The building as planned, one week. The pipe "
      "from the heated "
      "main to the tap is not traced: it cools between draws, whatever the settings.",
      units::show(pack.week->seasons.front().proof.forecast.options.record_every_s, Kind::duration,
                  pack.job.units));
}

void group_page(Book& book, const Pack& pack, int group) {
  sheet(book, "The week: group " + group_name(pack.job, group), chart_note(pack), Book::Way::wide);
  constexpr std::size_t most = 2;  // seasons on a page
  const auto& seasons = pack.week->seasons;
  for (std::size_t each = 0; each < seasons.size(); ++each) {
    if (each > 0 && each % most == 0) book.need(book.room_mm() + 1);
    const std::size_t on_page = std::min(most, seasons.size() - each / most * most);
    const Frame& frame = book.frame();
    const double height_mm = each % most == 0 ? (book.room_mm() - footing_mm) / static_cast<double>(on_page)
                                              : book.room_mm() - footing_mm;
    draw_group_week(book, {frame.left_mm, book.y_mm(), frame.right_mm, book.y_mm() + height_mm - 3}, pack,
                    seasons[each], group);
    book.skip(height_mm);
  }
  paragraph(
      book,
      "Simulated, not measured. Draws: " + where_draws_come_from(pack.job, seasons.front().proof.forecast) +
          ". Lukewarm water lets Legionella multiply and hot water scalds (see Cautions); the water "
          "management plan "
          "and the authority having jurisdiction decide.",
      small_style);
}

}  // namespace

void week_charts(Book& book, const Pack& pack) {
  for (const int group : charted_groups(pack)) group_page(book, pack, group);
}

void week_why_not(Book& book, const Pack& pack) {
  constexpr double curve_mm = 56;
  const settings::WeekAnswer& week = *pack.week;
  sheet(book, "The week: what it costs, and why not less",
        "By the search’s model, which leaves draws out; the costs of a year are simulated.");
  const StackedBarChart costs = cost_chart(pack);
  put(book, costs, bar_chart_height_mm(costs) + 3);
  if (!week.why_not.empty()) {
    heading(book, "Why not cheaper: what each demand costs", 26);
    paragraph(book,
              "The cheapest week searched again with one thing eased and everything else kept. Savings do "
              "not add up. Easing "
              "hygiene is a decision of the person responsible for the water, never of the installer.",
              small_style);
    Table table;
    table.columns = {{"Demand", ""},
                     {"Eased to", ""},
                     {"Saves a year", pack.job.economics.currency, Anchor::end},
                     {"Uncertain by", pack.job.economics.currency, Anchor::end}};
    for (const settings::DemandPrice& each : week.why_not)
      table.rows.push_back({Row::Kind::plain,
                            {each.demand, each.eased, count(each.saving_per_year),
                             each.uncertain_per_year < 0.5 ? "under 1" : count(each.uncertain_per_year)}});
    flow(book, table);
  }
  const auto curve = [&](const LineChart& chart, const std::string& impossible) {
    put(book, chart, curve_mm);
    if (!impossible.empty()) paragraph(book, impossible, small_style);
  };
  if (!week.comfort_curve.empty())
    curve(comfort_frontier_chart(pack), impossible_points(week.comfort_curve, "%", 100));
  if (!week.band_curve.empty()) curve(band_frontier_chart(pack), impossible_points(week.band_curve, "h", 1));
}

}  // namespace firstdraw::paper
