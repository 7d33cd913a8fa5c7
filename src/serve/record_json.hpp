// Records of the book as schema RecordEntry of openapi.json.
#pragma once

#include <nlohmann/json_fwd.hpp>

#include "serve/books.hpp"

namespace firstdraw::serve {

/// `field`: the judged book that `record` stands in.
nlohmann::json record_json(const store::Record& record, const paper::FieldBook& field, const Looked& looked);

}  // namespace firstdraw::serve
