#include "plan/check_context.hpp"

#include <fmt/format.h>

#include <limits>

#include "plan/finding_catalogue.hpp"

namespace firstdraw::plan {

namespace {

using enum Finding::PlaceKind;

using piping::at;

template <class Things>
std::unordered_map<std::string_view, int> index_of_ids(const Things& things) {
  std::unordered_map<std::string_view, int> index;
  for (std::size_t i = 0; i < things.size(); ++i) index.emplace(things[i].id, static_cast<int>(i));
  return index;
}

int find_or_none(const std::unordered_map<std::string_view, int>& index, std::string_view id) {
  const auto found = index.find(id);
  return found == index.end() ? piping::none : found->second;
}

}  // namespace

std::string percent(double frac) { return fmt::format("{:.1f} %", 100 * frac); }
std::string amperes(double current_a) { return fmt::format("{:.1f} A", current_a); }
std::string volts(double voltage_v) { return fmt::format("{:.0f} V", voltage_v); }

Subject about_site() { return {site, "", {"job.toml", 0}}; }
Subject about(const job::Run& run) { return {Finding::PlaceKind::run, run.id, run.place}; }
Subject about(const job::Outlet& outlet) { return {Finding::PlaceKind::outlet, outlet.id, outlet.place}; }
Subject about(const job::ControlGroup& group) {
  return {Finding::PlaceKind::group, group.id, {"job.toml", 0}};
}
Subject about(const job::Panel& panel) { return {Finding::PlaceKind::panel, panel.id, {"job.toml", 0}}; }
Subject about(const job::Space& space) { return {Finding::PlaceKind::space, space.id, {"job.toml", 0}}; }
Subject about(const physics::CableSheet& cable) {
  return {Finding::PlaceKind::cable, cable.id, {"catalog/" + cable.id + ".toml", 0}};
}
Subject about(const power::Circuit& circuit, const job::Job& job) {
  return {Finding::PlaceKind::circuit, circuit.id, job.runs[at(circuit.runs.front())].place};
}

rules::Citation common_practice() { return {"Common practice", "", "", "common practice, no source"}; }

void Findings::add(std::string_view id, Subject subject, std::string what, std::string todo,
                   rules::Citation citation) {
  Finding finding;
  finding.id = id;
  finding.severity = catalogue_entry(id).severity;
  finding.place_kind = subject.kind;
  finding.place = std::move(subject.id);
  finding.file = std::move(subject.place.file);
  finding.line = subject.place.line;
  finding.what = std::move(what);
  finding.todo = std::move(todo);
  finding.citation = std::move(citation);
  found_.push_back(std::move(finding));
}

Survey::Survey(const job::Job& described, const piping::Network& piping)
    : job(described), network(piping), show(described.units) {
  const auto groups = index_of_ids(job.groups), panels = index_of_ids(job.panels),
             runs = index_of_ids(job.runs);
  traced_runs.resize(job.groups.size());
  feeding_run.assign(network.node_ids.size(), piping::none);
  for (const auto& group : job.groups) {
    panel_of_group.push_back(find_or_none(panels, group.panel));
    sensor_of_group.push_back(find_or_none(runs, group.sensor_run));
  }
  for (std::size_t r = 0; r < job.runs.size(); ++r) {
    const int group = find_or_none(groups, job.runs[r].group);
    group_of_run.push_back(group);
    if (group != piping::none && job.runs[r].traced) traced_runs[at(group)].push_back(static_cast<int>(r));
  }
  for (const int run : network.order) feeding_run[at(network.to_node[at(run)])] = run;
}

double Survey::supplied_c(int run) const {
  return has_mixing_valve() && tempered(run) ? job.supply.delivered_c : job.supply.stored_c;
}

rules::HygieneGuideline Survey::guideline() const {
  if (auto found = rules::find_guideline(job.requirements.guideline)) return *found;
  constexpr double nothing = std::numeric_limits<double>::quiet_NaN();
  return {job.requirements.guideline, "", nothing, nothing, nothing, {}};
}

Review::Review(const Survey& surveyed, const Plan& planned)
    : survey(surveyed), job(surveyed.job), plan(planned), show(surveyed.show) {
  for (const auto& sheet : job.cables) cables.emplace_back(sheet);
  for (std::size_t r = 0; r < plan.runs.size(); ++r) {
    const RunPlan& run = plan.runs[r];
    const int group = survey.group_of_run[r];
    if (run.cable == piping::none || group == piping::none) continue;
    traced.push_back(
        {static_cast<int>(r), job.runs[r], run, job.groups[at(group)], job.cables[at(run.cable)]});
  }
}

}  // namespace firstdraw::plan
