// From text to one record as JSON, before its fields are looked at.
#pragma once

#include <nlohmann/json.hpp>
#include <string_view>

#include "job/diagnostic.hpp"

namespace firstdraw::week {

/// The record in the text: the object itself, or the only one in its "items". Text that is no JSON is told
/// with line and column; a key that is there twice is an error, since the last would silently win.
job::Result<nlohmann::json> read_record(std::string_view text, std::string_view file);

/// "a list", "text", "a number"...
const char* kind_of(const nlohmann::json& json);

}  // namespace firstdraw::week
