#include "cli/poll_text.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <chrono>
#include <ctime>

#include "watch/poll_requests.hpp"
#include "watch/register_overlap.hpp"

namespace firstdraw::cli {
namespace {

using nlohmann::json;
using watch::PollRequest;
using watch::RegisterTable;

/// The only four that this program knows: each reads.
int function_of(RegisterTable table) {
  switch (table) {
    case RegisterTable::coil:
      return 1;
    case RegisterTable::discrete:
      return 2;
    case RegisterTable::holding:
      return 3;
    default:
      return 4;
  }
}

std::vector<std::string> series_of(const PollRequest& request) {
  std::vector<std::string> names;
  for (const watch::RegisterValue* value : request.values) names.push_back(value->series);
  return names;
}

/// UTC, to the second.
std::string moment(std::int64_t at_ms) {
  const std::time_t seconds = at_ms / 1000 - (at_ms % 1000 < 0 ? 1 : 0);
  std::tm utc{};
  if (!gmtime_r(&seconds, &utc)) return "?";
  return fmt::format("{:04}-{:02}-{:02}T{:02}:{:02}:{:02}Z", utc.tm_year + 1900, utc.tm_mon + 1, utc.tm_mday,
                     utc.tm_hour, utc.tm_min, utc.tm_sec);
}

std::string shown(const std::string& quantity, double value, units::System system) {
  const auto known = watch::watched_quantities();
  const auto at = std::ranges::find(known, quantity, &watch::WatchedQuantity::name);
  if (quantity == "on") return value == 0 ? "off" : value == 1 ? "on" : fmt::format("{}", value);
  return at == known.end() ? fmt::format("{}", value) : units::show(value, at->kind, system);
}

json counts_json(const watch::PollCounts& counts) {
  return {{"rounds", counts.rounds},     {"skipped", counts.skipped},       {"readings", counts.readings},
          {"failures", counts.failures}, {"reconnects", counts.reconnects}, {"dropped", counts.dropped}};
}

std::vector<const watch::RegisterValue*> values_of(const watch::RegisterMap& map) {
  std::vector<const watch::RegisterValue*> values;
  for (const auto& device : map.devices)
    for (const auto& value : device.values) values.push_back(&value);
  return values;
}

}  // namespace

void add_questions(Page& page, const watch::RegisterMap& map) {
  TextTable table({{"Device", "", Column::Kind::wrapping_text},
                   {"Line", "", Column::Kind::text},
                   {"Unit", "", Column::Kind::number},
                   {"Function", "", Column::Kind::number},
                   {"Table", "", Column::Kind::text},
                   {"From", "", Column::Kind::number},
                   {"Count", "", Column::Kind::number},
                   {"Series", "", Column::Kind::wrapping_text}});
  for (const auto& device : map.devices) {
    for (const auto& request : watch::requests_of(device))
      table.add_row({{device.name},
                     {watch::line_of(device)},
                     {fmt::format("{}", device.unit)},
                     {fmt::format("{}", function_of(request.table))},
                     {std::string(watch::name_of(request.table))},
                     {fmt::format("{}", request.first)},
                     {fmt::format("{}", request.count)},
                     {fmt::format("{}", fmt::join(series_of(request), ", "))}});
  }
  page.facts({{"A round every", units::show(map.every_s, units::Kind::duration, units::System::metric)},
              {"Devices", fmt::format("{}", map.devices.size())}});
  page.blank();
  page.table(table);
  page.blank();
  page.paragraph("Addresses are those on the wire, from 0. Functions 1 to 4 read; there is no other.");
  for (const auto& assumption : map.assumptions)
    page.paragraph(fmt::format("{} = {}: {}", assumption.field, assumption.value, assumption.why),
                   "Assumed: ", Style::dim);
}

json questions_json(const watch::RegisterMap& map) {
  json devices = json::array(), assumptions = json::array();
  for (const auto& device : map.devices) {
    json requests = json::array();
    for (const auto& request : watch::requests_of(device))
      requests.push_back({{"function", function_of(request.table)},
                          {"table", watch::name_of(request.table)},
                          {"first", request.first},
                          {"count", request.count},
                          {"series", series_of(request)}});
    devices.push_back({{"name", device.name},
                       {"line", watch::line_of(device)},
                       {"unit", device.unit},
                       {"timeout_s", device.timeout_s},
                       {"requests", requests}});
  }
  for (const auto& assumption : map.assumptions)
    assumptions.push_back(
        {{"field", assumption.field}, {"value", assumption.value}, {"why", assumption.why}});
  return {{"every_s", map.every_s}, {"devices", devices}, {"assumptions", assumptions}};
}

void add_poll(Page& page, const watch::RegisterMap& map, const PollAnswer& answer, units::System system) {
  TextTable table({{"Series", "", Column::Kind::wrapping_text},
                   {"Latest", "", Column::Kind::number},
                   {"At", "", Column::Kind::text}});
  for (const watch::RegisterValue* value : values_of(map)) {
    const auto at = answer.latest.find(value->series);
    const bool there = at != answer.latest.end();
    table.add_row({{value->series},
                   {there ? shown(value->quantity, at->second.value, system) : "–"},
                   {there ? moment(at->second.at_ms) : "not read"}});
  }
  page.table(table);
  page.blank();
  const auto& counts = answer.counts;
  page.facts({{"Rounds", fmt::format("{}, {} skipped", counts.rounds, counts.skipped)},
              {"Readings", fmt::format("{}", counts.readings)},
              {"Requests that failed", fmt::format("{}", counts.failures)},
              {"Connected again", fmt::format("{}", counts.reconnects)},
              {"Readings lost", fmt::format("{}", counts.dropped)},
              {"Stored in", answer.stored_in.empty() ? "nowhere: --dry-run" : answer.stored_in}});
}

json poll_json(const watch::RegisterMap& map, const PollAnswer& answer) {
  json series = json::array();
  for (const watch::RegisterValue* value : values_of(map)) {
    const auto at = answer.latest.find(value->series);
    const bool there = at != answer.latest.end();
    series.push_back({{"name", value->series},
                      {"quantity", value->quantity},
                      {"place", value->place},
                      {"value_si", there ? json(at->second.value) : json()},
                      {"at", there ? json(moment(at->second.at_ms)) : json()}});
  }
  return {{"counts", counts_json(answer.counts)},
          {"series", series},
          {"stored_in", answer.stored_in.empty() ? json() : json(answer.stored_in)}};
}

std::string line_of(const watch::PollEvent& event) {
  std::string text = moment(event.at_ms) + "  ";
  if (!event.device.empty()) text += event.device + ": ";
  if (!event.series.empty()) text += event.series + ": ";
  return printable(fmt::format("{}{}: {}", text, watch::name_of(event.kind), event.said));
}

}  // namespace firstdraw::cli
