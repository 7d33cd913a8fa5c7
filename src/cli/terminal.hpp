// What the program may assume of the terminal: its width, and whether colour and progress are welcome.
#pragma once

#include <optional>
#include <string>

namespace firstdraw::cli {

enum class ColourChoice { automatic, always, never };

/// What the surroundings say, gathered once by `look_around`; plain values, so that the rules can be tested.
struct Surroundings {
  bool out_is_terminal = false, err_is_terminal = false;
  std::optional<std::string> columns;   // the variable COLUMNS
  std::optional<std::string> no_color;  // the variable NO_COLOR
  std::optional<std::string> term;      // the variable TERM
  int window_columns = 0;               // of the terminal's window; 0: unknown
};
Surroundings look_around();

struct Terminal {
  int width = 80;
  bool colour = false;
  bool err_colour = false;
  bool progress = false;
};

/// Width: COLUMNS if it is a number from 20 up, else the window's, else 100 for files and pipes.
/// Colour: as chosen; `automatic` means on a terminal that is not "dumb" when NO_COLOR is unset or empty
/// (the convention of no-color.org). Progress: only when standard error is a terminal.
Terminal terminal_for(const Surroundings& surroundings, ColourChoice choice);

}  // namespace firstdraw::cli
