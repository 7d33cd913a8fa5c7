// `firstdraw circuits`: how a job's cable is divided, wired, fed and started; and keeping that division.
#include <fmt/format.h>

#include <algorithm>
#include <memory>

#include "cli/circuits_text.hpp"
#include "cli/find_circuit.hpp"
#include "cli/findings_text.hpp"
#include "cli/job_input.hpp"
#include "cli/program.hpp"
#include "job/folder.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw circuits riverside", "division, connections, wiring, voltages, starts, panels"},
    {"firstdraw circuits riverside C03 --show load",
     "every figure of one circuit and the clause it rests on"},
    {"firstdraw circuits riverside --save",
     "keep this division in circuits.csv: later plans stay close to it and circuits keep their ids"},
};

struct CircuitsCommand {
  std::string folder;
  CircuitsView view;
  bool save = false;
};

job::KnownCircuit known(const job::Job& job, const plan::Plan& plan, const power::Circuit& circuit) {
  job::KnownCircuit made;
  made.id = circuit.id;
  made.feed_node = plan.network.node_ids[piping::at(circuit.feed_node)];
  for (const int run : circuit.runs) made.runs.push_back(job.runs[piping::at(run)].id);
  made.fixed = circuit.fixed;
  if (circuit.fixed) made.breaker_a = circuit.breaker_a;
  const auto before = std::ranges::find(job.known_circuits, circuit.id, &job::KnownCircuit::id);
  if (before != job.known_circuits.end()) made.note = before->note;
  return made;
}

ExitCode save(const job::Job& job, const plan::Plan& plan, const std::string& folder,
              const Context& context) {
  std::vector<job::KnownCircuit> circuits;
  for (const power::Circuit& circuit : plan.circuits) circuits.push_back(known(job, plan, circuit));
  if (const auto done = job::write_known_circuits(circuits, folder); !done)
    return context.fail(ExitCode::cannot_write, done.error());
  if (!context.json())
    context.print(fmt::format("{}/circuits.csv keeps {} circuits\n", folder, circuits.size()));
  return ExitCode::ok;
}

ExitCode run(const CircuitsCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  plan::Options unsampled;
  unsampled.samples = 0;
  const plan::Plan plan = plan::make_plan(*job, unsampled);
  if (!command.view.circuit.empty())
    if (const auto found = find_circuit(plan, command.view.circuit, context); !found) return found.error();
  if (command.save)
    if (const ExitCode done = save(*job, plan, command.folder, context); done != ExitCode::ok) return done;
  if (context.json()) {
    context.print(circuits_json(*job, plan));
  } else {
    Page page = context.page();
    add_circuits(page, *job, plan, command.view);
    page.caution(caution_of_a_design());
    context.print(page);
  }
  return exit_code_for(plan.findings);
}

}  // namespace

void add_circuits(Program& program) {
  CLI::App* command = program.add_command(
      "circuits", "how a job's cable is divided into circuits, wired, fed and started", examples);
  const auto circuits = std::make_shared<CircuitsCommand>();
  add_job_argument(command, circuits->folder);
  command->add_option("CIRCUIT", circuits->view.circuit, "only this one: C01");
  circuits->view.sections = usual_circuit_sections();
  add_choices(command, "--show", circuits->view.sections, "sections to show, with commas between them",
              circuit_sections());
  command->add_flag("--save", circuits->save,
                    "write the division to circuits.csv of the job, for later plans to stay close to");
  program.when_called(command, [circuits](Context& context) { return run(*circuits, context); });
}

}  // namespace firstdraw::cli
