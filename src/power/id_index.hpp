// From the ids of a job to places in its lists.
#pragma once

#include <string_view>
#include <unordered_map>

#include "piping/network.hpp"

namespace firstdraw::power {

/// Must not outlive the things it was made of.
class IdIndex {
 public:
  template <class Things>
  explicit IdIndex(const Things& things) {
    for (std::size_t i = 0; i < things.size(); ++i) index_.emplace(things[i].id, static_cast<int>(i));
  }
  /// `none` when there is no such id; of equal ids the first.
  int find(std::string_view id) const {
    const auto found = index_.find(id);
    return found == index_.end() ? piping::none : found->second;
  }

 private:
  std::unordered_map<std::string_view, int> index_;
};

}  // namespace firstdraw::power
