#include "cli/field_book.hpp"

#include <filesystem>

namespace firstdraw::cli {
namespace {

/// Nobody named a store, and the job has none beside it.
bool none_yet(const StoreOptions& options, const std::string& folder) {
  const std::string beside = (std::filesystem::path(folder) / "records.db").string();
  return store_of(options, folder) == beside && !std::filesystem::exists(beside);
}

}  // namespace

std::expected<std::optional<paper::Recorded>, ExitCode> recorded_of(const StoreOptions& options,
                                                                    const std::string& folder,
                                                                    const Context& context) {
  if (none_yet(options, folder)) return std::nullopt;
  const auto store = open_store_or_complain(options, folder, false, context);
  if (!store) return std::unexpected(store.error());
  const std::string book = book_of(options, folder);
  auto records = store->records(book);
  if (!records) return std::unexpected(complain(records.error(), false, context));
  auto chain = store->verify(book);
  if (!chain) return std::unexpected(complain(chain.error(), false, context));
  return paper::Recorded{store->where(), *std::move(records), *std::move(chain)};
}

std::expected<paper::FieldBook, ExitCode> field_book_of(paper::Recorded recorded, const job::Job& job,
                                                        const plan::Plan& plan, const Context& context) {
  auto field = paper::field_book_of(std::move(recorded), job, plan);
  if (!field) return std::unexpected(context.fail(ExitCode::job_unreadable, field.error()));
  return *std::move(field);
}

}  // namespace firstdraw::cli
