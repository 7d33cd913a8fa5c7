#include "cli/store_input.hpp"

#include <cstdlib>
#include <filesystem>

namespace firstdraw::cli {
namespace {

namespace fs = std::filesystem;

std::string own_name(const std::string& folder) {
  std::error_code ignored;
  const fs::path real = fs::weakly_canonical(folder, ignored);
  const fs::path path = ignored || real.empty() ? fs::path(folder).lexically_normal() : real;
  return path.has_filename() ? path.filename().string() : path.parent_path().filename().string();
}

}  // namespace

void add_store_options(CLI::App* command, StoreOptions& options) {
  command
      ->add_option("--store", options.where,
                   "where records are kept: a file, or postgresql://user@host/database; the variable "
                   "FIRSTDRAW_STORE, else JOB/records.db if not given")
      ->type_name("WHERE");
  command->add_option("--book", options.book, "name of the job's book there; the folder's name if not given")
      ->type_name("NAME");
}

std::string store_of(const StoreOptions& options, const std::string& folder) {
  if (!options.where.empty()) return options.where;
  const char* set = std::getenv("FIRSTDRAW_STORE");
  if (set != nullptr && *set != '\0') return set;
  return (fs::path(folder) / "records.db").string();
}

std::string book_of(const StoreOptions& options, const std::string& folder) {
  return options.book.empty() ? own_name(folder) : options.book;
}

std::expected<store::Store, ExitCode> open_store_or_complain(const StoreOptions& options,
                                                             const std::string& folder, bool create,
                                                             const Context& context) {
  auto store = store::Store::open(store_of(options, folder), create);
  if (!store) return std::unexpected(complain(store.error(), create, context));
  return *std::move(store);
}

ExitCode complain(const store::Failure& failure, bool writing, const Context& context) {
  const bool asked_wrongly = failure.kind == store::FailureKind::bad_input;
  const ExitCode code = asked_wrongly ? ExitCode::wrong_command_line
                        : writing     ? ExitCode::cannot_write
                                      : ExitCode::job_unreadable;
  return context.fail(code, {complaint("", failure.what, failure.remedy)});
}

}  // namespace firstdraw::cli
