#include "paper/evidence_page.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <set>

#include "paper/chart.hpp"
#include "paper/field_words.hpp"
#include "paper/file_out.hpp"
#include "paper/flow.hpp"
#include "paper/pdf.hpp"
#include "paper/table.hpp"

namespace firstdraw::paper {
namespace {

using watch::Evidence;
using watch::PlaceEvidence;

struct Month {
  const job::Job& job;
  const Evidence& evidence;
  Show show;
};

std::string month_text(const Evidence& evidence) {
  static constexpr std::array<const char*, 12> names{"January",   "February", "March",    "April",
                                                     "May",       "June",     "July",     "August",
                                                     "September", "October",  "November", "December"};
  return fmt::format("{} {}", names.at(static_cast<std::size_t>(evidence.month - 1)), evidence.year);
}

std::string temperature(const Month& month, double c) {
  return std::isfinite(c) ? month.show.number(c, Kind::temperature) : "–";
}

double sum(const Evidence& evidence, double PlaceEvidence::* hours) {
  double all_h = 0;
  for (const PlaceEvidence& place : evidence.places) all_h += place.*hours;
  return all_h;
}

void figures(Book& book, const Month& month) {
  const Evidence& evidence = month.evidence;
  const double logged_h = sum(evidence, &PlaceEvidence::logged_h);
  const double missing_h = sum(evidence, &PlaceEvidence::missing_h);
  const auto share = [](double part, double whole) { return whole > 0 ? percent(part / whole, 1) : "–"; };
  key_figures(
      book,
      {{"Places logged", fmt::format("{}", evidence.places.size())},
       {"Of the month logged", share(logged_h, logged_h + missing_h)},
       {"Of the logged time below the limit", share(sum(evidence, &PlaceEvidence::below_h), logged_h)},
       {"In the growth band", share(sum(evidence, &PlaceEvidence::band_h), logged_h)},
       {"Above the upper limit", share(sum(evidence, &PlaceEvidence::above_h), logged_h)},
       {"Actions recorded", fmt::format("{}", evidence.actions.size())}},
      6);
}

void places(Book& book, const Month& month) {
  const auto number = [](const char* title, const std::string& unit) {
    return Column{title, unit, Anchor::end};
  };
  const std::string unit = month.show.unit(Kind::temperature);
  Table table;
  table.size_pt = 7;
  table.columns = {{"Place", ""},
                   number("At least", unit),
                   number("At most", unit),
                   number("Logged", "h"),
                   number("Missing", "h"),
                   number("Below", "h"),
                   number("Longest below", "h"),
                   number("Growth band", "h"),
                   number("Above", "h"),
                   number("Lowest", unit),
                   number("Mean", unit),
                   number("Highest", unit)};
  for (const PlaceEvidence& place : month.evidence.places)
    table.rows.push_back({Row::Kind::plain,
                          {place.what, temperature(month, place.least_limit_c),
                           temperature(month, place.most_limit_c), count(place.logged_h),
                           count(place.missing_h), count(place.below_h, 1), count(place.longest_below_h, 1),
                           count(place.band_h, 1), count(place.above_h, 1), temperature(month, place.least_c),
                           temperature(month, place.mean_c), temperature(month, place.most_c)}});
  heading(book, "Place by place", 30);
  flow(book, table);
  std::set<std::string> bases;
  for (const PlaceEvidence& place : month.evidence.places)
    if (!place.limit_basis.empty()) bases.insert(place.limit_basis);
  for (const std::string& basis : bases) paragraph(book, "Limit: " + basis, small_style);
}

HeatStrip days(const Month& month) {
  HeatStrip strip;
  strip.title = "Hours below the limit, day by day";
  strip.what = "h a day";
  strip.darkest_at_least = 24;
  std::size_t most = 0;
  for (const PlaceEvidence& place : month.evidence.places) most = std::max(most, place.day_below_h.size());
  for (std::size_t day = 1; day <= most; ++day) strip.columns.push_back(fmt::format("{}", day));
  for (const PlaceEvidence& place : month.evidence.places) {
    strip.rows.push_back(place.what);
    for (std::size_t day = 0; day < most; ++day)
      strip.values.push_back(day < place.day_below_h.size() ? place.day_below_h[day]
                                                            : std::numeric_limits<double>::quiet_NaN());
  }
  return strip;
}

void day_by_day(Book& book, const Month& month) {
  constexpr double head_mm = 22, row_mm = 6;
  const HeatStrip strip = days(month);
  if (strip.rows.empty() || strip.columns.empty()) return;
  const double height_mm = head_mm + row_mm * static_cast<double>(strip.rows.size());
  if (height_mm > book.frame().height_mm() - 20) return;
  book.need(height_mm + 4);
  book.skip(3);
  draw_chart(book, {book.frame().left_mm, book.y_mm(), book.frame().right_mm, book.y_mm() + height_mm},
             strip);
  book.skip(height_mm + 3);
}

void actions(Book& book, const Month& month) {
  heading(book, "What was done", 20);
  Table table;
  table.columns = {{"When", ""}, {"Who", ""}, {"What", ""}, {"Record", "", Anchor::end}};
  for (const watch::ActionTaken& action : month.evidence.actions)
    table.rows.push_back(
        {Row::Kind::plain,
         {moment_text(action.at), action.who, action.text, fmt::format("{}", action.record)}});
  if (table.rows.empty())
    paragraph(book, "No action is recorded for this month.");
  else
    flow(book, table);
}

void open_points(Book& book, const Month& month) {
  if (month.evidence.findings.empty()) return;
  heading(book, "To look into", 20);
  Table table;
  table.size_pt = 7;
  table.columns = {{"Where", ""}, {"What is wrong", ""}, {"What to do", ""}};
  for (const plan::Finding& finding : month.evidence.findings)
    table.rows.push_back({Row::Kind::plain, {place_name(finding), finding.what, finding.todo}});
  flow(book, table);
}

void oddities(Book& book, const Month& month) {
  constexpr std::size_t listed = 8;  // what the usual month has; all are with --json
  if (month.evidence.oddities.empty()) return;
  heading(book, "What is odd about the log", 20);
  std::vector<std::string> lines;
  for (const watch::Oddity& oddity : month.evidence.oddities) {
    if (lines.size() == listed) break;
    lines.push_back(oddity.said);
  }
  if (month.evidence.oddities.size() > listed)
    lines.push_back(fmt::format("and {} more: in the file of firstdraw watch report --json",
                                month.evidence.oddities.size() - listed));
  bullets(book, lines);
}

void set_month(Book& book, const Month& month) {
  part(book, "Water temperatures: " + month_text(month.evidence));
  paragraph(book,
            fmt::format("{}. Local time of {}. A reading stands for the time until the next one, at most "
                        "three usual intervals; the "
                        "rest is missing.",
                        clean_text(month.job.site.name), month.evidence.zone),
            small_style);
  figures(book, month);
  places(book, month);
  day_by_day(book, month);
  open_points(book, month);
  actions(book, month);
  oddities(book, month);
  // What holds for every month stands in the first line and in the caution.
  const std::vector<std::string> standing = watch::standing_notes();
  for (const std::string& note : month.evidence.notes)
    if (std::ranges::find(standing, note) == standing.end()) paragraph(book, note, small_style);
  caution(
      book, "Temperatures, not bacteria",
      "This page shows what sensors logged on pipes. It is no proof that the water is free of Legionella, "
      "nor that an outlet cannot scald: sample, flush and measure outlets as the building’s water "
      "management plan says, test safe-outlet valves as their maker says. The responsible person decides.");
  writing_boxes(book, {"Reviewed by: name, date", "Signature", "Next review"}, 3, 10);
  book.finish();
}

}  // namespace

job::Result<void> write_evidence(const job::Job& job, const Evidence& evidence,
                                 const std::filesystem::path& path) {
  auto type = Typesetter::create();
  if (!type) return std::unexpected(file_trouble(path, type.error(), "install the package fonts-inter"));
  const Month month{job, evidence, Show(job)};
  const Identity identity = identity_of(job, "Water temperatures, " + month_text(evidence));
  auto pdf = pdf_of(identity, [&month](Book& book) { set_month(book, month); }, *type);
  if (!pdf) return std::unexpected(file_trouble(path, "cannot be set: " + pdf.error(), ""));
  return write_file(path, *pdf);
}

}  // namespace firstdraw::paper
