#include "cli/help.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <sstream>

#include "cli/exit_codes.hpp"
#include "cli/page.hpp"
#include "cli/program.hpp"

namespace firstdraw::cli {
namespace {

using Facts = std::vector<std::pair<std::string, std::string>>;

/// "PIPE" of "PIPE:{a,b}"; empty for a flag.
std::string value_name(const CLI::Option& option) {
  const std::string type = option.get_type_name();
  return option.get_items_expected_max() == 0 ? std::string() : type.substr(0, type.find(':'));
}

std::string usage_word(const CLI::Option& option) {
  if (option.get_positional()) {
    const std::string name = option.get_name(true);
    return option.get_required() ? name : "[" + name + "]";
  }
  return "--" + option.get_lnames().front() + " " + value_name(option);
}

std::string usage(const CLI::App& app, const std::string& name) {
  std::string line = name;
  if (!commands_of(app).empty()) return line + " COMMAND [options]";
  for (const bool positional : {true, false}) {
    for (const CLI::Option* option : app.get_options()) {
      const bool shown = option->get_positional() || option->get_required();
      if (shown && option->get_positional() == positional) line += " " + usage_word(*option);
    }
  }
  return line + " [options]";
}

std::string what_it_means(const CLI::Option& option) {
  const std::vector<std::string> choices = choices_of(option);
  if (choices.empty()) return option.get_description();
  return fmt::format("{}: {}", option.get_description(), fmt::join(choices, ", "));
}

void add_group(Page& page, const CLI::App& app, const std::string& group) {
  Facts arguments, options;
  const auto is_in_group = [&group](const CLI::Option* option) { return option->get_group() == group; };
  for (const CLI::Option* option : app.get_options(is_in_group)) {
    Facts& facts = option->get_positional() ? arguments : options;
    facts.emplace_back("  " + option_heading(*option), what_it_means(*option));
  }
  if (!arguments.empty()) page.heading("Arguments");
  page.facts(arguments);
  if (!options.empty()) page.heading(group);
  page.facts(options);
}

void add_options(Page& page, const CLI::App& app) {
  for (const std::string& group : app.get_groups()) {
    if (group != common_options_heading) add_group(page, app, group);
  }
  add_group(page, app, common_options_heading);
}

void add_commands(Page& page, const CLI::App& app) {
  Facts commands;
  for (const CLI::App* command : commands_of(app)) {
    commands.emplace_back("  " + command->get_name(), command->get_description());
  }
  if (commands.empty()) return;
  page.heading("Commands");
  page.facts(commands);
}

void add_exit_codes(Page& page) {
  Facts codes;
  for (const auto& [code, meaning] : exit_code_meanings) {
    codes.emplace_back(fmt::format("  {}", static_cast<int>(code)), std::string(meaning));
  }
  page.heading("Exit codes");
  page.facts(codes);
}

/// The footer holds examples: a command on one line, what it does on the next, indented.
void add_examples(Page& page, const CLI::App& app) {
  if (app.get_footer().empty()) return;
  page.heading("Examples");
  std::istringstream lines(app.get_footer());
  for (std::string command, what; std::getline(lines, command) && std::getline(lines, what);) {
    page.verbatim("  " + command);
    page.paragraph(what, "      ");
  }
}

}  // namespace

std::string option_heading(const CLI::Option& option) {
  if (option.get_positional()) return option.get_name(true);
  std::vector<std::string> names;
  for (const std::string& name : option.get_snames()) names.push_back("-" + name);
  for (const std::string& name : option.get_lnames()) names.push_back("--" + name);
  const std::string value = value_name(option);
  return fmt::format("{}{}{}", fmt::join(names, ", "), value.empty() ? "" : " ", value);
}

std::string HelpFormatter::make_help(const CLI::App* app, std::string name,
                                     CLI::AppFormatMode /*mode*/) const {
  Page page(width_, colour_);
  const bool is_whole = app->get_parent() == nullptr;
  page.paragraph(fmt::format("{}: {}", name, app->get_description()));
  page.blank();
  page.paragraph(usage(*app, name), "Usage: ", Style::bold);
  add_commands(page, *app);
  add_options(page, *app);
  add_examples(page, *app);
  if (is_whole) add_exit_codes(page);
  return page.text();
}

}  // namespace firstdraw::cli
