// The store and the book of a job: where they are, and opening them with errors in the form that was asked
// for.
#pragma once

#include <CLI/CLI.hpp>
#include <expected>
#include <string>

#include "cli/context.hpp"
#include "store/store.hpp"

namespace firstdraw::cli {

struct StoreOptions {
  std::string where{};  // --store
  std::string book{};   // --book
};
void add_store_options(CLI::App* command, StoreOptions& options);

/// --store, else the environment variable FIRSTDRAW_STORE, else JOB/records.db.
std::string store_of(const StoreOptions& options, const std::string& folder);
/// --book, else the name of the job folder itself, whatever way it was given ("." included).
std::string book_of(const StoreOptions& options, const std::string& folder);

/// `create`: a store that is not there yet is made; commands that only read leave it false.
std::expected<store::Store, ExitCode> open_store_or_complain(const StoreOptions& options,
                                                             const std::string& folder, bool create,
                                                             const Context& context);

/// Prints what went wrong and what to do. `bad_input` is the command line's fault (2); otherwise what was
/// asked for could not be read (3) or, with `writing`, not be written (4).
ExitCode complain(const store::Failure& failure, bool writing, const Context& context);

}  // namespace firstdraw::cli
