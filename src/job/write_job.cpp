// Writing a job folder: every file is made complete beside its place, then all are moved in.
#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <fstream>

#include "job/describe_week.hpp"
#include "job/folder.hpp"
#include "job/key_lister.hpp"
#include "job/write_files.hpp"
#include "job/writers.hpp"
#include "tables/csv.hpp"

namespace firstdraw::job {

namespace fs = std::filesystem;

namespace {

template <class Body>
std::string toml_section(std::string_view heading, units::System system, Body body) {
  TomlWriter writer(system);
  body(writer);
  return fmt::format("{}\n{}\n", heading, writer.take());
}

std::string override_value(const RuleOverride& by_user, rules::RuleSet set) {
  if (!by_user.value) return {};
  const std::string& unit = rules::circuit_rule(set, by_user.rule).unit;
  return exact_number(*by_user.value) + (unit.empty() ? "" : " " + unit);
}

/// What reading leaves in place of a section that is missing is not written.
std::string week_toml(Job& job) {
  const auto system = job.units;
  std::string out;
  Tariff nothing;
  nothing.seasons = job.tariff.seasons;
  if (job.tariff != nothing)
    out += toml_section("[tariff]", system, [&](auto& w) { describe(w, job.tariff); });
  for (auto& season : job.tariff.seasons)
    out += toml_section("[[season]]", system, [&](auto& w) { describe(w, season); });
  if (job.controller != usual_controller(system))
    out += toml_section("[controller]", system, [&](auto& w) { describe(w, job.controller, system); });
  WeekWishes usual;
  usual.comfort = job.week.comfort;
  if (job.week != usual) out += toml_section("[week]", system, [&](auto& w) { describe(w, job.week); });
  for (auto& target : job.week.comfort)
    out += toml_section("[[comfort]]", system, [&](auto& w) { describe(w, target); });
  return out;
}

// The descriptions take what they visit by reference to be able to read it; writing changes nothing.
std::string job_toml(Job job) {
  UnitsSection units{job.units, job.paper};
  const auto system = job.units;
  const auto set = job.requirements.rules;
  std::string out = toml_section("[site]", system, [&](auto& w) { describe(w, job.site); });
  out += toml_section("[units]", system, [&](auto& w) { describe(w, units); });
  out += toml_section("[rules]", system, [&](auto& w) { describe_rules(w, job.requirements); });
  out += toml_section("[design]", system,
                      [&](auto& w) { describe_design(w, job.requirements, job.design, system); });
  out += toml_section("[wiring]", system, [&](auto& w) { describe(w, job.wiring, set); });
  out += toml_section("[economics]", system, [&](auto& w) { describe(w, job.economics, system); });
  out += toml_section("[supply]", system, [&](auto& w) { describe(w, job.supply, ""); });
  for (auto& level : job.levels)
    out += toml_section("[[level]]", system, [&](auto& w) { describe(w, level); });
  for (auto& space : job.spaces)
    out += toml_section("[[space]]", system, [&](auto& w) { describe(w, space); });
  for (auto& panel : job.panels) {
    out += toml_section("[[panel]]", system, [&](auto& w) { describe(w, panel, system, set); });
  }
  for (auto& group : job.groups)
    out += toml_section("[[group]]", system, [&](auto& w) { describe(w, group); });
  for (auto& period : job.periods)
    out += toml_section("[[period]]", system, [&](auto& w) { describe(w, period); });
  for (auto& use : job.profiles) out += toml_section("[[use]]", system, [&](auto& w) { describe(w, use); });
  for (auto& draws : job.fixture_uses)
    out += toml_section("[[draws]]", system, [&](auto& w) { describe(w, draws); });
  out += week_toml(job);
  for (auto& pin : job.pins)
    out += toml_section(pin.kind == Pin::Kind::together ? "[[together]]" : "[[apart]]", system,
                        [&](auto& w) { describe(w, pin); });
  for (auto& item : job.overrides) {
    std::string value = override_value(item, set);
    out += toml_section("[[override]]", system, [&](auto& w) { describe(w, item, value, set); });
  }
  for (auto& item : job.accepted)
    out += toml_section("[[accept]]", system, [&](auto& w) { describe(w, item); });
  for (auto& item : job.assumptions) {
    out += toml_section("[[assumption]]", system, [&](auto& w) { describe(w, item); });
  }
  return out;
}

std::string header(const KeyLister& lister) {
  std::vector<std::string> names;
  for (const auto& key : lister.keys) names.push_back(key.name);
  return tables::csv_line(names);
}

std::string runs_csv(const Job& job) {
  std::optional<double> low_c, usual_c, high_c;
  KeyLister lister;
  Run sample;
  describe(lister, sample, low_c, usual_c, high_c);
  std::string out = header(lister);
  for (Run run : job.runs) {
    low_c = run.air ? std::optional(run.air->low_c) : std::nullopt;
    usual_c = run.air ? std::optional(run.air->usual_c) : std::nullopt;
    high_c = run.air ? std::optional(run.air->high_c) : std::nullopt;
    CsvWriter writer(job.units);
    describe(writer, run, low_c, usual_c, high_c);
    out += tables::csv_line(writer.take());
  }
  return out;
}

std::string outlets_csv(const Job& job) {
  KeyLister lister;
  Outlet sample;
  describe(lister, sample);
  std::string out = header(lister);
  for (Outlet outlet : job.outlets) {
    CsvWriter writer(job.units);
    describe(writer, outlet);
    out += tables::csv_line(writer.take());
  }
  return out;
}

std::string circuits_csv(const std::vector<KnownCircuit>& circuits) {
  KeyLister lister;
  KnownCircuit sample;
  std::string runs;
  describe(lister, sample, runs);
  std::string out = header(lister);
  for (KnownCircuit circuit : circuits) {
    runs = join_runs(circuit.runs);
    CsvWriter writer(units::System::metric);
    describe(writer, circuit, runs);
    out += tables::csv_line(writer.take());
  }
  return out;
}

/// Files of the folder that the job does not hold would come back when it is read again.
std::vector<Diagnostic> strangers(const Job& job, const fs::path& folder) {
  std::vector<Diagnostic> found;
  std::error_code error;
  for (fs::directory_iterator item(folder / "catalog", error), end; !error && item != end;
       item.increment(error)) {
    const auto file = item->path().filename();
    const auto same_id = [&](const auto& cable) { return cable.id == file.stem().string(); };
    if (file.extension() != ".toml" || std::ranges::any_of(job.cables, same_id)) continue;
    found.push_back({"catalog/" + file.string(), 0, 0, "",
                     "is no sheet of the job that is to be written here",
                     "move it away; nothing was written"});
  }
  const bool listed = fs::exists(folder / "circuits.csv", error);
  if (listed && job.known_circuits.empty())
    found.push_back({"circuits.csv", 0, 0, "", "lists circuits that the job to be written here does not have",
                     "move it away; nothing was written"});
  return found;
}

}  // namespace

std::map<std::string, std::string> job_files(const Job& job) {
  std::map<std::string, std::string> files{
      {"job.toml", job_toml(job)}, {"runs.csv", runs_csv(job)}, {"outlets.csv", outlets_csv(job)}};
  if (!job.known_circuits.empty()) files.emplace("circuits.csv", circuits_csv(job.known_circuits));
  if (!job.tariff.file.empty()) files.emplace(job.tariff.file, job.tariff.text);
  for (auto sheet : job.cables) {
    TomlWriter writer(job.units);
    describe(writer, sheet);
    files.emplace("catalog/" + sheet.id + ".toml", writer.take());
  }
  return files;
}

Result<void> write_known_circuits(const std::vector<KnownCircuit>& circuits, const fs::path& folder) {
  for (const KnownCircuit& circuit : circuits)
    for (const std::string& run : circuit.runs)
      if (run.find(';') != std::string::npos)
        return std::unexpected(std::vector{Diagnostic{
            "circuits.csv", 0, 0, "runs", fmt::format("the run \"{}\" has a semicolon in its id", run),
            "semicolons part the runs of a circuit: rename it; nothing was written"}});
  return write_files({{"circuits.csv", circuits_csv(circuits)}}, folder);
}

Result<void> write_job(const Job& job, const fs::path& folder) {
  if (auto found = strangers(job, folder); !found.empty()) return std::unexpected(std::move(found));
  return write_files(job_files(job), folder);
}

}  // namespace firstdraw::job
