// What is wrong with a pin or an override by itself.
#pragma once

#include <string>

#include "job/job.hpp"
#include "job/toml_reader.hpp"

namespace firstdraw::job {

/// Two runs at least, none of them twice.
void check(TomlReader& reader, const Pin& pin);

/// The last override of the job, whose value was written as `value`: reads it in the rule's unit and compares
/// with those before it.
void check(TomlReader& reader, Job& job, const std::string& value);

}  // namespace firstdraw::job
