#include "physics/names.hpp"

namespace firstdraw::physics {

std::string folded(std::string_view name) {
  std::string out;
  out.reserve(name.size());
  for (const char c : name) {
    if (c == ' ' || c == '-' || c == '_' || c == '\t') continue;
    out.push_back(c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c);
  }
  return out;
}

std::vector<std::string> split_names(std::string_view bars) {
  std::vector<std::string> out;
  while (!bars.empty()) {
    const auto bar = bars.find('|');
    out.emplace_back(bars.substr(0, bar));
    if (bar == std::string_view::npos) break;
    bars.remove_prefix(bar + 1);
  }
  return out;
}

}  // namespace firstdraw::physics
