// `firstdraw plan`: the whole design of a job, on the terminal or as JSON.
#include <fmt/format.h>

#include <memory>

#include "cli/findings_text.hpp"
#include "cli/job_input.hpp"
#include "cli/plan_text.hpp"
#include "cli/program.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw plan riverside", "key figures, groups, circuits, the coldest runs, choices and findings"},
    {"firstdraw plan riverside --show runs --all", "every run, in the order of runs.csv"},
    {"firstdraw plan riverside --show materials,settings", "what to buy and what to key in"},
    {"firstdraw plan riverside --json > plan.json", "everything, for another program: runs[], circuits[] …"},
};

struct PlanCommand {
  std::string folder;
  plan::Options options;
  PlanView view;
};

ExitCode run(const PlanCommand& command, const Context& context) {
  const auto job = read_job_or_complain(command.folder, context);
  if (!job) return job.error();
  const plan::Plan plan = plan::make_plan(*job, command.options);
  if (context.json()) {
    context.print(plan::to_json(*job, plan));
  } else {
    Page page = context.page();
    add_plan(page, *job, plan, command.view);
    page.caution(caution_of_a_design());
    context.print(page);
  }
  return exit_code_for(plan.findings);
}

}  // namespace

void add_plan(Program& program) {
  CLI::App* command = program.add_command(
      "plan", "design a job: cable, insulation, circuits, temperatures, findings", examples);
  const auto plan = std::make_shared<PlanCommand>();
  add_job_argument(command, plan->folder);
  plan->view.sections = usual_plan_sections();
  add_choices(command, "--show", plan->view.sections, "sections to show, with commas between them",
              plan_sections());
  command
      ->add_option("--coldest", plan->view.coldest, "how many of the coldest runs to list; 10 if not given")
      ->type_name("N")
      ->check(CLI::Range(0, 1'000'000));
  command->add_flag("--all", plan->view.all, "list every run and every rejected option");
  add_plan_options(command, plan->options);
  program.when_called(command, [plan](Context& context) { return run(*plan, context); });
}

}  // namespace firstdraw::cli
