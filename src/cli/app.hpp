// The whole program: command line in, exit code out.
#pragma once

#include <functional>
#include <iosfwd>
#include <string>
#include <vector>

#include "cli/context.hpp"
#include "cli/terminal.hpp"

namespace firstdraw::cli {

/// `arguments` without the program's name. Everything is written to `out` and `err`. Never throws.
int run(const std::vector<std::string>& arguments, std::ostream& out, std::ostream& err,
        const Surroundings& surroundings);

/// What `work` returns; when it throws, one line that asks for a report, and 70.
ExitCode guarded(const Context& context, const std::function<ExitCode()>& work);

}  // namespace firstdraw::cli
