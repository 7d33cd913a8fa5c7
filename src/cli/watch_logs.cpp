#include "cli/watch_logs.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <limits>
#include <nlohmann/json.hpp>

#include "cli/job_input.hpp"
#include "units/quantity.hpp"
#include "week/calendar.hpp"

namespace firstdraw::cli {
namespace {

constexpr int first_year = 1971, last_year = 2036;
constexpr std::int64_t day_ms = 86'400'000, usual_days = 31;

std::expected<week::Zone, ExitCode> zone_of(const LogsOptions& options, const job::Job& job,
                                            const Context& context) {
  const std::string& name = options.zone.empty() ? job.tariff.zone : options.zone;
  const std::string_view field = options.zone.empty() ? "tariff.zone" : "--zone";
  if (name.empty())
    return std::unexpected(context.fail(
        ExitCode::wrong_command_line,
        {complaint(
            "--zone", "the site's time zone is not known; expected its name in the IANA list",
            "give --zone America/Chicago, or write zone = \"America/Chicago\" in [tariff] of job.toml")}));
  auto zone = week::read_zone(name, first_year, last_year);
  if (!zone)
    return std::unexpected(context.fail(ExitCode::wrong_command_line, {complaint(field, zone.error())}));
  return *std::move(zone);
}

struct Span {
  std::int64_t from_ms = 0, to_ms = 0;
};

std::expected<std::int64_t, job::Diagnostic> day_ms_of(std::string_view option, const std::string& text,
                                                       const week::Zone& zone, bool after) {
  const auto date = week::parse_date(text);
  if (!date) return std::unexpected(complaint(option, date.error()));
  const int year = static_cast<int>(date->year());
  if (year < first_year || year > last_year)
    return std::unexpected(
        complaint(option, fmt::format("is not in the years {} to {}", first_year, last_year)));
  return 1000 * week::day_begin(zone, after ? week::next_day(*date) : *date);
}

/// The moment after the last reading of any series; 0: none.
store::Result<std::int64_t> end_of_logs(const store::Store& store,
                                        const std::vector<store::SeriesInfo>& all) {
  std::int64_t end_ms = 0;
  for (const store::SeriesInfo& info : all) {
    const auto days = store.days(info.id, 0, std::numeric_limits<std::int64_t>::max() / 4);
    if (!days) return std::unexpected(days.error());
    if (!days->empty()) end_ms = std::max(end_ms, days->back().last.at_ms + 1);
  }
  return end_ms;
}

store::Result<watch::Logged> read_span(const store::Store& store, const std::vector<store::SeriesInfo>& all,
                                       const Span& span) {
  watch::Logged logged{span.from_ms, span.to_ms, {}};
  for (const store::SeriesInfo& info : all) {
    auto samples = store.samples(info.id, span.from_ms, span.to_ms);
    if (!samples) return std::unexpected(samples.error());
    if (!samples->empty()) logged.series.push_back({info, *std::move(samples)});
  }
  return logged;
}

/// What a record of an action says: `text` of its body, else its first text.
std::string text_of(const std::string& body) {
  const auto json = nlohmann::json::parse(body, nullptr, false);
  if (!json.is_object()) return {};
  if (const auto text = json.find("text"); text != json.end() && text->is_string()) return *text;
  for (const auto& [key, value] : json.items())
    if (value.is_string()) return value;
  return {};
}

store::Result<std::vector<watch::ActionTaken>> read_actions(const store::Store& store,
                                                            const std::string& book,
                                                            const std::string& month) {
  store::Wanted wanted;
  wanted.kind = store::RecordKind::action;
  wanted.with_corrected = false;
  const auto records = store.records(book, wanted);
  if (!records) return std::unexpected(records.error());
  std::vector<watch::ActionTaken> actions;
  for (const store::Record& record : *records)
    if (record.at.starts_with(month))  // written in the local time of whoever did it
      actions.push_back({record.at, record.who, text_of(record.body), record.number});
  std::ranges::sort(actions, {}, &watch::ActionTaken::at);
  return actions;
}

/// Job, zone, store and its series: what every form starts from.
struct Opened {
  job::Job job;
  week::Zone zone;
  store::Store store;
  std::string book;
  std::vector<store::SeriesInfo> series;
};
std::expected<Opened, ExitCode> open_logs(const LogsOptions& options, const Context& context) {
  auto job = read_job_or_complain(options.folder, context);
  if (!job) return std::unexpected(job.error());
  auto zone = zone_of(options, *job, context);
  if (!zone) return std::unexpected(zone.error());
  auto store = open_store_or_complain(options.store, options.folder, false, context);
  if (!store) return std::unexpected(store.error());
  const std::string book = book_of(options.store, options.folder);
  auto series = store->series_of(book);
  if (!series) return std::unexpected(complain(series.error(), false, context));
  if (series->empty())
    return std::unexpected(
        context.fail(ExitCode::job_unreadable,
                     {{store->where(), 0, 0, "", fmt::format("nothing was logged in book \"{}\"", book),
                       "firstdraw watch import reads a logger's file into it"}}));
  return Opened{*std::move(job), *std::move(zone), *std::move(store), book, *std::move(series)};
}

}  // namespace

void add_logs_options(CLI::App* command, LogsOptions& options, bool span) {
  add_job_argument(command, options.folder);
  add_store_options(command, options.store);
  command->add_option("--zone", options.zone, "time zone of the site, where job.toml names none")
      ->type_name("NAME");
  if (!span) return;
  command
      ->add_option("--from", options.from,
                   "first local day, 2026-03-01; 31 days before the last reading if not given")
      ->type_name("DATE");
  command->add_option("--to", options.to, "last local day; that of the last reading if not given")
      ->type_name("DATE");
}

std::expected<LogsRead, ExitCode> read_logs_or_complain(const LogsOptions& options, const Context& context) {
  auto opened = open_logs(options, context);
  if (!opened) return std::unexpected(opened.error());
  const auto end_ms = end_of_logs(opened->store, opened->series);
  if (!end_ms) return std::unexpected(complain(end_ms.error(), false, context));
  Span span{0, *end_ms};
  Diagnostics problems;
  const auto take = [&](std::string_view option, const std::string& text, bool after, std::int64_t& into) {
    if (text.empty()) return;
    const auto at_ms = day_ms_of(option, text, opened->zone, after);
    if (at_ms)
      into = *at_ms;
    else
      problems.push_back(at_ms.error());
  };
  take("--to", options.to, true, span.to_ms);
  span.from_ms = std::max<std::int64_t>(0, span.to_ms - usual_days * day_ms);
  take("--from", options.from, false, span.from_ms);
  if (problems.empty() && span.from_ms >= span.to_ms)
    problems.push_back(complaint("--from", "is not before --to, or after the last reading"));
  if (!problems.empty()) return std::unexpected(context.fail(ExitCode::wrong_command_line, problems));
  auto logged = read_span(opened->store, opened->series, span);
  if (!logged) return std::unexpected(complain(logged.error(), false, context));
  return LogsRead{std::move(opened->job), std::move(opened->zone), *std::move(logged)};
}

std::expected<MonthRead, ExitCode> read_month_or_complain(const LogsOptions& options,
                                                          const std::string& month, int before_days,
                                                          const Context& context) {
  const auto first = week::parse_date(month + "-01");
  const int year = first ? static_cast<int>(first->year()) : 0;
  if (!first || month.size() != 7 || year < first_year || year > last_year)
    return std::unexpected(context.fail(
        ExitCode::wrong_command_line,
        {complaint("--month", fmt::format("\"{}\" is no month; expected one such as 2026-03, {} to {}", month,
                                          first_year, last_year))}));
  auto opened = open_logs(options, context);
  if (!opened) return std::unexpected(opened.error());
  const int number = static_cast<int>(static_cast<unsigned>(first->month()));
  Span span{1000 * week::day_begin(opened->zone, *first) - before_days * day_ms,
            1000 * week::day_begin(opened->zone, week::first_of_month(year, number + 1))};
  auto logged = read_span(opened->store, opened->series, span);
  if (!logged) return std::unexpected(complain(logged.error(), false, context));
  auto actions = read_actions(opened->store, opened->book, month);
  if (!actions) return std::unexpected(complain(actions.error(), false, context));
  return MonthRead{{std::move(opened->job), std::move(opened->zone), *std::move(logged), *std::move(actions)},
                   year,
                   number};
}

std::string span_text(const LogsRead& read) {
  const auto day = [&](std::int64_t at_ms) {
    return week::date_text(week::local_time(read.zone, at_ms / 1000).date);
  };
  return fmt::format("{} to {}", day(read.logged.from_ms), day(read.logged.to_ms - 1));
}

}  // namespace firstdraw::cli
