// The text of --help: what, usage, arguments, options, examples, exit codes; wrapped to the terminal.
#pragma once

#include <CLI/CLI.hpp>
#include <string>

namespace firstdraw::cli {

class HelpFormatter : public CLI::FormatterBase {
 public:
  HelpFormatter(int width, bool colour) : width_(width), colour_(colour) {}
  std::string make_help(const CLI::App* app, std::string name, CLI::AppFormatMode mode) const override;

 private:
  int width_;
  bool colour_;
};

/// "-o,--output DIR" as people read it: "-o, --output DIR".
std::string option_heading(const CLI::Option& option);

}  // namespace firstdraw::cli
