// Charts of the week, for the pages and for the drawings that lie beside them.
#pragma once

#include "paper/chart.hpp"
#include "paper/week_words.hpp"

namespace firstdraw::paper {

/// Groups with a chart of their own: those whose set-point changes; without one the group that uses most.
std::vector<int> charted_groups(const Pack& pack);

/// Mean price of a kWh by step of the season's week.
LineChart price_chart(const Pack& pack, const settings::SeasonAnswer& season);
/// Set-points, sensor, coldest heated pipe and the tap that opens coldest; a record's value where it stands.
LineChart group_week_chart(const Pack& pack, const settings::SeasonAnswer& season, int group);
/// Price over temperatures, one below the other with the same time.
void draw_group_week(Ink& ink, const Frame& frame, const Pack& pack, const settings::SeasonAnswer& season,
                     int group);

LineChart comfort_frontier_chart(const Pack& pack);
LineChart band_frontier_chart(const Pack& pack);
/// "not possible at 1 h"; empty when all points are.
std::string impossible_points(const std::vector<settings::FrontierPoint>& curve, const std::string& unit,
                              double scale);
StackedBarChart cost_chart(const Pack& pack);

}  // namespace firstdraw::paper
