// From what was asked of `firstdraw record` to what the store is given. Bodies: docs/records.md,
// schemas/record-bodies.schema.json.
#pragma once

#include <chrono>
#include <expected>
#include <string>
#include <vector>

#include "cli/context.hpp"
#include "cli/record_command.hpp"
#include "prove/reading.hpp"
#include "prove/verdict.hpp"
#include "store/store.hpp"

namespace firstdraw::cli {

struct DraftFile {
  std::string name, path;  // as kept, as read
};

/// Before any file is in the store.
struct Drafted {
  store::Draft draft{};
  std::vector<DraftFile> files{};
  std::vector<prove::Reading> readings{};
  std::vector<prove::Verdict> verdicts{};
};

/// Everything that can be said of the command line alone.
Diagnostics slips_of(const RecordCommand& command);

/// Reads the job, its plan and files as far as the kind needs them, and for a sign-off the book, whose head
/// it names; makes no store, so that what fails here leaves none. The exit code after every error was
/// printed.
std::expected<Drafted, ExitCode> draft_of(const RecordCommand& command, const Context& context);

/// Puts the files into the store and names them in the draft; a revision lists them in its body.
std::expected<void, ExitCode> attach(Drafted& drafted, store::Store& store, const Context& context);

/// "2026-11-29T14:05:00-06:00", by the machine's clock and zone.
std::string local_text(std::chrono::system_clock::time_point now);

/// By what a file's name ends in: "image/jpeg"; "application/octet-stream" for what is not known.
std::string media_type_of(std::string_view name);

}  // namespace firstdraw::cli
