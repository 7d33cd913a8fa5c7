// The steps of a desk, each as what it replaced in which file, so that a long history of small edits stays
// small.
#pragma once

#include <deque>
#include <string>
#include <vector>

#include "desk/desk.hpp"

namespace firstdraw::desk {

/// A stretch of one file before and after. A file that is not there has no text.
struct Patch {
  std::string name;
  std::size_t at = 0;
  std::string before{}, after{};
  bool was_there = true, is_there = true;
};

std::vector<Patch> patches(const JobText& before, const JobText& after);
JobText forward(JobText text, const std::vector<Patch>& patches);
JobText back(JobText text, const std::vector<Patch>& patches);

class History {
 public:
  /// Longest history kept.
  static constexpr std::size_t longest = 10000;

  void add(Step step, const JobText& before, const JobText& after);
  const Step* next_undo() const { return at_ > 0 ? &entries_[at_ - 1].step : nullptr; }
  const Step* next_redo() const { return at_ < entries_.size() ? &entries_[at_].step : nullptr; }
  /// The text as the step before left it; there must be one.
  JobText undone(const JobText& now) const { return back(now, entries_[at_ - 1].patches); }
  JobText redone(const JobText& now) const { return forward(now, entries_[at_].patches); }
  void step_back() { --at_; }
  void step_forward() { ++at_; }

 private:
  struct Entry {
    Step step;
    std::vector<Patch> patches;
  };
  std::deque<Entry> entries_;
  std::size_t at_ = 0;  // entries before it stand, the others are undone
};

}  // namespace firstdraw::desk
