// The whole program: command line in, exit code out.
#pragma once

#include <iosfwd>
#include <string>
#include <vector>

#include "cli/terminal.hpp"

namespace firstdraw::cli {

/// `arguments` without the program's name. Everything is written to `out` and `err`. Never throws.
int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
        const Surroundings& surroundings);

}  // namespace firstdraw::cli
