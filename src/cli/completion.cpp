#include "cli/completion.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "cli/program.hpp"

namespace firstdraw::cli {
namespace {

std::vector<std::string> option_words(const CLI::App& command) {
  std::vector<std::string> words;
  for (const CLI::Option* option : command.get_options()) {
    for (const std::string& name : option->get_lnames()) words.push_back("--" + name);
    for (const std::string& name : option->get_snames()) words.push_back("-" + name);
  }
  return words;
}

std::vector<std::string> command_words(const CLI::App& app) {
  std::vector<std::string> words;
  for (const CLI::App* command : commands_of(app)) words.push_back(command->get_name());
  return words;
}

/// Commands that are called, without those that only hold others.
std::vector<const CLI::App*> callable_commands(const CLI::App& app) {
  std::vector<const CLI::App*> all;
  for (const CLI::App* command : commands_of(app)) {
    const auto inner = callable_commands(*command);
    if (inner.empty()) all.push_back(command);
    all.insert(all.end(), inner.begin(), inner.end());
  }
  return all;
}

/// Commands that hold others.
std::vector<const CLI::App*> holding_commands(const CLI::App& app) {
  std::vector<const CLI::App*> all;
  for (const CLI::App* command : commands_of(app)) {
    if (!commands_of(*command).empty()) all.push_back(command);
  }
  return all;
}

bool takes_value(const CLI::Option& option) { return option.get_items_expected_max() > 0; }

/// Text between single quotes of a shell.
std::string shell_quoted(std::string_view text) {
  std::string result = "'";
  for (const char letter : text) result += letter == '\'' ? std::string("'\\''") : std::string(1, letter);
  return result + "'";
}

/// A pattern of `case`: the blank of "watch import" must not end it.
std::string case_name(const CLI::App& command) {
  std::string name;
  for (const char letter : full_name(command))
    name += letter == ' ' ? std::string("\\ ") : std::string(1, letter);
  return name;
}

/// Descriptions stand inside [ ] and after : in zsh.
std::string zsh_escaped(std::string_view text) {
  std::string result;
  for (const char letter : text) {
    if (letter == '[' || letter == ']' || letter == ':' || letter == '\\') result += '\\';
    result += letter;
  }
  return result;
}

std::string bash_choices(const CLI::App& command) {
  std::string cases;
  for (const CLI::Option* option : command.get_options()) {
    const std::vector<std::string> choices = choices_of(*option);
    if (option->get_positional() || choices.empty()) continue;
    cases += fmt::format("        {}:--{}) COMPREPLY=($(compgen -W {} -- \"$word\")); return ;;\n",
                         case_name(command), option->get_lnames().front(),
                         shell_quoted(fmt::format("{}", fmt::join(choices, " "))));
  }
  return cases;
}

/// Words for the arguments of a command: fixed choices, or the names of commands for `help`; folders and
/// files otherwise.
std::vector<std::string> argument_words(const CLI::App& app, const CLI::App& command) {
  if (command.get_name() == "help") return command_words(app);
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional() && !choices_of(*option).empty()) return choices_of(*option);
  }
  return {};
}

/// The second word of a command that holds others.
std::string bash_inner_commands(const CLI::App& app) {
  std::string cases;
  for (const CLI::App* command : holding_commands(app)) {
    cases += fmt::format(
        "    {})\n"
        "      if [[ $COMP_CWORD -eq 2 && $word != -* ]]; then\n"
        "        COMPREPLY=($(compgen -W {} -- \"$word\"))\n"
        "        return\n"
        "      fi\n"
        "      command=\"$command ${{COMP_WORDS[2]}}\" ;;\n",
        command->get_name(), shell_quoted(fmt::format("{}", fmt::join(command_words(*command), " "))));
  }
  return cases.empty() ? cases : "  case $command in\n" + cases + "  esac\n";
}

std::string zsh_values(const CLI::Option& option) {
  const std::vector<std::string> choices = choices_of(option);
  if (!choices.empty()) return fmt::format(":value:({})", fmt::join(choices, " "));
  return takes_value(option) ? ":value:_files" : "";
}

std::string zsh_options(const CLI::App& command) {
  std::string lines;
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional()) continue;
    const std::string name = "--" + option->get_lnames().front();
    lines += fmt::format("          {} \\\n",
                         shell_quoted(fmt::format("{}[{}]{}", name, zsh_escaped(option->get_description()),
                                                  zsh_values(*option))));
  }
  return lines;
}

std::string zsh_descriptions(const CLI::App& app, std::string_view indent) {
  std::string lines;
  for (const CLI::App* command : commands_of(app)) {
    lines += fmt::format("{}{}\n", indent,
                         shell_quoted(fmt::format("{}:{}", command->get_name(), command->get_description())));
  }
  return lines;
}

/// As bash_inner_commands.
std::string zsh_inner_commands(const CLI::App& app) {
  std::string cases;
  for (const CLI::App* command : holding_commands(app)) {
    cases += fmt::format(
        "    {})\n"
        "      if (( CURRENT == 2 )); then\n"
        "        commands=(\n"
        "{}        )\n"
        "        _describe command commands\n"
        "        return\n"
        "      fi\n"
        "      command=\"$command $words[2]\"\n"
        "      shift words\n"
        "      (( CURRENT-- )) ;;\n",
        command->get_name(), zsh_descriptions(*command, "          "));
  }
  return cases.empty() ? cases : "  case $command in\n" + cases + "  esac\n";
}

/// In fish: this command was typed, and all those it stands within.
std::string fish_condition(const CLI::App& command) {
  const std::string own = "__fish_seen_subcommand_from " + command.get_name();
  const CLI::App* parent = command.get_parent();
  return parent->get_parent() == nullptr ? own : fish_condition(*parent) + "; and " + own;
}

std::string fish_options(const CLI::App& command, const std::string& when) {
  std::string lines;
  for (const CLI::Option* option : command.get_options()) {
    if (option->get_positional()) continue;
    const std::vector<std::string> choices = choices_of(*option);
    lines += fmt::format("complete -c firstdraw -n {} -l {}", when, option->get_lnames().front());
    for (const std::string& letter : option->get_snames()) lines += fmt::format(" -s {}", letter);
    if (!choices.empty())
      lines += fmt::format(" -x -a {}", shell_quoted(fmt::format("{}", fmt::join(choices, " "))));
    if (choices.empty() && takes_value(*option)) lines += " -r";
    lines += fmt::format(" -d {}\n", shell_quoted(option->get_description()));
  }
  return lines;
}

/// What may follow a command that holds others.
std::string fish_inner_commands(const CLI::App& app) {
  std::string lines;
  for (const CLI::App* command : holding_commands(app)) {
    const std::string when = fmt::format("{}; and not __fish_seen_subcommand_from {}",
                                         fish_condition(*command), fmt::join(command_words(*command), " "));
    for (const CLI::App* inner : commands_of(*command))
      lines += fmt::format("complete -c firstdraw -n {} -f -a {} -d {}\n", shell_quoted(when),
                           inner->get_name(), shell_quoted(inner->get_description()));
  }
  return lines;
}

}  // namespace

std::string bash_completion(const CLI::App& app) {
  std::string options, choices, arguments;
  for (const CLI::App* command : callable_commands(app)) {
    options += fmt::format("      {}) options={} ;;\n", case_name(*command),
                           shell_quoted(fmt::format("{}", fmt::join(option_words(*command), " "))));
    choices += bash_choices(*command);
    const std::vector<std::string> words = argument_words(app, *command);
    if (words.empty()) continue;
    arguments += fmt::format("      {}) COMPREPLY=($(compgen -W {} -- \"$word\")); return ;;\n",
                             case_name(*command), shell_quoted(fmt::format("{}", fmt::join(words, " "))));
  }
  return fmt::format(
      R"(# bash completion for firstdraw; to use it: source <(firstdraw completion bash)
_firstdraw() {{
  local word=${{COMP_WORDS[COMP_CWORD]}} before=${{COMP_WORDS[COMP_CWORD-1]}} command=${{COMP_WORDS[1]}} options=
  COMPREPLY=()
  if [[ $COMP_CWORD -eq 1 && $word != -* ]]; then
    COMPREPLY=($(compgen -W {commands} -- "$word"))
    return
  fi
{inner}  case $command:$before in
{choices}  esac
  if [[ $word == -* ]]; then
    case $command in
{options}      *) options={top} ;;
    esac
    COMPREPLY=($(compgen -W "$options" -- "$word"))
    return
  fi
  case $command in
{arguments}  esac
  compopt -o filenames 2>/dev/null
  mapfile -t COMPREPLY < <(compgen -f -- "$word")
}}
complete -F _firstdraw firstdraw
)",
      fmt::arg("commands", shell_quoted(fmt::format("{}", fmt::join(command_words(app), " ")))),
      fmt::arg("inner", bash_inner_commands(app)), fmt::arg("choices", choices), fmt::arg("options", options),
      fmt::arg("top", shell_quoted(fmt::format("{}", fmt::join(option_words(app), " ")))),
      fmt::arg("arguments", arguments));
}

std::string zsh_completion(const CLI::App& app) {
  std::string cases;
  for (const CLI::App* command : callable_commands(app)) {
    const std::vector<std::string> words = argument_words(app, *command);
    const std::string rest =
        words.empty() ? "*:file:_files" : fmt::format("*:word:({})", fmt::join(words, " "));
    cases += fmt::format("      {})\n        _arguments \\\n{}          {} ;;\n", case_name(*command),
                         zsh_options(*command), shell_quoted(rest));
  }
  return fmt::format(R"(#compdef firstdraw
# zsh completion for firstdraw; to use it: firstdraw completion zsh > "${{fpath[1]}}/_firstdraw"
_firstdraw() {{
  local -a commands
  commands=(
{commands}  )
  if (( CURRENT == 2 )); then
    _describe command commands
    return
  fi
  local command=$words[2]
  shift words
  (( CURRENT-- ))
{inner}  case $command in
{cases}  esac
}}
_firstdraw "$@"
)",
                     fmt::arg("commands", zsh_descriptions(app, "    ")),
                     fmt::arg("inner", zsh_inner_commands(app)), fmt::arg("cases", cases));
}

std::string fish_completion(const CLI::App& app) {
  std::string lines = "# fish completion for firstdraw; to use it: firstdraw completion fish | source\n";
  for (const CLI::App* command : commands_of(app))
    lines += fmt::format("complete -c firstdraw -n __fish_use_subcommand -f -a {} -d {}\n",
                         command->get_name(), shell_quoted(command->get_description()));
  lines += fish_inner_commands(app);
  for (const CLI::App* command : callable_commands(app)) {
    const std::string when = shell_quoted(fish_condition(*command));
    lines += fish_options(*command, when);
    const std::vector<std::string> words = argument_words(app, *command);
    if (words.empty()) continue;
    lines += fmt::format("complete -c firstdraw -n {} -f -a {}\n", when,
                         shell_quoted(fmt::format("{}", fmt::join(words, " "))));
  }
  return lines;
}

}  // namespace firstdraw::cli
