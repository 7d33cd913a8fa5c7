#include "cli/find_circuit.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "plan/run_classes.hpp"

namespace firstdraw::cli {

std::expected<int, ExitCode> find_circuit(const plan::Plan& plan, const std::string& id,
                                          const Context& context) {
  const int found = plan::index_of(plan.circuits, id);
  if (found != piping::none) return found;
  std::vector<std::string> ids;
  for (const power::Circuit& circuit : plan.circuits) ids.push_back(circuit.id);
  const auto near = units::nearest(id, ids);
  const std::string hint = near          ? fmt::format("did you mean {}?", *near)
                           : ids.empty() ? "it has no circuit at all"
                                         : fmt::format("it has {}", fmt::join(ids, ", "));
  return std::unexpected(
      context.fail(ExitCode::wrong_command_line, {complaint(id, "the job has no such circuit", hint)}));
}

}  // namespace firstdraw::cli
