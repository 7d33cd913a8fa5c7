#include "paper/naming.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

namespace firstdraw::paper {
namespace {

constexpr const char* dash = "–";

template <class T>
std::string named(const std::vector<T>& things, const std::string& id) {
  const auto found = std::ranges::find(things, id, &T::id);
  return found == things.end() || found->name.empty() ? id : found->name;
}

template <class T>
std::string id_and_name(const std::vector<T>& things, int index) {
  if (index < 0 || index >= std::ssize(things)) return dash;
  const T& thing = things[static_cast<std::size_t>(index)];
  return thing.name.empty() || thing.name == thing.id ? thing.id : thing.id + " · " + thing.name;
}

}  // namespace

std::string pipe_name(const physics::Pipe& pipe) {
  return fmt::format("{}{}{} {}", pipe.material, pipe.type.empty() ? "" : " ", pipe.type, pipe.size);
}
std::string run_name(const job::Run& run) { return run.id + ", " + pipe_name(run.pipe); }

std::string outlet_name(const job::Outlet& outlet) {
  std::string name = outlet.count > 1 ? fmt::format("{} × {}", outlet.count, outlet.fixture) : outlet.fixture;
  if (!outlet.room.empty()) name += ", " + outlet.room;
  return name;
}

std::string space_name(const job::Job& job, const std::string& id) { return named(job.spaces, id); }
std::string level_name(const job::Job& job, const std::string& id) { return named(job.levels, id); }
std::string group_name(const job::Job& job, int group) { return id_and_name(job.groups, group); }
std::string panel_name(const job::Job& job, int panel) { return id_and_name(job.panels, panel); }

std::string node_name(const plan::Plan& plan, int node) {
  return node < 0 || node >= std::ssize(plan.network.node_ids)
             ? dash
             : plan.network.node_ids[static_cast<std::size_t>(node)];
}

std::string cable_name(const job::Job& job, int cable) {
  if (cable < 0 || cable >= std::ssize(job.cables)) return dash;
  const physics::CableSheet& sheet = job.cables[static_cast<std::size_t>(cable)];
  return sheet.name.empty() ? sheet.id : sheet.name.substr(0, sheet.name.find(" ("));
}

std::string insulation_name(const std::string& id) {
  const auto found = physics::find_insulation(id);
  return found ? found->name.substr(0, found->name.find(',')) : id;
}

std::string place_name(const plan::Finding& finding) {
  static constexpr std::array<const char*, 9> kinds{"site",  "space",   "run",   "node", "outlet",
                                                    "group", "circuit", "panel", "cable"};
  static_assert(static_cast<int>(plan::Finding::PlaceKind::cable) == 8);
  const std::string kind = kinds[static_cast<std::size_t>(finding.place_kind)];
  return finding.place.empty() ? kind : kind + " " + finding.place;
}

std::string unbroken(std::string text) {
  for (std::size_t at = text.find(' '); at != std::string::npos; at = text.find(' ', at))
    text.replace(at, 1, "\u00A0");
  return text;
}

std::string count(double value, int decimals) {
  if (!std::isfinite(value)) return dash;
  std::string text = fmt::format("{:.{}f}", value, decimals);
  const std::size_t point = std::min(text.find('.'), text.size());
  if (point < 5 + (text.front() == '-' ? 1U : 0U)) return text;
  for (std::size_t at = point; at > 3 && (at - 3 > 1 || text.front() != '-');) text.insert(at -= 3, "\u2009");
  return text;
}

std::string percent(double fraction, int decimals) {
  return std::isfinite(fraction) ? fmt::format("{:.{}f} %", fraction * 100, decimals) : dash;
}

std::string probability(double fraction) {
  if (!std::isfinite(fraction)) return dash;
  if (fraction > 0.999) return "> 99.9 %";
  if (fraction < 0.001) return "< 0.1 %";
  return percent(fraction, 1);
}

std::string money(double value, const std::string& currency) {
  return std::isfinite(value) ? count(value, std::abs(value) < 100 ? 2 : 0) + " " + currency : dash;
}

std::string hours(double duration_s) {
  if (std::isnan(duration_s)) return dash;
  return std::isfinite(duration_s) ? fmt::format("{:.1f} h", duration_s / 3600) : "never";
}

std::string citation_text(const rules::Citation& citation) {
  std::string text = citation.text();
  if (citation.basis == "memory") text += " (from memory, to be confirmed)";
  if (citation.basis == "computed") text += " (computed)";
  return text;
}

}  // namespace firstdraw::paper
