// runs.csv, outlets.csv and circuits.csv.
#include <fmt/format.h>

#include <map>

#include "job/csv_reader.hpp"
#include "job/describe.hpp"
#include "job/read_files.hpp"

namespace firstdraw::job {

namespace {

std::optional<tables::CsvText> parse_csv(const Source& source, std::string_view file, Context& context) {
  const auto text = source.text(file, context);
  if (!text) return std::nullopt;
  auto csv = tables::read_csv(*text);
  if (!csv) {
    context.problem({file, csv.error().line, csv.error().column}, "", csv.error().message,
                    "the rest of the file was not read");
    return std::nullopt;
  }
  return std::move(*csv);
}

struct AirCells {
  std::optional<double> low_c, usual_c, high_c;
};

void take_air(CsvReader& reader, const AirCells& cells, Run& run) {
  const int given = cells.low_c.has_value() + cells.usual_c.has_value() + cells.high_c.has_value();
  if (given == 0) return;
  if (given < 3)
    return reader.row_problem("air_usual", "air_low, air_usual and air_high go together", "give all or none");
  run.air = AirTemperatures{*cells.low_c, *cells.usual_c, *cells.high_c};
  if (run.air->low_c > run.air->usual_c) reader.row_problem("air_low", "must not be above air_usual");
  if (run.air->usual_c > run.air->high_c) reader.row_problem("air_high", "must not be below air_usual");
}

/// The runs of known circuits: a run is on one of them.
class RunList {
 public:
  void apply(CsvReader& reader, const std::string& list, KnownCircuit& circuit, Context& context) {
    circuit.runs = split_runs(list);
    if (circuit.runs.empty() && !list.empty()) reader.row_problem("runs", "names no run");
    for (const std::string& run : circuit.runs) {
      need_known(reader, run, context);
      need_fresh(reader, run, circuit.id);
    }
  }

 private:
  static void need_known(CsvReader& reader, const std::string& run, Context& context) {
    if (context.knows(Target::run, run)) return;
    const bool several = run.find_first_of(" ,") != std::string::npos;
    reader.row_problem("runs", fmt::format("there is no run \"{}\"", run),
                       several ? "put semicolons between the runs" : context.nearest_hint(Target::run, run));
  }
  void need_fresh(CsvReader& reader, const std::string& run, const std::string& circuit) {
    const auto [owner, fresh] = circuit_of_run_.try_emplace(run, circuit);
    if (fresh) return;
    if (owner->second == circuit)
      return reader.row_problem("runs", fmt::format("names the run \"{}\" twice", run));
    reader.row_problem("runs", fmt::format("run \"{}\" is on circuit \"{}\" too", run, owner->second),
                       "a run is on one circuit");
  }

  std::map<std::string, std::string> circuit_of_run_;
};

/// A traced run needs a group; with one group there is nothing to choose. An untraced run has none.
class GroupRule {
 public:
  GroupRule(const std::vector<ControlGroup>& groups, bool all_known)
      : groups_(groups), all_known_(all_known) {}

  void apply(CsvReader& reader, Run& run) {
    if (!run.traced && !run.group.empty()) {
      run.group.clear();
      ++dropped_;
    }
    if (!run.traced || !run.group.empty() || !all_known_) return;
    if (groups_.size() != 1)
      return reader.row_problem("group", "a traced run needs a control group", "or say traced = no");
    run.group = groups_.front().id;
    ++given_;
  }
  void report(Context& context) const {
    const auto count = [](int rows) { return fmt::format("({} run{})", rows, rows == 1 ? "" : "s"); };
    if (dropped_ > 0)
      context.assume("runs.group", "none " + count(dropped_), "untraced runs belong to no control group");
    if (given_ > 0)
      context.assume("runs.group", groups_.front().id + " " + count(given_), "the only control group");
  }

 private:
  const std::vector<ControlGroup>& groups_;
  bool all_known_;
  int dropped_ = 0, given_ = 0;
};

/// The use profile that an outlet names. In a job without any [[use]] the names are notes of the survey; with
/// one, a name that leads nowhere is a slip.
class ProfileRule {
 public:
  explicit ProfileRule(const Job& job) : strict_(!job.profiles.empty()) {}

  void apply(CsvReader& reader, const Outlet& outlet, const Context& context) {
    const std::string& name = outlet.profile;
    if (name.empty() || context.knows(Target::profile, name) || contains(known_profiles(), name)) return;
    if (!strict_) {
      ++undefined_[name];
      return;
    }
    auto names = context.names(Target::profile);
    names.insert(names.end(), known_profiles().begin(), known_profiles().end());
    const std::string near = did_you_mean(name, names);
    reader.row_problem("profile", fmt::format("there is no use profile \"{}\"", name),
                       near.empty() ? "add a [[use]] or leave this out" : near);
  }
  void report(Context& context) const {
    for (const auto& [name, rows] : undefined_) {
      context.assume(
          "outlets.profile",
          fmt::format("\"{}\" as usual for the building ({} outlet{})", name, rows, rows == 1 ? "" : "s"),
          "no [[use]] says what the name means");
    }
  }

 private:
  static bool contains(const std::vector<std::string>& names, const std::string& name) {
    return std::ranges::find(names, name) != names.end();
  }

  bool strict_;
  std::map<std::string, int> undefined_;
};

void check_runout(CsvReader& reader, const Outlet& outlet) {
  if (outlet.runout_insulation.empty() == !outlet.runout_thickness_m) return;
  reader.row_problem(outlet.runout_thickness_m ? "runout_insulation" : "runout_thickness",
                     "runout_insulation and runout_thickness go together", "leave both blank for bare pipe");
}

void need_cables(const Job& job, Context& context) {
  const bool traced = std::ranges::any_of(job.runs, &Run::traced);
  if (!traced || !job.cables.empty() || !context.problems.empty()) return;
  context.problem({"catalog", 0, 0}, "", "there is no cable data sheet, but runs are traced",
                  "put one file per cable into catalog/");
}

}  // namespace

void read_runs(const Source& source, Job& job, Context& context) {
  constexpr std::string_view file = "runs.csv";
  const auto csv = parse_csv(source, file, context);
  if (!csv) {
    context.trust(Target::run);
    context.trust(Target::node);
    return;
  }
  AirCells cells;
  KeyLister lister;
  Run sample;
  describe(lister, sample, cells.low_c, cells.usual_c, cells.high_c);
  CsvReader reader(*csv, file, "run", std::move(lister.keys), context);
  GroupRule rule(job.groups, !context.trusts(Target::group));
  job.runs.reserve(csv->rows.size());
  while (reader.next()) {
    Run& run = job.runs.emplace_back();
    cells = {};
    describe(reader, run, cells.low_c, cells.usual_c, cells.high_c);
    run.place = {std::string(file), reader.line()};
    take_air(reader, cells, run);
    rule.apply(reader, run);
  }
  reader.finish();
  rule.report(context);
  if (job.runs.empty()) context.problem({file, 0, 0}, "", "there is no run in it", "one row per pipe run");
  need_cables(job, context);
}

void read_outlets(const Source& source, Job& job, Context& context) {
  constexpr std::string_view file = "outlets.csv";
  const auto csv = parse_csv(source, file, context);
  if (!csv) return;
  KeyLister lister;
  Outlet sample;
  describe(lister, sample);
  CsvReader reader(*csv, file, "outlet", std::move(lister.keys), context);
  job.outlets.reserve(csv->rows.size());
  ProfileRule rule(job);
  while (reader.next()) {
    Outlet& outlet = job.outlets.emplace_back();
    const std::size_t problems_before = context.problems.size();
    describe(reader, outlet);
    outlet.place = {std::string(file), reader.line()};
    if (context.problems.size() == problems_before) check_runout(reader, outlet);
    rule.apply(reader, outlet, context);
  }
  reader.finish();
  rule.report(context);
}

void read_known_circuits(const Source& source, Job& job, Context& context) {
  constexpr std::string_view file = "circuits.csv";
  if (!source.has(file)) return;
  const auto csv = parse_csv(source, file, context);
  if (!csv) return;
  KeyLister lister;
  KnownCircuit sample;
  std::string runs;
  describe(lister, sample, runs);
  CsvReader reader(*csv, file, "circuit", std::move(lister.keys), context);
  RunList rule;
  while (reader.next()) {
    KnownCircuit& circuit = job.known_circuits.emplace_back();
    runs.clear();
    describe(reader, circuit, runs);
    circuit.place = {std::string(file), reader.line()};
    rule.apply(reader, runs, circuit, context);
    if (circuit.fixed && circuit.feed_node.empty())
      reader.row_problem("feed_node", "is missing", "a fixed circuit says where it is fed");
  }
  reader.finish();
}

}  // namespace firstdraw::job
