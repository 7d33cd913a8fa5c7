// Schema Diagnosis of openapi.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "prove/diagnosis.hpp"

namespace firstdraw::serve {

nlohmann::json diagnosis_json(const prove::Diagnosis& diagnosis);

}  // namespace firstdraw::serve
