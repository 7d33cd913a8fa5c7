// What a job asks of its week, and each of its demands eased by a step. Part of why_not.cpp.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "settings/why_not.hpp"

namespace firstdraw::settings {

/// What is asked, and of what.
struct Variant {
  job::Job job;
  std::vector<GroupModel> models;
  Asked asked;
};

Variant as_asked(const SearchBase& base);

/// One demand eased: words for both sides, and what changes.
struct Easing {
  std::string demand, eased;
  std::function<void(Variant&)> change;
};

/// Of every demand that the job makes, its rules, its taps and its controller.
std::vector<Easing> easings_of(const SearchBase& base);

}  // namespace firstdraw::settings
