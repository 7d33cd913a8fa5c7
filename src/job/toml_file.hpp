// A TOML file of the job folder, parsed.
#pragma once

#include <optional>

#define TOML_ENABLE_FORMATTERS 0
#include <toml++/toml.h>

#include "job/context.hpp"
#include "job/source.hpp"

namespace firstdraw::job {

/// None, and a problem, when the file is missing or is not TOML: the first slip of syntax hides the rest of
/// the file.
std::optional<toml::table> parse_toml(const Source& source, std::string_view name, Context& context);

}  // namespace firstdraw::job
