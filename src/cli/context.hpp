// Where a command writes and how: one door for results, errors and JSON.
#pragma once

#include <iosfwd>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "cli/exit_codes.hpp"
#include "cli/page.hpp"
#include "cli/terminal.hpp"
#include "job/diagnostic.hpp"
#include "units/quantity.hpp"

namespace firstdraw::cli {

/// The options that every command takes.
struct CommonOptions {
  bool json = false;
  std::string colour = "auto";  // auto, always, never
  std::string units;            // us, metric; empty: as the job or the question has it
};
ColourChoice colour_choice(const CommonOptions& options);
std::optional<units::System> chosen_units(const CommonOptions& options);

using Diagnostics = std::vector<job::Diagnostic>;

class Context {
 public:
  Context(std::ostream& out, std::ostream& err, const Terminal& terminal, const CommonOptions& options)
      : out_(out), err_(err), terminal_(terminal), options_(options) {}

  const Terminal& terminal() const { return terminal_; }
  const CommonOptions& options() const { return options_; }
  bool json() const { return options_.json; }
  void set_json(bool json) { options_.json = json; }
  std::ostream& err() const { return err_; }
  Page page() const { return {terminal_.width, terminal_.colour}; }

  void print(const Page& page) const;
  void print(const std::string& text) const;
  void print(const nlohmann::json& json) const;
  /// Everything that is wrong, on standard error; with --json as {"errors": […]} on standard output.
  ExitCode fail(ExitCode code, const Diagnostics& errors) const;

 private:
  std::ostream& out_;
  std::ostream& err_;
  Terminal terminal_;
  CommonOptions options_;
};

nlohmann::json to_json(const Diagnostics& errors);
/// A complaint about one option or argument of the command line.
job::Diagnostic complaint(std::string_view option, std::string_view message, std::string_view hint = "");

}  // namespace firstdraw::cli
