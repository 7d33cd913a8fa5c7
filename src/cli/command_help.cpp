// `firstdraw help [COMMAND]`.
#include <fmt/format.h>

#include <memory>
#include <span>

#include "cli/program.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"firstdraw help", "the commands and the exit codes"},
    {"firstdraw help pack", "one command, with worked examples"},
};

/// `before`: the program and the commands that were found already.
ExitCode show(const CLI::App& app, const std::string& before, std::span<const std::string> words,
              const Context& context) {
  if (words.empty()) {
    // App::help would show the help of the command that was called, which is `help`.
    const std::string name = before.empty() ? app.get_name() : before + " " + app.get_name();
    context.print(app.get_formatter()->make_help(&app, name, CLI::AppFormatMode::Normal));
    return ExitCode::ok;
  }
  std::vector<std::string> names;
  for (const CLI::App* command : commands_of(app)) {
    names.push_back(command->get_name());
    if (command->get_name() == words.front())
      return show(*command, before.empty() ? app.get_name() : before + " " + app.get_name(), words.subspan(1),
                  context);
  }
  const auto near = units::nearest(words.front(), names);
  return context.fail(ExitCode::wrong_command_line, {complaint(words.front(), "there is no such command",
                                                               near ? fmt::format("did you mean {}?", *near)
                                                                    : "firstdraw help lists them")});
}

}  // namespace

void add_help(Program& program) {
  CLI::App* command = program.add_command("help", "the commands, or how one of them works", examples);
  const auto words = std::make_shared<std::vector<std::string>>();
  command->add_option("COMMAND", *words, "all of them if not given");
  const CLI::App* app = &program.app();
  program.when_called(command, [app, words](Context& context) { return show(*app, "", *words, context); });
}

}  // namespace firstdraw::cli
