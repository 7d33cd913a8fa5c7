// `firstdraw expect`: what a clamp meter should show on a circuit of a job.
#include <fmt/format.h>

#include <memory>
#include <optional>

#include "cli/expect_answer.hpp"
#include "cli/find_circuit.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "cli/question.hpp"
#include "plan/expect_json.hpp"

namespace firstdraw::cli {
namespace {

using units::Kind;

const std::vector<Example> examples{
    {"firstdraw expect riverside C01", "at the maintain temperature, and a table for other readings"},
    {"firstdraw expect riverside C01 --pipe 46C --volts 207", "at what was measured on site"},
    {"firstdraw expect riverside C01 --pipe 12C --volts 207 --minutes 20 --json",
     "20 minutes after switching on with the pipe at 12 °C: current_a, least_a, most_a"},
};

/// As typed; empty where nothing was given.
struct ExpectCommand {
  std::string folder, circuit, pipe, volts;
  std::optional<double> minutes;
};

plan::SiteReading read(const ExpectCommand& command, Question& question) {
  plan::SiteReading reading;
  if (!command.pipe.empty()) reading.pipe_c = question.temperature_c("--pipe", command.pipe);
  if (!command.volts.empty()) {
    // Nobody measures anything but volts here.
    const bool bare = command.volts.find_first_not_of("0123456789.") == std::string::npos;
    reading.volts = question.quantity_within("--volts", command.volts + (bare ? " V" : ""), Kind::voltage, 1,
                                             1000, "1 to 1000 V");
  }
  reading.minutes = command.minutes;
  return reading;
}

ExitCode run(const ExpectCommand& command, const Context& context) {
  Question question;
  const plan::SiteReading reading = read(command, question);
  if (!question.slips().empty()) return context.fail(ExitCode::wrong_command_line, question.slips());
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  plan::Options unsampled;
  unsampled.samples = 0;
  const plan::Plan plan = plan::make_plan(*job, unsampled);
  const auto circuit = find_circuit(plan, command.circuit, context);
  if (!circuit) return circuit.error();
  ExpectAnswer answer{plan::expect_current(*job, plan, *circuit, reading), {}};
  if (!reading.pipe_c && !reading.volts && !reading.minutes)
    answer.table = plan::expected_table(*job, plan, *circuit);
  if (context.json()) {
    context.print(plan::to_json(*job, plan, answer.expectation, answer.table));
  } else {
    Page page = context.page();
    add_answer(page, *job, plan, answer);
    context.print(page);
  }
  return answer.expectation.now.covered ? ExitCode::ok : ExitCode::stop_finding;
}

}  // namespace

void add_expect(Program& program) {
  CLI::App* command =
      program.add_command("expect", "what a clamp meter should show on a circuit of a job", examples);
  const auto expect = std::make_shared<ExpectCommand>();
  add_job_argument(command, expect->folder);
  command->add_option("CIRCUIT", expect->circuit, "its id, as plan prints it: C01")->required();
  command
      ->add_option("--pipe", expect->pipe,
                   "measured on the pipe, at switching on with --minutes: 115F, 46C; the maintain "
                   "temperature if not given")
      ->type_name("TEMP");
  command
      ->add_option(
          "--volts", expect->volts,
          "measured at the power connection: 207; the panel's nominal voltage less what the plan loses "
          "in the wiring if not given")
      ->type_name("VOLTS");
  command
      ->add_option("--minutes", expect->minutes,
                   "since switching on with the pipe at --pipe; the settled current if not given")
      ->type_name("MIN")
      ->check(CLI::Range(0.0, 1440.0));
  program.when_called(command, [expect](Context& context) { return run(*expect, context); });
}

}  // namespace firstdraw::cli
