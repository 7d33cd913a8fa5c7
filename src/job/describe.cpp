#include "job/describe.hpp"

namespace firstdraw::job {

namespace {
std::vector<std::string> list(std::span<const std::string> names) { return {names.begin(), names.end()}; }

std::vector<std::string> guideline_ids() {
  std::vector<std::string> ids;
  for (const auto& guideline : rules::hygiene_guidelines()) ids.push_back(guideline.id);
  return ids;
}
}  // namespace

const std::vector<std::string>& known_guidelines() {
  static const std::vector<std::string> names = guideline_ids();
  return names;
}
const std::vector<std::string>& known_buildings() {
  static const std::vector<std::string> names = list(rules::building_kinds());
  return names;
}
const std::vector<std::string>& known_energy_codes() {
  static const std::vector<std::string> names = list(rules::energy_codes());
  return names;
}
const std::vector<std::string>& known_runout_rules() {
  static const std::vector<std::string> names = list(rules::runout_rules());
  return names;
}
const std::vector<std::string>& known_fixtures() {
  static const std::vector<std::string> names = list(rules::fixtures());
  return names;
}

}  // namespace firstdraw::job
