// `firstdraw help [COMMAND]`.
#include <fmt/format.h>

#include <memory>

#include "cli/program.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw help", "the commands and the exit codes"},
    {"firstdraw help pack", "one command, with worked examples"},
};

ExitCode run(const CLI::App& app, const std::string& name, const Context& context) {
  if (name.empty()) {
    // App::help would show the help of the command that was called, which is this one.
    context.print(app.get_formatter()->make_help(&app, app.get_name(), CLI::AppFormatMode::Normal));
    return ExitCode::ok;
  }
  std::vector<std::string> names;
  for (const CLI::App* command : commands_of(app)) {
    names.push_back(command->get_name());
    if (command->get_name() != name) continue;
    context.print(command->help(app.get_name()));
    return ExitCode::ok;
  }
  const auto near = units::nearest(name, names);
  return context.fail(ExitCode::wrong_command_line, {complaint(name, "there is no such command",
                                                               near ? fmt::format("did you mean {}?", *near)
                                                                    : "firstdraw help lists them")});
}

}  // namespace

void add_help(Program& program) {
  CLI::App* command = program.add_command("help", "the commands, or how one of them works", examples);
  const auto name = std::make_shared<std::string>();
  command->add_option("COMMAND", *name, "all of them if not given");
  const CLI::App* app = &program.app();
  program.when_called(command, [app, name](Context& context) { return run(*app, *name, context); });
}

}  // namespace firstdraw::cli
