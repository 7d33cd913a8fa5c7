// A logger's file: guessed and imported; the guess as a text reads back to the same guess.
#include <algorithm>

#include "fuzz_folder.hpp"
#include "fuzz_targets.hpp"
#include "watch/log_format.hpp"
#include "watch/log_import.hpp"

namespace firstdraw::fuzz {
namespace {

job::Job some_job() {
  job::Job job;
  job.groups.emplace_back().id = "main";
  job.runs.emplace_back().id = "R-01";
  job.tariff.zone = "America/Chicago";
  return job;
}

void check_import(std::string_view text, const watch::LogFormat& format) {
  const auto log = watch::import_log(text, "log.csv", format);
  if (!log) {
    if (log.error().empty()) broken("a log that is refused has a reason");
    return;
  }
  for (const auto& series : log->series) {
    const auto later = [](const store::Sample& a, const store::Sample& b) { return a.at_ms >= b.at_ms; };
    if (std::ranges::adjacent_find(series.samples, later) != series.samples.end())
      broken("imported readings rise, one a moment");
    for (const auto& sample : series.samples)
      if (sample.value != sample.value) broken("no imported reading is a NaN");
  }
}

}  // namespace

/// "@@ format" begins a format to read the log by, "@@ log" the log; without them all of it is a log.
int one_csv_log(const std::uint8_t* data, std::size_t size) {
  static const job::Job job = some_job();
  const std::string_view input = text_of(data, size);
  const auto files = files_in(input);
  const auto log = files.find("log");
  const std::string_view text = log == files.end() ? input : std::string_view(log->second);
  if (const auto own = files.find("format"); own != files.end()) {
    if (const auto format = watch::read_format(own->second, "format.toml", job)) check_import(text, *format);
    return 0;
  }
  const auto guess = watch::guess_format(text, "log.csv", job);
  if (!guess) return 0;
  const auto again = watch::read_format(watch::format_text(guess->format), "format.toml", job);
  if (again && !(*again == guess->format)) broken("a format that was written reads back to the same");
  check_import(text, guess->format);
  return 0;
}

}  // namespace firstdraw::fuzz
