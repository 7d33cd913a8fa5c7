// The names of a job that a logger's headers may mean.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "job/job.hpp"

namespace firstdraw::watch {

/// Ids of groups, circuits, runs, outlets and spaces.
std::vector<std::string> log_places(const job::Job& job, std::span<const std::string> circuits);

struct FoundPlace {
  std::string id;     // empty: none
  bool near = false;  // spelled otherwise
};
/// The place that a header names: its id, or the name of a group or space, word by word; else one spelled
/// nearly so.
FoundPlace find_place(std::string_view header, const job::Job& job, std::span<const std::string> circuits);

}  // namespace firstdraw::watch
