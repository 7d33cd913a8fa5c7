// One finding for runs that are alike: the run where it is worst stands for the others.
#pragma once

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

/// Runs that pass one limit together.
struct ClassExcess {
  const Review::Traced* worst = nullptr;
  std::vector<const Review::Traced*> others;  // in the job's order

  /// " (and 3 more: R2, R5, R7)", "" when there are none; long lists are cut.
  std::string also() const;
};

using Excess = std::function<double(const Review::Traced&)>;
using Likeness = std::function<std::string_view(const Review::Traced&)>;

/// `excess` is positive on the runs that pass the limit and larger where it is worse; runs of equal
/// `likeness` go together. In the order of the first such run.
std::vector<ClassExcess> worst_of_alike(const Review& review, const Likeness& likeness, const Excess& excess);
/// Alike by run class: same pipe, insulation, air and cable.
std::vector<ClassExcess> worst_of_classes(const Review& review, const Excess& excess);
/// Alike by control group.
std::vector<ClassExcess> worst_of_groups(const Review& review, const Excess& excess);

}  // namespace firstdraw::plan
