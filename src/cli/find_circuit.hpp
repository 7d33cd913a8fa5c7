// A circuit that was named on the command line.
#pragma once

#include <expected>
#include <string>

#include "cli/context.hpp"
#include "plan/plan.hpp"

namespace firstdraw::cli {

/// Index into plan.circuits, or the exit code after the error, with the nearest id, was printed.
std::expected<int, ExitCode> find_circuit(const plan::Plan& plan, const std::string& id,
                                          const Context& context);

}  // namespace firstdraw::cli
