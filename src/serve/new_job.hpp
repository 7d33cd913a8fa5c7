// A new job folder: the commented example, or a heater and one level to begin from.
#pragma once

#include <filesystem>

#include "serve/answer.hpp"
#include "serve/bodies.hpp"

namespace firstdraw::serve {

/// `place`/asked.id, made beside and moved in; refused when it is there already.
Maybe<std::filesystem::path> make_job_folder(const std::filesystem::path& place, const NewJob& asked);

}  // namespace firstdraw::serve
