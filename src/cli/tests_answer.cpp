#include "cli/tests_answer.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/findings_text.hpp"

namespace firstdraw::cli {
namespace {

using prove::Grade;

Style style_of(Grade grade) {
  return grade == Grade::pass ? Style::green : grade == Grade::doubt ? Style::yellow : Style::red;
}

std::string place_of(const prove::Reading& reading) {
  const std::string_view place = prove::help_of(reading.what).place;
  return place == "circuit" ? reading.circuit : place == "group" ? reading.group : reading.run;
}

std::string title_of(const prove::Reading& reading) {
  std::string title = fmt::format("{} · {}", prove::name_of(reading.what), place_of(reading));
  if (reading.stage) title += fmt::format(" · {}", prove::name_of(*reading.stage));
  if (!reading.at.empty()) title += " · " + reading.at;
  return title;
}

std::string counted(const prove::FieldTests& tests) {
  const auto number = [&](Grade grade) {
    return std::ranges::count(tests.verdicts, grade, &prove::Verdict::grade);
  };
  return fmt::format("{} pass, {} doubt, {} fail", number(Grade::pass), number(Grade::doubt),
                     number(Grade::fail));
}

void add_verdict(Page& page, const prove::FieldTests& tests, const prove::Verdict& verdict) {
  const std::string indent(6, ' ');
  page.paragraph(title_of(tests.readings[verdict.reading]), pad_right(prove::name_of(verdict.grade), 6),
                 style_of(verdict.grade));
  page.paragraph(verdict.said, indent);
  if (!verdict.means.empty()) page.paragraph(verdict.means, indent + "means ");
  if (!verdict.suspect.empty()) page.paragraph(verdict.suspect, indent + "suspect: ");
  if (!verdict.to_do.empty()) page.paragraph(verdict.to_do, indent + "→ ");
  for (const std::string& warning : verdict.warnings)
    page.paragraph(warning, indent + "look out: ", Style::yellow);
  if (verdict.grade == Grade::pass) return;
  for (const std::string& because : verdict.expected.because)
    page.paragraph(because, indent + "counted: ", Style::dim);
  for (const rules::Citation& source : verdict.sources)
    page.paragraph(fmt::format("{} ({})", source.text(), source.basis), indent + "see ", Style::dim);
}

void add_verdicts(Page& page, const prove::FieldTests& tests, std::string_view from) {
  page.heading(fmt::format("Readings of {}: {}", from, counted(tests)));
  std::vector<std::string> assumed;
  for (const prove::Verdict& verdict : tests.verdicts) {
    add_verdict(page, tests, verdict);
    for (const std::string& sentence : verdict.assumed)
      if (std::ranges::find(assumed, sentence) == assumed.end()) assumed.push_back(sentence);
  }
  if (assumed.empty()) return;
  page.heading("Assumed");
  for (const std::string& sentence : assumed) page.paragraph(sentence, "- ");
}

/// What still has to be done, or with `all` also what is answered.
void add_due(Page& page, const prove::FieldTests& tests, bool all) {
  TextTable table({{"Stage", ""}, {"Circuit", ""}, {"Test", "", Column::Kind::wrapping_text}, {"State", ""}});
  std::size_t open = 0;
  for (const prove::Due& due : tests.due) {
    if (!due.looked_at && !due.reading) ++open;
    if (!all && (due.looked_at || due.reading)) continue;
    Cell state{"due", Style::yellow};
    if (due.looked_at) state = {"look", Style::dim};
    if (due.grade) state = {std::string(prove::name_of(*due.grade)), style_of(*due.grade)};
    table.add_row({{std::string(prove::name_of(due.stage))}, {due.circuit}, {due.name}, state});
  }
  page.heading(fmt::format("Still due: {}", plural(open, "test", "tests")));
  if (!table.empty()) page.table(table);
}

void add_trends(Page& page, const prove::FieldTests& tests) {
  if (tests.trends.empty()) return;
  page.heading("What moves");
  for (const prove::Trend& trend : tests.trends) {
    page.paragraph(trend.said, "look out: ", Style::yellow);
    page.paragraph(trend.suspect, "      suspect: ");
    page.paragraph(trend.to_do, "      → ");
  }
}

}  // namespace

void add_answer(Page& page, const prove::FieldTests& tests, std::string_view from, bool due_only) {
  if (!due_only && !tests.readings.empty()) add_verdicts(page, tests, from);
  if (!due_only) add_trends(page, tests);
  add_due(page, tests, due_only);
  page.caution(
      "a pass is no permit: local codes, the authority having jurisdiction, licensed practice and the cable "
      "maker's instructions decide. A circuit that fails is not energised; a licensed electrician measures "
      "at "
      "live parts.");
}

}  // namespace firstdraw::cli
