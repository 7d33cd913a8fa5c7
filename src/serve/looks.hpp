// Tests that are only looked at (labels, markings): ticks, kept as notes that say which test and whether all
// is well.
#pragma once

#include <map>
#include <nlohmann/json_fwd.hpp>
#include <optional>
#include <span>
#include <string>
#include <utility>

#include "serve/bodies.hpp"
#include "store/record.hpp"

namespace firstdraw::serve {

struct Look {
  std::int64_t record = 0;
  bool ok = false;
};
/// The latest of each test and circuit; what another record corrects does not count.
using Looks = std::map<std::pair<std::string, std::string>, Look>;
Looks looks_of(std::span<const store::Record> records);

/// {test, ok} as a note's body has it under "looked"; null: it is none.
nlohmann::json look_json(const store::Record& record);

/// A note's body with its look, when it is one.
nlohmann::json note_body(nlohmann::json body, const std::optional<AskedLook>& looked);

}  // namespace firstdraw::serve
