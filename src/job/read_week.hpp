// The sections of job.toml that a week of settings looks at, and the file of the tariff.
#pragma once

#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

#include "job/context.hpp"
#include "job/source.hpp"

namespace firstdraw::job {

/// [tariff] with the text of its file, [[season]], [controller], [week] and [[comfort]]. Needs the units
/// shown. Sections that are missing leave what is usual, without an assumption.
void read_week(const toml::table& root, const Source& source, Job& job, Context& context);

}  // namespace firstdraw::job
