// Schema Server of openapi.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "serve/route.hpp"

namespace firstdraw::serve {

nlohmann::json about_json(const House& house, const Caller& caller);

}  // namespace firstdraw::serve
