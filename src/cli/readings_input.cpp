#include "cli/readings_input.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <set>

#include "prove/readings_file.hpp"

namespace firstdraw::cli {
namespace {

namespace fs = std::filesystem;

std::expected<std::string, std::string> text_of(const std::string& file) {
  std::error_code error;
  if (fs::exists(file, error) && !fs::is_regular_file(file, error)) return std::unexpected("is not a file");
  errno = 0;
  std::ifstream in(file, std::ios::binary);
  if (!in) return std::unexpected(std::string("cannot be read: ") + std::strerror(errno));
  std::string text(std::istreambuf_iterator<char>(in), {});
  if (in.bad()) return std::unexpected(std::string("cannot be read: ") + std::strerror(errno));
  return text;
}

void fill_in(const store::Record& record, prove::Reading& reading) {
  if (reading.at.empty()) reading.at = record.at;
  if (reading.who.empty()) reading.who = record.who;
  prove::Instrument& instrument = reading.instrument;
  if (record.instruments.size() != 1 || !instrument.name.empty() || !instrument.serial.empty()) return;
  const store::Instrument& used = record.instruments.front();
  instrument.name = used.name;
  instrument.serial = used.serial;
  if (instrument.calibration_due.empty()) instrument.calibration_due = used.calibration_due;
}

}  // namespace

std::expected<std::vector<prove::Reading>, ExitCode> read_readings_or_complain(const std::string& file,
                                                                               const job::Job& job,
                                                                               const plan::Plan& plan,
                                                                               const Context& context) {
  const auto text = text_of(file);
  if (!text)
    return std::unexpected(context.fail(ExitCode::job_unreadable, {{file, 0, 0, "", text.error(), ""}}));
  auto readings = prove::read_readings(*text, file, job, plan);
  if (!readings) return std::unexpected(context.fail(ExitCode::job_unreadable, readings.error()));
  return *std::move(readings);
}

std::expected<std::vector<RecordedReading>, ExitCode> readings_in_or_complain(
    const std::vector<store::Record>& records, const std::string& where, const Context& context) {
  std::set<std::int64_t> corrected;
  for (const store::Record& record : records)
    if (record.corrects) corrected.insert(*record.corrects);
  std::vector<RecordedReading> all;
  Diagnostics problems;
  for (const store::Record& record : records) {
    if (record.kind != store::RecordKind::test || corrected.contains(record.number)) continue;
    auto readings = prove::from_body(record.body);
    if (!readings) {
      problems.push_back({where, 0, 0, fmt::format("record {}", record.number), readings.error(), ""});
      continue;
    }
    for (prove::Reading& reading : *readings) {
      fill_in(record, reading);
      all.push_back({std::move(reading), record.number});
    }
  }
  if (!problems.empty()) return std::unexpected(context.fail(ExitCode::job_unreadable, problems));
  return all;
}

std::expected<std::vector<prove::Reading>, ExitCode> recorded_readings_or_complain(
    const StoreOptions& options, const std::string& folder, const Context& context) {
  const auto store = open_store_or_complain(options, folder, false, context);
  if (!store) return std::unexpected(store.error());
  const auto records = store->records(book_of(options, folder));
  if (!records) return std::unexpected(complain(records.error(), false, context));
  auto recorded = readings_in_or_complain(*records, store->where(), context);
  if (!recorded) return std::unexpected(recorded.error());
  std::vector<prove::Reading> readings;
  for (RecordedReading& each : *recorded) readings.push_back(std::move(each.reading));
  return readings;
}

}  // namespace firstdraw::cli
