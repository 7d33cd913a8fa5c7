// The job as it is written, as schema Sheet of openapi.json.
#pragma once

#include "serve/jobs.hpp"
#include "serve/json_text.hpp"

namespace firstdraw::serve {

JsonText sheet_json(const desk::Shared& snapshot, const std::optional<desk::Step>& undo,
                    const std::optional<desk::Step>& redo);

/// As the job shows quantities, also when it does not read.
units::System units_of(const desk::Snapshot& snapshot);

}  // namespace firstdraw::serve
