// Recorded draws from a CSV file: one row per opening of a tap. docs/guide/first-draw.md.
#pragma once

#include <string>
#include <string_view>
#include <vector>

#include "draw/demand.hpp"
#include "draw/scene.hpp"
#include "job/diagnostic.hpp"

namespace firstdraw::cli {

/// Columns time, tap, flow and duration, with units in the heading or in the cells; time 0 is Monday 00:00.
/// `tap` is the id of an outlet ("O-02"), or "O-02#2" for its second tap. `file` is for messages. In the
/// order of sort_draws.
job::Result<std::vector<draw::Draw>> read_draws(std::string_view text, std::string_view file,
                                                const draw::Scene& scene);

job::Result<std::vector<draw::Draw>> read_draws_file(const std::string& path, const draw::Scene& scene);

}  // namespace firstdraw::cli
