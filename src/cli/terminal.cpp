#include "cli/terminal.hpp"

#include <sys/ioctl.h>
#include <unistd.h>

#include <algorithm>
#include <charconv>
#include <cstdlib>

namespace firstdraw::cli {
namespace {

constexpr int least_width = 20;
constexpr int width_of_files = 100;

std::optional<std::string> variable(const char* name) {
  const char* value = std::getenv(name);
  return value == nullptr ? std::nullopt : std::optional<std::string>(value);
}

std::optional<int> number(const std::optional<std::string>& text) {
  if (!text) return std::nullopt;
  int value = 0;
  const auto [end, error] = std::from_chars(text->data(), text->data() + text->size(), value);
  if (error != std::errc{} || end != text->data() + text->size()) return std::nullopt;
  return value;
}

int width_for(const Surroundings& surroundings) {
  const std::optional<int> columns = number(surroundings.columns);
  if (columns && *columns >= least_width) return std::min(*columns, 1000);
  if (surroundings.window_columns > 0) return std::max(surroundings.window_columns, least_width);
  return width_of_files;
}

bool colour_for(bool is_terminal, const Surroundings& surroundings, ColourChoice choice) {
  if (choice != ColourChoice::automatic) return choice == ColourChoice::always;
  const bool refused = surroundings.no_color.has_value() && !surroundings.no_color->empty();
  return is_terminal && !refused && surroundings.term != "dumb";
}

}  // namespace

Surroundings look_around() {
  Surroundings surroundings;
  surroundings.out_is_terminal = isatty(STDOUT_FILENO) == 1;
  surroundings.err_is_terminal = isatty(STDERR_FILENO) == 1;
  surroundings.columns = variable("COLUMNS");
  surroundings.no_color = variable("NO_COLOR");
  surroundings.term = variable("TERM");
  winsize window{};
  if (surroundings.out_is_terminal && ioctl(STDOUT_FILENO, TIOCGWINSZ, &window) == 0) {
    surroundings.window_columns = window.ws_col;
  }
  return surroundings;
}

Terminal terminal_for(const Surroundings& surroundings, ColourChoice choice) {
  Terminal terminal;
  terminal.width = width_for(surroundings);
  terminal.colour = colour_for(surroundings.out_is_terminal, surroundings, choice);
  terminal.err_colour = colour_for(surroundings.err_is_terminal, surroundings, choice);
  terminal.progress = surroundings.err_is_terminal && surroundings.term != "dumb";
  return terminal;
}

}  // namespace firstdraw::cli
