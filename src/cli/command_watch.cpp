// `firstdraw watch`: what a building's logs say, and its devices. Each form is a command of its own.
#include "cli/watch_forms.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw watch import riverside --log may.csv",
     "what is in a logger's file, and then into the job's records"},
    {"firstdraw watch report riverside --month 2026-03", "the month that a water management plan asks for"},
};

}  // namespace

void add_watch(Program& program) {
  CLI::App* watch =
      program.add_command("watch", "read a building's logs and devices, and say what they show", examples);
  for (const auto add :
       {add_watch_import, add_watch_report, add_watch_estimate, add_watch_schedule, add_watch_poll})
    add(program, watch);
}

}  // namespace firstdraw::cli
