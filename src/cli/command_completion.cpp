// `firstdraw completion`: a script for the shell.
#include <memory>

#include "cli/completion.hpp"
#include "cli/program.hpp"

namespace firstdraw::cli {
namespace {

const std::vector<Example> examples{
    {"source <(firstdraw completion bash)", "in ~/.bashrc"},
    {"firstdraw completion zsh > \"${fpath[1]}/_firstdraw\"", "once, for zsh"},
    {"firstdraw completion fish > ~/.config/fish/completions/firstdraw.fish", "once, for fish"},
};

}  // namespace

void add_completion(Program& program) {
  CLI::App* command = program.add_command(
      "completion", "a script that lets the shell complete commands and options", examples);
  const auto shell = std::make_shared<std::string>();
  add_choice(command, "SHELL", *shell, "the shell", {"bash", "zsh", "fish"})->required();
  const CLI::App* app = &program.app();
  program.when_called(command, [app, shell](Context& context) {
    const std::string script = *shell == "bash"  ? bash_completion(*app)
                               : *shell == "zsh" ? zsh_completion(*app)
                                                 : fish_completion(*app);
    if (context.json()) {
      context.print(nlohmann::json{{"shell", *shell}, {"script", script}});
    } else {
      context.print(script);
    }
    return ExitCode::ok;
  });
}

}  // namespace firstdraw::cli
