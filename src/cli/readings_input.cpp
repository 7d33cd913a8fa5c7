#include "cli/readings_input.hpp"

#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <iterator>

#include "paper/recorded.hpp"
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
  const auto records = store->records(book_of(options, folder));
  if (!records) return std::unexpected(complain(records.error(), false, context));
  auto recorded = paper::readings_in(*records, store->where());
  if (!recorded) return std::unexpected(context.fail(ExitCode::job_unreadable, recorded.error()));
  std::vector<prove::Reading> readings;
  for (paper::RecordedReading& each : *recorded) readings.push_back(std::move(each.reading));
  return readings;
}

}  // namespace firstdraw::cli
