// What `firstdraw watch poll` prints.
#pragma once

#include <map>
#include <string>
#include <vector>

#include "cli/context.hpp"
#include "watch/poller.hpp"

namespace firstdraw::cli {

/// What would be asked of which device.
void add_questions(Page& page, const watch::RegisterMap& map);
nlohmann::json questions_json(const watch::RegisterMap& map);

/// What one run did. `latest`: the last reading of each series, by its name.
struct PollAnswer {
  watch::PollCounts counts;
  std::map<std::string, store::Sample> latest;
  std::string stored_in;  // empty: nowhere, it was a dry run
};
void add_poll(Page& page, const watch::RegisterMap& map, const PollAnswer& answer, units::System system);
nlohmann::json poll_json(const watch::RegisterMap& map, const PollAnswer& answer);

/// "2026-11-29T21:35:07Z  panel meter: no answer: nothing came within 1 s".
std::string line_of(const watch::PollEvent& event);

}  // namespace firstdraw::cli
