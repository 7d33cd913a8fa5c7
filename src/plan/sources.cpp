#include "plan/sources.hpp"

#include <set>
#include <string>
#include <tuple>

#include "plan/code_minimum.hpp"
#include "rules/rules.hpp"

namespace firstdraw::plan {
namespace {

struct ByText {
  bool operator()(const rules::Citation& a, const rules::Citation& b) const {
    return std::tie(a.document, a.edition, a.clause) < std::tie(b.document, b.edition, b.clause);
  }
};

class Sources {
 public:
  void add(const rules::Citation& citation) {
    if (!citation.document.empty()) all_.insert(citation);
  }
  void add(const std::string& document) { add(rules::Citation{document, "", "", "as the text says"}); }
  std::vector<rules::Citation> take() const { return {all_.begin(), all_.end()}; }

 private:
  std::set<rules::Citation, ByText> all_;
};

void add_codes(const job::Job& job, Sources& sources) {
  const rules::RuleSet set = job.requirements.rules;
  sources.add(rules::continuous_load(set).citation);
  sources.add(rules::ground_fault(set).citation);
  sources.add(rules::label_spacing(set).citation);
  sources.add(rules::voltage_drop(set).citation);
  sources.add(rules::growth_band().citation);
  if (const auto guideline = rules::find_guideline(job.requirements.guideline))
    sources.add(guideline->citation);
}

void add_wiring(const Plan& plan, Sources& sources) {
  for (const auto& circuit : plan.circuits)
    for (const rules::Reason& reason : circuit.wiring.reasons) sources.add(reason.citation);
  for (const auto& panel : plan.panels)
    for (const rules::Reason& reason : panel.supply.reasons) sources.add(reason.citation);
  for (const LoadLine& line : plan.load) sources.add(line.citation);
}

void add_thickness(const job::Job& job, Sources& sources) {
  std::set<std::tuple<std::string, double, double>> asked;
  for (const job::Run& run : job.runs) {
    if (!asked.emplace(run.insulation, run.pipe.outer_diameter_m, run.pipe.wall_m).second) continue;
    const auto insulation = physics::find_insulation(run.insulation);
    if (!insulation) continue;
    const auto least = code_minimum(job.requirements.energy_code, run, *insulation, job.supply.delivered_c);
    if (least) sources.add(least->citation);
  }
}

void add_things(const job::Job& job, const Plan& plan, Sources& sources) {
  std::set<std::string> documents;
  for (std::size_t i = 0; i < job.runs.size(); ++i) {
    documents.insert(job.runs[i].pipe.source);
    documents.insert(plan.runs[i].insulation.source);
    if (plan.runs[i].cable != piping::none)
      documents.insert(job.cables[static_cast<std::size_t>(plan.runs[i].cable)].source);
  }
  std::set<std::string> insulations;
  for (const job::Run& run : job.runs) insulations.insert(run.insulation);
  for (const std::string& id : insulations)
    if (const auto insulation = physics::find_insulation(id)) documents.insert(insulation->source);
  for (const std::string& document : documents) sources.add(document);
}

void add_physics(Sources& sources) {
  sources.add(
      {"ISO 12241", "", "heat loss of insulated pipes, film of horizontal and vertical pipes", "memory"});
  sources.add({"IAPWS R7-97", "2012", "region 1, water", "read"});
}

}  // namespace

std::vector<rules::Citation> sources_of(const job::Job& job, const Plan& plan) {
  Sources sources;
  add_codes(job, sources);
  add_wiring(plan, sources);
  add_thickness(job, sources);
  add_things(job, plan, sources);
  add_physics(sources);
  for (const Finding& finding : plan.findings) sources.add(finding.citation);
  return sources.take();
}

}  // namespace firstdraw::plan
