// Starts from cold, panel by panel: what the breakers see, and one circuit after another.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

#include "paper/chart.hpp"
#include "paper/install.hpp"
#include "paper/start_courses.hpp"

namespace firstdraw::paper {
namespace {

using piping::at;
constexpr std::size_t most_lines = 4, most_charts = 2;
constexpr const char* part_title = "Starts from cold";

bool judged(const power::Circuit& circuit) { return !circuit.start.course.empty(); }

void put(Book& book, const LineChart& chart, double height_mm) {
  book.need(height_mm);
  const Frame& frame = book.frame();
  draw_chart(book, {frame.left_mm, book.y_mm(), frame.right_mm, book.y_mm() + height_mm - 2}, chart);
  book.skip(height_mm);
}

// In seconds or minutes, as exact as a hand on a watch.
std::string span_text(double time_s) {
  if (!std::isfinite(time_s)) return "–";
  if (time_s < 90) return fmt::format("{:.0f} s", time_s);
  if (time_s < 3600) return fmt::format("{:.0f} min", time_s / 60);
  return fmt::format("{:.2g} h", time_s / 3600);
}

std::string clock_text(double time_s) {
  const auto whole = static_cast<int>(std::lround(time_s));
  return whole == 0 ? "at once" : fmt::format("{}:{:02}", whole / 60, whole % 60);
}

// Points that hold only after another load are no area of the plane.
std::vector<ChartPatch> patches_of(const StartChart& chart) {
  std::vector<ChartPatch> patches;
  for (const rules::TripPoint& point : chart.points) {
    if (point.after_s > 0) continue;
    const bool holds = point.promise == rules::TripPromise::hold;
    const std::string name =
        holds ? fmt::format("{:g} ×: holds {}", point.multiple,
                            std::isfinite(point.time_s) ? span_text(point.time_s) : "for good")
              : fmt::format("{:g} ×: trips in {}", point.multiple, span_text(point.time_s));
    if (holds)
      patches.push_back({ChartPatch::Look::good, 0, point.time_s, 0, point.multiple, name});
    else
      patches.push_back({ChartPatch::Look::bad, point.time_s, INFINITY, point.multiple, INFINITY, name});
  }
  return patches;
}

double first_moment_s(const StartChart& chart) {
  double first_s = 1;
  for (const rules::TripPoint& point : chart.points) first_s = std::min(first_s, point.time_s);
  return first_s;
}

ChartLine line_of(const plan::Plan& plan, const AlikeStarts& starts, double first_s, double end_s, int look) {
  constexpr double per_decade = 40;
  const power::Circuit& circuit = plan.circuits[at(starts.drawn)];
  ChartLine line{.name = joined_ids(plan, starts.circuits), .look = look, .width_mm = 0.5};
  for (double time_s = first_s; time_s < end_s; time_s *= std::pow(10, 1 / per_decade))
    line.x.push_back(time_s);
  line.x.push_back(end_s);
  for (const double time_s : line.x)
    line.y.push_back(current_at(circuit.start.course, time_s) / circuit.breaker_a);
  return line;
}

LineChart trip_chart(const Pack& pack, const StartChart& chart) {
  const double first_s = first_moment_s(chart), end_s = std::max(chart.end_s, 6 * 3600.0);
  double highest = 0;
  LineChart drawn{
      .title = "Current over rating, breakers of " + chart.ratings,
      .x = {.title = "after switching on", .scale = Axis::Scale::log_elapsed, .low = first_s, .high = end_s},
      .y = {.title = "times the rating", .low = 0}};
  for (std::size_t each = 0; each < std::min(chart.starts.size(), most_lines); ++each) {
    drawn.lines.push_back(
        line_of(pack.plan, chart.starts[each], first_s, chart.end_s, static_cast<int>(each)));
    highest = std::max(highest, chart.starts[each].worst_multiple);
  }
  drawn.y.high = std::max(2.2, std::ceil(highest * 1.1 * 5) / 5);
  drawn.patches = patches_of(chart);
  return drawn;
}

std::string left_out(const Pack& pack, const StartChart& chart) {
  std::vector<int> others;
  for (std::size_t each = most_lines; each < chart.starts.size(); ++each)
    others.insert(others.end(), chart.starts[each].circuits.begin(), chart.starts[each].circuits.end());
  return others.empty() ? "" : " Not drawn, with lower peaks: " + joined_ids(pack.plan, others) + ".";
}

void trip_charts(Book& book, const Pack& pack, const power::PanelLoad& load) {
  const std::vector<StartChart> charts = start_charts(pack.plan, load.circuits, pack.job.wiring.breaker);
  const std::size_t drawn = std::min(charts.size(), most_charts);
  std::string others;
  for (std::size_t each = 0; each < drawn; ++each) {
    put(book, trip_chart(pack, charts[each]), drawn > 1 ? 52 : 66);
    others += left_out(pack, charts[each]);
  }
  paragraph(
      book,
      fmt::format("Breakers by {}. Pale: held by the standard, if the whole course stays in one such "
                  "rectangle. Hatched: trips, if the course stays there so long. Between them the standard "
                  "promises nothing: only the breaker maker's curve can tell.{}",
                  pack.job.wiring.breaker, others),
      small_style);
}

double last_start_s(const plan::Plan& plan, const power::PanelLoad& load) {
  double last_s = 0;
  for (const int each : load.circuits) last_s = std::max(last_s, plan.circuits[at(each)].start.delay_s);
  return last_s;
}

LineChart panel_chart(const Pack& pack, const power::PanelLoad& load) {
  constexpr double after_s = 1800;
  const job::Panel& panel = pack.job.panels[at(load.panel)];
  LineChart chart{.title = "Fullest phase in the start sequence",
                  .x = {.title = "since the return of power", .scale = Axis::Scale::elapsed, .low = 0},
                  .y = {.title = "Current", .unit = "A", .low = 0}};
  ChartLine line{.name = "in sequence", .look = 0, .width_mm = 0.5, .steps = true};
  line.y = load.line_a;
  for (std::size_t piece = 0; piece < line.y.size(); ++piece)
    line.x.push_back(static_cast<double>(piece) * load.piece_s);
  line.x.push_back(static_cast<double>(line.y.size()) * load.piece_s);
  line.y.push_back(line.y.back());
  chart.x.high = std::min(line.x.back(), last_start_s(pack.plan, load) + after_s);
  chart.lines = {std::move(line)};
  if (load.together_peak_a > 0)
    chart.limits.push_back(
        {load.together_peak_a, fmt::format("all at once {} A", count(load.together_peak_a, 0))});
  if (load.start_limit_a > 0)
    chart.limits.push_back({load.start_limit_a, fmt::format("limit {} A", count(load.start_limit_a, 0))});
  if (panel.main_a > 0 && panel.main_a != load.start_limit_a)
    chart.limits.push_back({panel.main_a, fmt::format("main {} A", count(panel.main_a, 0))});
  return chart;
}

std::string sequence_text(const plan::Plan& plan, const power::PanelLoad& load) {
  std::string text =
      fmt::format("Fullest phase: {} A at most if all start at once", count(load.together_peak_a, 1));
  if (last_start_s(plan, load) <= 0) return text + "; the plan asks for no sequence.";
  text += fmt::format(", {} A in the sequence", count(load.peak_a, 1));
  if (load.start_limit_a > 0) text += fmt::format("; limit {} A", count(load.start_limit_a, 1));
  text += load.proven ? ". No other order of whole steps does better."
                      : fmt::format(". The best order found; none stays below {} A.", count(load.bound_a, 1));
  return text;
}

std::string verdict_text(const power::StartVerdict& start) {
  std::string text(rules::words(start.check.verdict));
  if (start.check.verdict == rules::TripVerdict::must_trip && std::isfinite(start.check.trips_by_s))
    text += ", at the latest after " + span_text(start.check.trips_by_s);
  return start.modelled ? text : text + " (course from the sheet's two currents)";
}

Row start_row(const power::Circuit& circuit) {
  const double worst = circuit.start.check.worst_multiple;
  return {Row::Kind::plain,
          {circuit.id, clock_text(circuit.start.delay_s), breaker_text(circuit),
           count(worst * circuit.breaker_a, 1), count(worst, 2),
           span_text(time_above_s(circuit.start.course, circuit.breaker_a)), count(circuit.settled_a, 1),
           span_text(circuit.start.inrush_over_s), verdict_text(circuit.start)}};
}

Table start_table(const Pack& pack, const power::PanelLoad& load) {
  Table table;
  table.size_pt = 6.8;
  table.pad_y_mm = 0.35;
  table.columns = {{"Circuit", ""},
                   {"Starts after", "min:s", Anchor::end},
                   {"Breaker", ""},
                   {"Peak", "A", Anchor::end},
                   {"Peak over rating", "×", Anchor::end},
                   {"Above rating for", "", Anchor::end},
                   {"After 300 s", "A", Anchor::end},
                   {"Inrush over", "", Anchor::end},
                   {"By the breaker standard", ""}};
  std::vector<int> order = load.circuits;
  std::ranges::stable_sort(order, {}, [&](int each) { return pack.plan.circuits[at(each)].start.delay_s; });
  for (const int each : order)
    if (judged(pack.plan.circuits[at(each)])) table.rows.push_back(start_row(pack.plan.circuits[at(each)]));
  return table;
}

void warnings(Book& book, const Pack& pack, const power::PanelLoad& load) {
  const auto trips = [&](int each) {
    const power::Circuit& circuit = pack.plan.circuits[at(each)];
    return judged(circuit) && circuit.start.check.verdict == rules::TripVerdict::must_trip;
  };
  if (std::ranges::any_of(load.circuits, trips))
    caution(book, "A breaker must trip on a cold start",
            "The table names the circuit. Not to be built as it stands.");
  if (!load.within_limit)
    caution(book, "No sequence keeps this panel within its limit",
            "The peak of the best one is above it: see Findings.");
  if (last_start_s(pack.plan, load) > 0)
    caution(book, "The sequence must run at every return of power",
            fmt::format(
                "Not only on the first day: after every outage and every opened main. Set the delays in "
                "the controllers or in timers, and try it by opening and closing the main. A controller that "
                "closes all its contacts at once draws up to {} A on the fullest phase. Other loads of the "
                "panel come on top.",
                count(load.together_peak_a, 0)));
}

void panel_starts(Book& book, const Pack& pack, const power::PanelLoad& load, bool first) {
  sheet(book, "Starts from cold: " + panel_name(pack.job, load.panel),
        fmt::format(
            "From cable and pipe at {}, at nominal voltage: what a winter day or a long outage leaves. {}",
            pack.show.with_unit(pack.job.requirements.start_c, Kind::temperature),
            sequence_text(pack.plan, load)),
        Book::Way::upright, first ? part_title : "");
  trip_charts(book, pack, load);
  if (!load.line_a.empty() && load.piece_s > 0) put(book, panel_chart(pack, load), 50);
  flow(book, start_table(pack, load));
  warnings(book, pack, load);
}

}  // namespace

void starts_from_cold(Book& book, const Pack& pack) {
  bool first = true;
  for (const power::PanelLoad& load : pack.plan.panels) {
    const bool any =
        std::ranges::any_of(load.circuits, [&](int each) { return judged(pack.plan.circuits[at(each)]); });
    if (load.panel == piping::none || !any) continue;
    panel_starts(book, pack, load, first);
    first = false;
  }
}

}  // namespace firstdraw::paper
