// A book as the bytes of a PDF file.
#pragma once

#include <chrono>
#include <expected>
#include <functional>
#include <string>

#include "job/job.hpp"
#include "paper/page.hpp"

namespace firstdraw::paper {

/// The job's date when it is written as 2026-03-01, 1 March 2026 or March 1, 2026; otherwise a fixed one:
/// never the clock's, and no guess at 1/3/2026.
std::chrono::sys_days date_of(const job::Site& site);

Identity identity_of(const job::Job& job, const std::string& title);

/// Set again and again without a surface until its contents are learnt, then for good. Same input, same
/// bytes.
std::expected<std::string, std::string> pdf_of(const Identity& identity,
                                               const std::function<void(Book&)>& set, Typesetter& type);

}  // namespace firstdraw::paper
