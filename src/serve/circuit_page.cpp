#include "serve/circuit_page.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "paper/field_words.hpp"
#include "paper/naming.hpp"
#include "serve/ask.hpp"
#include "serve/record_json.hpp"
#include "serve/view_json.hpp"

namespace firstdraw::serve {
namespace {

using nlohmann::json;
using piping::at;

void add_once(std::vector<std::string>& list, const std::string& text) {
  if (!text.empty() && std::ranges::find(list, text) == list.end()) list.push_back(text);
}

std::string where(const power::Circuit& circuit, const Looked& looked) {
  const job::Job& job = looked.job();
  std::vector<std::string> levels, spaces;
  for (const int run : circuit.runs) {
    add_once(levels, paper::level_name(job, job.runs[at(run)].level));
    add_once(spaces, paper::space_name(job, job.runs[at(run)].space));
  }
  const job::Panel& panel = job.panels[at(circuit.panel)];
  return fmt::format("{}{}{} · {} · {}", paper::panel_name(job, circuit.panel),
                     panel.location.empty() ? "" : ", ", panel.location, fmt::join(levels, ", "),
                     fmt::join(spaces, ", "));
}

json cautions() {
  return {
      "Before any insulation test: circuit locked out and proved dead; controllers and sensors disconnected; "
      "nobody in reach of the cable. Discharge the cable after each test.",
      "Only a licensed electrician measures at live parts.", "Hot pipe and hot water burn and scald.",
      "A pass is no permit: local codes, the authority having jurisdiction and the cable maker's "
      "instructions decide."};
}

json trends_json(const BookView& book, const power::Circuit& circuit) {
  json list = json::array();
  for (const prove::Trend& trend : book.field.trends)
    if (trend.circuit == circuit.id)
      list.push_back(fmt::format("{} {} {}", trend.said, trend.suspect, trend.to_do));
  return list;
}

}  // namespace

bool is_at(const job::Job& job, const power::Circuit& circuit, const std::string& place) {
  return job.groups[at(circuit.group)].id == place ||
         std::ranges::any_of(circuit.runs, [&](int run) { return job.runs[at(run)].id == place; });
}

json circuit_page(const power::Circuit& circuit, const BookView& book, const Looked& looked) {
  return {{"circuit", json::parse(circuit_json(looked.job(), looked.plan(), circuit, book.tests).text())},
          {"where", where(circuit, looked)},
          {"cautions", cautions()},
          {"asks", asks_json(circuit, book, looked)},
          {"trends", trends_json(book, circuit)}};
}

}  // namespace firstdraw::serve
