// The month a water management plan keeps: a PDF of one sheet, of more where much is odd or was done.
#pragma once

#include <filesystem>

#include "job/diagnostic.hpp"
#include "watch/evidence.hpp"

namespace firstdraw::paper {

/// Whole or not at all.
job::Result<void> write_evidence(const job::Job& job, const watch::Evidence& evidence,
                                 const std::filesystem::path& path);

}  // namespace firstdraw::paper
