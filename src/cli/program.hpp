// The command line being built: every command adds itself here.
#pragma once

#include <CLI/CLI.hpp>
#include <functional>
#include <string>
#include <vector>

#include "cli/context.hpp"

namespace firstdraw::cli {

inline constexpr const char* version = "0.1.0";

inline constexpr const char* common_options_heading = "Options of every command";

struct Example {
  std::string command, what;
};

class Program {
 public:
  using Action = std::function<ExitCode(Context&)>;

  /// `help_width`: of the text of --help.
  Program(int help_width, bool colour);
  Program(const Program&) = delete;
  Program& operator=(const Program&) = delete;

  /// A new command with the common options and worked examples below its help. What it does is set with
  /// `when_called`.
  CLI::App* add_command(const std::string& name, const std::string& what,
                        const std::vector<Example>& examples);
  /// A command within a command: "watch import".
  CLI::App* add_command(CLI::App* within, const std::string& name, const std::string& what,
                        const std::vector<Example>& examples);
  void when_called(CLI::App* command, Action action);

  CLI::App& app() { return app_; }
  const CommonOptions& common() const { return common_; }
  const Action& action() const { return action_; }

 private:
  CLI::App app_;
  CommonOptions common_;
  Action action_;
};

/// The choices of an option that offers a fixed list; empty otherwise.
std::vector<std::string> choices_of(const CLI::Option& option);
/// An option with a fixed list of choices; a wrong one is answered with the nearest.
CLI::Option* add_choice(CLI::App* command, const std::string& names, std::string& variable,
                        const std::string& what, const std::vector<std::string>& choices);
/// The same for a list with commas between the words; what is given replaces what `variable` holds.
CLI::Option* add_choices(CLI::App* command, const std::string& names, std::vector<std::string>& variable,
                         const std::string& what, const std::vector<std::string>& choices);
/// Subcommands of `app` by name, in the order they were added.
std::vector<const CLI::App*> commands_of(const CLI::App& app);
/// "watch import": a command's name with those it stands within, without the program's.
std::string full_name(const CLI::App& command);

// One function per command, each in command_<name>.cpp.
void add_new(Program& program);
void add_check(Program& program);
void add_plan(Program& program);
void add_circuits(Program& program);
void add_pack(Program& program);
void add_simulate(Program& program);
void add_replay(Program& program);
void add_week(Program& program);
void add_watch(Program& program);
void add_archive(Program& program);
void add_loss(Program& program);
void add_cable(Program& program);
void add_expect(Program& program);
void add_tests(Program& program);
void add_diagnose(Program& program);
void add_record(Program& program);
void add_verify(Program& program);
void add_explain(Program& program);
void add_completion(Program& program);
void add_help(Program& program);

}  // namespace firstdraw::cli
