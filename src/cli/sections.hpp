// An answer in named sections, so that a user can ask for the ones they need.
#pragma once

#include <algorithm>
#include <string>
#include <vector>

#include "cli/page.hpp"

namespace firstdraw::cli {

/// `Sheet` is all that the sections of one answer are made from.
template <class Sheet>
struct Section {
  std::string name;
  bool usual;  // shown when nothing was asked for
  void (*add)(Page&, const Sheet&);
};

template <class Sheet>
std::vector<std::string> names_of(const std::vector<Section<Sheet>>& sections, bool usual_only) {
  std::vector<std::string> names;
  for (const auto& section : sections)
    if (section.usual || !usual_only) names.push_back(section.name);
  return names;
}

/// Those that are asked for, in that order.
template <class Sheet>
void add_sections(Page& page, const std::vector<Section<Sheet>>& sections, const Sheet& sheet,
                  const std::vector<std::string>& asked) {
  for (const std::string& name : asked) {
    const auto section = std::ranges::find(sections, name, &Section<Sheet>::name);
    if (section != sections.end()) section->add(page, sheet);
  }
}

}  // namespace firstdraw::cli
