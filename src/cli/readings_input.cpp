#include "cli/readings_input.hpp"

#include <fmt/format.h>

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

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

std::expected<std::vector<prove::Reading>, ExitCode> recorded_readings_or_complain(
    const StoreOptions& options, const std::string& folder, const Context& context) {
  const auto store = open_store_or_complain(options, folder, false, context);
  if (!store) return std::unexpected(store.error());
  store::Wanted wanted;
  wanted.kind = store::RecordKind::test;
  wanted.with_corrected = false;
  const auto records = store->records(book_of(options, folder), wanted);
  if (!records) return std::unexpected(complain(records.error(), false, context));
  std::vector<prove::Reading> all;
  Diagnostics problems;
  for (const store::Record& record : *records) {
    auto readings = prove::from_body(record.body);
    if (!readings) {
      problems.push_back(
          {store->where(), 0, 0, fmt::format("record {}", record.number), readings.error(), ""});
      continue;
    }
    for (prove::Reading& reading : *readings) {
      fill_in(record, reading);
      all.push_back(std::move(reading));
    }
  }
  if (!problems.empty()) return std::unexpected(context.fail(ExitCode::job_unreadable, problems));
  return all;
}

}  // namespace firstdraw::cli
