// One finding for runs that are alike: the run where it is worst stands for its class.
#pragma once

#include <functional>
#include <string>
#include <vector>

#include "plan/check_context.hpp"

namespace firstdraw::plan {

/// Which of the traced runs a limit is passed on. `excess` is positive on those, larger where it is worse.
struct ClassExcess {
  const Review::Traced* worst = nullptr;
  std::vector<const Review::Traced*> others;  // of the same class, in the job's order

  /// " (and 3 runs like it: R2, R5, R7)", "" when there are none.
  std::string also() const;
};

/// In the order of the classes' first runs.
std::vector<ClassExcess> worst_of_classes(const Review& review,
                                          const std::function<double(const Review::Traced&)>& excess);

/// " (and 3 more: R2, R5, R7)"; long lists are cut.
std::string also_text(const std::vector<std::string>& ids);

}  // namespace firstdraw::plan
