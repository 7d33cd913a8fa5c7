#include <cmath>
#include <nlohmann/json.hpp>

#include "prove/field_tests.hpp"
#include "prove/readings_file.hpp"

namespace firstdraw::prove {
namespace {

using nlohmann::json;

json number(double value) { return std::isfinite(value) ? json(value) : json(); }

json to_json(const rules::Citation& source) {
  return {{"document", source.document},
          {"edition", source.edition},
          {"clause", source.clause},
          {"basis", source.basis}};
}

json to_json(const Expected& expected) {
  return {{"least", number(expected.least)},
          {"most", number(expected.most)},
          {"usual", number(expected.usual)},
          {"because", expected.because}};
}

json to_json(const Verdict& verdict, const json& reading) {
  json sources = json::array();
  for (const rules::Citation& source : verdict.sources) sources.push_back(to_json(source));
  json out = words_json(verdict);
  out.update({{"reading", reading},
              {"expected", to_json(verdict.expected)},
              {"corrected", number(verdict.corrected)},
              {"assumed", verdict.assumed},
              {"sources", std::move(sources)}});
  return out;
}

json to_json(const Due& due) {
  return {{"stage", name_of(due.stage)},
          {"test", due.test},
          {"name", due.name},
          {"circuit", due.circuit},
          {"looked_at", due.looked_at},
          {"reading", due.reading ? json(*due.reading) : json()},
          {"grade", due.grade ? json(name_of(*due.grade)) : json()}};
}

json to_json(const Trend& trend) {
  return {{"what", name_of(trend.what)}, {"circuit", trend.circuit},
          {"readings", trend.readings},  {"change_frac", trend.change_frac},
          {"said", trend.said},          {"suspect", trend.suspect},
          {"to_do", trend.to_do}};
}

}  // namespace

json words_json(const Verdict& verdict) {
  return {{"grade", name_of(verdict.grade)}, {"said", verdict.said},   {"suspect", verdict.suspect},
          {"to_do", verdict.to_do},          {"means", verdict.means}, {"warnings", verdict.warnings}};
}

json to_json(const FieldTests& tests, std::string_view from) {
  const json readings = json::parse(to_body(tests.readings))["readings"];
  json verdicts = json::array(), due = json::array(), trends = json::array();
  for (const Verdict& verdict : tests.verdicts)
    verdicts.push_back(to_json(verdict, readings[verdict.reading]));
  for (const Due& each : tests.due) due.push_back(to_json(each));
  for (const Trend& trend : tests.trends) trends.push_back(to_json(trend));
  return {{"from", from},
          {"verdicts", std::move(verdicts)},
          {"due", std::move(due)},
          {"trends", std::move(trends)},
          {"findings", plan::to_json(tests.findings)}};
}

}  // namespace firstdraw::prove
