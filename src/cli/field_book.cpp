#include "cli/field_book.hpp"

#include <filesystem>
#include <set>

#include "cli/readings_input.hpp"

namespace firstdraw::cli {
namespace {

/// Nobody named a store, and the job has none beside it.
bool none_yet(const StoreOptions& options, const std::string& folder) {
  const std::string beside = (std::filesystem::path(folder) / "records.db").string();
  return store_of(options, folder) == beside && !std::filesystem::exists(beside);
}

}  // namespace

std::expected<std::optional<Recorded>, ExitCode> recorded_of(const StoreOptions& options,
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
  return Recorded{store->where(), *std::move(records), *std::move(chain)};
}

void accept_as_recorded(const std::vector<store::Record>& records, job::Job& job) {
  std::set<std::int64_t> corrected;
  for (const store::Record& record : records)
    if (record.corrects) corrected.insert(*record.corrects);
  for (const store::Record& record : records) {
    if (record.kind != store::RecordKind::acceptance || corrected.contains(record.number)) continue;
    const auto body = nlohmann::json::parse(record.body, nullptr, false);
    if (!body.is_object()) continue;
    job.accepted.push_back({body.value("finding", ""), body.value("place", ""), body.value("reason", ""),
                            record.who, record.at.substr(0, 10)});
  }
}

std::expected<paper::FieldBook, ExitCode> field_book_of(Recorded recorded, const job::Job& job,
                                                        const plan::Plan& plan, const Context& context) {
  auto readings = readings_in_or_complain(recorded.records, recorded.where, context);
  if (!readings) return std::unexpected(readings.error());
  paper::FieldBook field;
  for (RecordedReading& each : *readings) {
    field.readings.push_back(std::move(each.reading));
    field.record_of.push_back(each.record);
  }
  field.verdicts = prove::judge(job, plan, field.readings);
  field.due = prove::due_tests(job, plan, field.readings, field.verdicts);
  field.trends = prove::trends(job, plan, field.readings, field.verdicts);
  field.findings = prove::findings(job, field.readings, field.verdicts, field.trends);
  field.records = std::move(recorded.records);
  field.chain = std::move(recorded.chain);
  return field;
}

}  // namespace firstdraw::cli
