// `firstdraw diagnose`: what may be wrong, from readings, and what to measure next.
#include <fmt/format.h>

#include <algorithm>
#include <memory>
#include <optional>

#include "cli/diagnosis_answer.hpp"
#include "cli/find_circuit.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/question.hpp"
#include "cli/readings_input.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;

const std::vector<Example> examples{
    {"firstdraw diagnose riverside --circuit C01 --current 2.1A", "one current is enough to start"},
    {"firstdraw diagnose riverside --circuit C01 --current 2.1A --pipe 46C --volts 207",
     "with the pipe's temperature and the voltage at the power connection"},
    {"firstdraw diagnose riverside --readings visit.csv --json",
     "every reading of one visit; causes, odds and what to measure next"},
};

/// As typed; empty where nothing was given.
struct DiagnoseCommand {
  std::string folder, readings, circuit, current, pipe, volts;
  std::optional<double> minutes;
  bool all = false;
  prove::DiagnosisOptions options;
};

std::string with_unit(const std::string& text, const char* unit) {
  const bool bare = text.find_first_not_of("0123456789.") == std::string::npos;
  return text + (bare ? unit : "");
}

prove::Reading typed(const DiagnoseCommand& command, Question& question) {
  prove::Reading reading;
  reading.what = prove::What::current;
  reading.value = question.quantity_within("--current", with_unit(command.current, " A"), Kind::current, 0,
                                           1000, "0 to 1000 A");
  if (!command.pipe.empty()) reading.cable_c = question.temperature_c("--pipe", command.pipe);
  if (!command.volts.empty())
    reading.volts = question.quantity_within("--volts", with_unit(command.volts, " V"), Kind::voltage, 0,
                                             1000, "0 to 1000 V");
  reading.minutes = command.minutes;
  return reading;
}

/// Those of one visit, typed or from a file.
std::expected<std::vector<prove::Reading>, ExitCode> readings_for(const DiagnoseCommand& command,
                                                                  const job::Job& job, const plan::Plan& plan,
                                                                  const Context& context) {
  std::vector<prove::Reading> readings;
  if (!command.readings.empty()) {
    auto read = read_readings_or_complain(command.readings, job, plan, context);
    if (!read) return std::unexpected(read.error());
    readings = std::move(*read);
  }
  if (command.current.empty()) return readings;
  Question question;
  prove::Reading reading = typed(command, question);
  if (!question.slips().empty())
    return std::unexpected(context.fail(ExitCode::wrong_command_line, question.slips()));
  const auto circuit = find_circuit(plan, command.circuit, context);
  if (!circuit) return std::unexpected(circuit.error());
  reading.circuit = plan.circuits[piping::at(*circuit)].id;
  readings.push_back(std::move(reading));
  return readings;
}

/// A slip of the command line that the parser cannot see.
std::optional<Diagnostics> missing(const DiagnoseCommand& command) {
  if (command.readings.empty() && command.current.empty())
    return Diagnostics{complaint("", "nothing was measured: --readings FILE, or --circuit and --current")};
  if (!command.current.empty() && command.circuit.empty())
    return Diagnostics{complaint("--circuit", "of which circuit is the current?", "--circuit C01")};
  return std::nullopt;
}

ExitCode run(const DiagnoseCommand& command, const Context& context) {
  if (const auto slips = missing(command)) return context.fail(ExitCode::wrong_command_line, *slips);
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  plan::Options unsampled;
  unsampled.samples = 0;
  const plan::Plan plan = plan::make_plan(*job, unsampled);
  const auto readings = readings_for(command, *job, plan, context);
  if (!readings) return readings.error();
  const prove::Diagnosis diagnosis = prove::diagnose(*job, plan, *readings, command.options);
  if (context.json()) {
    context.print(prove::to_json(*job, diagnosis));
  } else {
    Page page = context.page();
    add_answer(page, diagnosis, command.all);
    context.print(page);
  }
  return ExitCode::ok;
}

}  // namespace

void add_diagnose(Program& program) {
  CLI::App* command = program.add_command(
      "diagnose", "what may be wrong, from any set of readings, and what to measure next", examples);
  const auto diagnose = std::make_shared<DiagnoseCommand>();
  add_job_argument(command, diagnose->folder);
  command
      ->add_option("--readings", diagnose->readings, "CSV file of readings of one visit: docs/field-tests.md")
      ->type_name("FILE");
  command->add_option("--circuit", diagnose->circuit, "the circuit of --current, as plan prints it: C01")
      ->type_name("ID");
  auto* current = command->add_option("--current", diagnose->current, "of the circuit, while it is on: 2.1A");
  current->type_name("AMPERES");
  command->add_option("--pipe", diagnose->pipe, "pipe temperature measured with it: 115F, 46C")
      ->type_name("TEMP")
      ->needs(current);
  command->add_option("--volts", diagnose->volts, "at the power connection, measured with it: 207")
      ->type_name("VOLTS")
      ->needs(current);
  command->add_option("--minutes", diagnose->minutes, "since switching on from cold; settled if not given")
      ->type_name("MIN")
      ->check(CLI::Range(0.0, 1440.0))
      ->needs(current);
  command->add_flag("--all", diagnose->all, "every cause, also those that hardly count");
  command->add_option("--next", diagnose->options.proposals, "how many measurements to propose")
      ->type_name("N")
      ->check(CLI::Range(0, 20));
  command->add_option("--samples", diagnose->options.samples, "of unknowns and tolerances, for each cause")
      ->type_name("N")
      ->check(CLI::Range(50, 100000));
  command->add_option("--seed", diagnose->options.seed, "of the samples")->type_name("N");
  command->add_option("--threads", diagnose->options.threads, "to compute with; the answer is the same")
      ->type_name("N")
      ->check(CLI::Range(1, 256));
  program.when_called(command, [diagnose](Context& context) { return run(*diagnose, context); });
}

}  // namespace firstdraw::cli
