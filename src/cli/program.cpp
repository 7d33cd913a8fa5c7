#include "cli/program.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <memory>

#include "cli/help.hpp"

namespace firstdraw::cli {
namespace {

void add_common_options(CLI::App* command, CommonOptions& common) {
  const std::string group = common_options_heading;
  command->add_flag("--json", common.json, "the result as JSON, with the units in the keys; errors too")
      ->group(group);
  add_choice(command, "--units", common.units, "units to show", {"us", "metric"})->group(group);
  add_choice(command, "--color", common.colour, "colour", {"auto", "always", "never"})->group(group);
  command->set_help_flag("-h,--help", "this help")->group(group);
}

std::string wrong_choice(const std::string& given, const std::vector<std::string>& choices) {
  const auto near = units::nearest(given, choices);
  return fmt::format("\"{}\" is not one of {}{}", given, fmt::join(choices, ", "),
                     near ? fmt::format(" (did you mean {}?)", *near) : "");
}

CLI::Validator one_of(const std::vector<std::string>& choices) {
  const auto validate = [choices](const std::string& given) {
    return std::ranges::find(choices, given) == choices.end() ? wrong_choice(given, choices) : std::string();
  };
  return {validate, fmt::format("{{{}}}", fmt::join(choices, ","))};
}

}  // namespace

Program::Program(int help_width, bool colour)
    : app_("from a building's hot-water piping to its heating-cable design and hand-over pack", "firstdraw") {
  app_.formatter(std::make_shared<HelpFormatter>(help_width, colour));
  app_.require_subcommand(0, 1);  // one at most, so that a job folder may be called "plan"
  app_.option_defaults()->group("Options");
  add_common_options(&app_, common_);
  app_.footer(
      "firstdraw new my-job\n"
      "start a job folder with a commented template\n"
      "firstdraw check my-job && firstdraw plan my-job\n"
      "read it, say what is wrong, then design it\n"
      "firstdraw pack my-job -o my-job-pack\n"
      "write the hand-over pack\n"
      "firstdraw help loss\n"
      "how one command works");
}

CLI::App* Program::add_command(const std::string& name, const std::string& what,
                               const std::vector<Example>& examples) {
  return add_command(&app_, name, what, examples);
}

CLI::App* Program::add_command(CLI::App* within, const std::string& name, const std::string& what,
                               const std::vector<Example>& examples) {
  CLI::App* command = within->add_subcommand(name, what);
  std::string footer;
  for (const Example& example : examples) footer += fmt::format("{}\n{}\n", example.command, example.what);
  command->footer(footer);
  add_common_options(command, common_);
  return command;
}

void Program::when_called(CLI::App* command, Action action) {
  command->callback([this, chosen = std::move(action)] { action_ = chosen; });
}

std::vector<std::string> choices_of(const CLI::Option& option) {
  const std::string type = option.get_type_name();
  const std::size_t open = type.find('{'), close = type.rfind('}');
  if (open == std::string::npos || close == std::string::npos) return {};
  return CLI::detail::split(type.substr(open + 1, close - open - 1), ',');
}

CLI::Option* add_choice(CLI::App* command, const std::string& names, std::string& variable,
                        const std::string& what, const std::vector<std::string>& choices) {
  return command->add_option(names, variable, what)->type_name("WORD")->check(one_of(choices));
}

CLI::Option* add_choices(CLI::App* command, const std::string& names, std::vector<std::string>& variable,
                         const std::string& what, const std::vector<std::string>& choices) {
  return command->add_option(names, variable, what)
      ->type_name("WORDS")
      ->delimiter(',')
      ->allow_extra_args(false)
      ->check(one_of(choices));
}

std::vector<const CLI::App*> commands_of(const CLI::App& app) {
  return app.get_subcommands([](const CLI::App*) { return true; });
}

std::string full_name(const CLI::App& command) {
  const CLI::App* parent = command.get_parent();
  if (parent == nullptr) return {};
  const std::string before = full_name(*parent);
  return before.empty() ? command.get_name() : before + " " + command.get_name();
}

}  // namespace firstdraw::cli
