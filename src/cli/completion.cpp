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

bool takes_value(const CLI::Option& option) { return option.get_items_expected_max() > 0; }

/// Text between single quotes of a shell.
std::string shell_quoted(std::string_view text) {
  std::string result = "'";
  for (const char letter : text) result += letter == '\'' ? std::string("'\\''") : std::string(1, letter);
  return result + "'";
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
                         command.get_name(), option->get_lnames().front(),
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

}  // namespace

std::string bash_completion(const CLI::App& app) {
  std::string options, choices, arguments;
  for (const CLI::App* command : commands_of(app)) {
    options += fmt::format("      {}) options={} ;;\n", command->get_name(),
                           shell_quoted(fmt::format("{}", fmt::join(option_words(*command), " "))));
    choices += bash_choices(*command);
    const std::vector<std::string> words = argument_words(app, *command);
    if (words.empty()) continue;
    arguments += fmt::format("      {}) COMPREPLY=($(compgen -W {} -- \"$word\")); return ;;\n",
                             command->get_name(), shell_quoted(fmt::format("{}", fmt::join(words, " "))));
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
  case $command:$before in
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
      fmt::arg("choices", choices), fmt::arg("options", options),
      fmt::arg("top", shell_quoted(fmt::format("{}", fmt::join(option_words(app), " ")))),
      fmt::arg("arguments", arguments));
}

std::string zsh_completion(const CLI::App& app) {
  std::string commands, cases;
  for (const CLI::App* command : commands_of(app)) {
    commands += fmt::format(
        "    {}\n", shell_quoted(fmt::format("{}:{}", command->get_name(), command->get_description())));
    const std::vector<std::string> words = argument_words(app, *command);
    const std::string rest =
        words.empty() ? "*:file:_files" : fmt::format("*:word:({})", fmt::join(words, " "));
    cases += fmt::format("      {})\n        _arguments \\\n{}          {} ;;\n", command->get_name(),
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
  case $command in
{cases}  esac
}}
_firstdraw "$@"
)",
                     fmt::arg("commands", commands), fmt::arg("cases", cases));
}

std::string fish_completion(const CLI::App& app) {
  std::string lines = "# fish completion for firstdraw; to use it: firstdraw completion fish | source\n";
  for (const CLI::App* command : commands_of(app)) {
    const std::string name = command->get_name();
    lines += fmt::format("complete -c firstdraw -n __fish_use_subcommand -f -a {} -d {}\n", name,
                         shell_quoted(command->get_description()));
    const std::string when = shell_quoted("__fish_seen_subcommand_from " + name);
    for (const CLI::Option* option : command->get_options()) {
      if (option->get_positional()) continue;
      const std::vector<std::string> choices = choices_of(*option);
      lines += fmt::format("complete -c firstdraw -n {} -l {}", when, option->get_lnames().front());
      for (const std::string& letter : option->get_snames()) lines += fmt::format(" -s {}", letter);
      if (!choices.empty())
        lines += fmt::format(" -x -a {}", shell_quoted(fmt::format("{}", fmt::join(choices, " "))));
      if (choices.empty() && takes_value(*option)) lines += " -r";
      lines += fmt::format(" -d {}\n", shell_quoted(option->get_description()));
    }
    const std::vector<std::string> words = argument_words(app, *command);
    if (words.empty()) continue;
    lines += fmt::format("complete -c firstdraw -n {} -f -a {}\n", when,
                         shell_quoted(fmt::format("{}", fmt::join(words, " "))));
  }
  return lines;
}

}  // namespace firstdraw::cli
