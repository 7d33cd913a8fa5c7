// Estimates, changes and schedule checks as JSON: schemas/estimate.schema.json, schemas/schedule.schema.json.
#pragma once

#include <cstdint>
#include <nlohmann/json_fwd.hpp>
#include <string>

#include "watch/estimate.hpp"
#include "watch/schedule_check.hpp"

namespace firstdraw::watch {

nlohmann::json to_json(const GroupEstimate& estimate);
nlohmann::json to_json(const Change& change);
nlohmann::json to_json(const ScheduleCheck& check);
/// "2026-03-29T01:00:00Z".
std::string utc_text(std::int64_t at_ms);

}  // namespace firstdraw::watch
