#include "cli/tests_answer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cli/findings_text.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::cli {
namespace {

using nlohmann::json;
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

std::string counted(const TestsAnswer& answer) {
  const auto number = [&](Grade grade) {
    return std::ranges::count(answer.verdicts, grade, &prove::Verdict::grade);
  };
  return fmt::format("{} pass, {} doubt, {} fail", number(Grade::pass), number(Grade::doubt),
                     number(Grade::fail));
}

void add_verdict(Page& page, const TestsAnswer& answer, const prove::Verdict& verdict) {
  const std::string indent(6, ' ');
  page.paragraph(title_of(answer.readings[verdict.reading]), pad_right(prove::name_of(verdict.grade), 6),
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

void add_verdicts(Page& page, const TestsAnswer& answer) {
  page.heading(fmt::format("Readings of {}: {}", answer.from, counted(answer)));
  std::vector<std::string> assumed;
  for (const prove::Verdict& verdict : answer.verdicts) {
    add_verdict(page, answer, verdict);
    for (const std::string& sentence : verdict.assumed)
      if (std::ranges::find(assumed, sentence) == assumed.end()) assumed.push_back(sentence);
  }
  if (assumed.empty()) return;
  page.heading("Assumed");
  for (const std::string& sentence : assumed) page.paragraph(sentence, "- ");
}

/// What still has to be done, or with `all` also what is answered.
void add_due(Page& page, const TestsAnswer& answer, bool all) {
  TextTable table({{"Stage", ""}, {"Circuit", ""}, {"Test", "", Column::Kind::wrapping_text}, {"State", ""}});
  std::size_t open = 0;
  for (const prove::Due& due : answer.due) {
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

void add_trends(Page& page, const TestsAnswer& answer) {
  if (answer.trends.empty()) return;
  page.heading("What moves");
  for (const prove::Trend& trend : answer.trends) {
    page.paragraph(trend.said, "look out: ", Style::yellow);
    page.paragraph(trend.suspect, "      suspect: ");
    page.paragraph(trend.to_do, "      → ");
  }
}

json number(double value) { return std::isfinite(value) ? json(value) : json(); }

json to_json(const rules::Citation& source) {
  return {{"document", source.document},
          {"edition", source.edition},
          {"clause", source.clause},
          {"basis", source.basis}};
}

json to_json(const prove::Verdict& verdict, const json& reading) {
  json sources = json::array();
  for (const rules::Citation& source : verdict.sources) sources.push_back(to_json(source));
  return {{"reading", reading},
          {"grade", prove::name_of(verdict.grade)},
          {"expected",
           {{"least", number(verdict.expected.least)},
            {"most", number(verdict.expected.most)},
            {"usual", number(verdict.expected.usual)},
            {"because", verdict.expected.because}}},
          {"corrected", number(verdict.corrected)},
          {"said", verdict.said},
          {"suspect", verdict.suspect},
          {"to_do", verdict.to_do},
          {"means", verdict.means},
          {"assumed", verdict.assumed},
          {"warnings", verdict.warnings},
          {"sources", std::move(sources)}};
}

json to_json(const prove::Due& due) {
  return {{"stage", prove::name_of(due.stage)},
          {"test", due.test},
          {"name", due.name},
          {"circuit", due.circuit},
          {"looked_at", due.looked_at},
          {"reading", due.reading ? json(*due.reading) : json()},
          {"grade", due.grade ? json(prove::name_of(*due.grade)) : json()}};
}

json to_json(const prove::Trend& trend) {
  return {{"what", prove::name_of(trend.what)},
          {"circuit", trend.circuit},
          {"readings", trend.readings},
          {"change_frac", trend.change_frac},
          {"said", trend.said},
          {"suspect", trend.suspect},
          {"to_do", trend.to_do}};
}

}  // namespace

TestsAnswer tests_answer(const job::Job& job, const plan::Plan& plan, std::vector<prove::Reading> readings) {
  TestsAnswer answer;
  answer.readings = std::move(readings);
  answer.verdicts = prove::judge(job, plan, answer.readings);
  answer.due = prove::due_tests(job, plan, answer.readings, answer.verdicts);
  answer.trends = prove::trends(job, plan, answer.readings, answer.verdicts);
  answer.findings = prove::findings(job, answer.readings, answer.verdicts, answer.trends);
  return answer;
}

void add_answer(Page& page, const job::Job&, const TestsAnswer& answer, bool due_only) {
  if (!due_only && !answer.readings.empty()) add_verdicts(page, answer);
  if (!due_only) add_trends(page, answer);
  add_due(page, answer, due_only);
  page.caution(
      "a pass is no permit: local codes, the authority having jurisdiction, licensed practice and the cable "
      "maker's instructions decide. A circuit that fails is not energised; a licensed electrician measures "
      "at "
      "live parts.");
}

nlohmann::json to_json(const TestsAnswer& answer) {
  const json readings = json::parse(prove::to_body(answer.readings))["readings"];
  json verdicts = json::array(), due = json::array(), trends = json::array();
  for (const prove::Verdict& verdict : answer.verdicts)
    verdicts.push_back(to_json(verdict, readings[verdict.reading]));
  for (const prove::Due& each : answer.due) due.push_back(to_json(each));
  for (const prove::Trend& trend : answer.trends) trends.push_back(to_json(trend));
  return {{"from", answer.from},
          {"verdicts", std::move(verdicts)},
          {"due", std::move(due)},
          {"trends", std::move(trends)},
          {"findings", plan::to_json(answer.findings)}};
}

bool has_failed(const TestsAnswer& answer) {
  return std::ranges::any_of(answer.findings, [](const plan::Finding& finding) {
    return !finding.accepted && finding.id.starts_with("test-") && finding.id != "test-doubt";
  });
}

}  // namespace firstdraw::cli
