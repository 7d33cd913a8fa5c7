// Small logs in many notations, written with their truth by tests/reference/data/logs/make_logs.py (Python's
// csv, datetime and zoneinfo: an independent path to the same instants), guessed and read.
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <cmath>
#include <fstream>
#include <map>
#include <nlohmann/json.hpp>
#include <sstream>

#include "places.hpp"
#include "watch/log_format.hpp"
#include "watch/log_import.hpp"

namespace firstdraw::watch {
namespace {

using nlohmann::json;

std::string folder() { return places::sources() + "/tests/reference/data/logs/"; }

std::string read_whole(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::stringstream text;
  text << in.rdbuf();
  return text.str();
}

job::Job job_in(const std::string& zone) {
  job::Job job;
  job.tariff.zone = zone;
  job.groups.push_back({});
  job.groups.back().id = "main";
  job.groups.back().name = "Guest wing";
  return job;
}

struct Log {
  json truth;
  std::string text;
  std::string name() const { return truth["name"]; }
};

const std::vector<Log>& logs() {
  static const std::vector<Log> all = [] {
    std::vector<Log> read;
    for (const json& truth : json::parse(read_whole(folder() + "truth.json")))
      read.push_back({truth, read_whole(folder() + truth["name"].get<std::string>() + ".log")});
    return read;
  }();
  return all;
}

std::string listed(const std::vector<std::string>& texts) {
  std::string all;
  for (const auto& text : texts) all += "\n  " + text;
  return all;
}

/// What of the truth is not in `read`; empty: all of it is, and nothing else.
std::string difference(const json& truth, const LogImport& read) {
  const auto& columns = truth["columns"];
  if (columns.size() != read.series.size())
    return "columns read: " + std::to_string(read.series.size()) + " of " + std::to_string(columns.size());
  for (std::size_t c = 0; c < columns.size(); ++c) {
    const LogSeries& series = read.series[c];
    if (series.column.quantity != columns[c]["quantity"]) return "quantity " + series.column.quantity;
    std::map<std::int64_t, double> wanted;
    for (std::size_t i = 0; i < truth["at_ms"].size(); ++i) {
      if (!columns[c]["values"][i].is_null()) wanted[truth["at_ms"][i]] = columns[c]["values"][i];
    }
    if (wanted.size() != series.samples.size())
      return "samples " + std::to_string(series.samples.size()) + " of " + std::to_string(wanted.size());
    std::size_t i = 0;
    for (const auto& [at_ms, value] : wanted) {
      const store::Sample& sample = series.samples[i++];
      if (sample.at_ms != at_ms)
        return "sample " + std::to_string(i) + " is off by " + std::to_string(sample.at_ms - at_ms) + " ms";
      if (std::abs(sample.value - value) > 1e-9) return "value " + std::to_string(sample.value);
    }
  }
  return {};
}

void expect_format(const json& want, const LogFormat& format) {
  const std::map<ClockKind, std::string> clocks{{ClockKind::local, "local"},
                                                {ClockKind::fixed, "fixed"},
                                                {ClockKind::unix_s, "unix-seconds"},
                                                {ClockKind::unix_ms, "unix-milliseconds"},
                                                {ClockKind::spreadsheet, "spreadsheet-days"},
                                                {ClockKind::with_offset, "with-offset"}};
  const std::map<DateOrder, std::string> orders{{DateOrder::year_month_day, "year-month-day"},
                                                {DateOrder::day_month_year, "day-month-year"},
                                                {DateOrder::month_day_year, "month-day-year"}};
  const json told{{"clock", clocks.at(format.clock)},
                  {"order", orders.at(format.order)},
                  {"utc_offset_s", format.utc_offset_s},
                  {"zone", format.zone},
                  {"encoding", format.encoding},
                  {"decimal", std::string(1, format.decimal)},
                  {"delimiter", std::string(1, format.delimiter)}};
  for (const auto& [key, value] : want.items()) EXPECT_EQ(told.at(key), value) << key;
}

class LogMatrix : public testing::TestWithParam<std::size_t> {};

TEST_P(LogMatrix, GuessedAndReadAsItWasWritten) {
  const Log& log = logs()[GetParam()];
  const job::Job job = job_in(log.truth["zone"]);
  const auto guess = guess_format(log.text, log.name() + ".log", job);
  ASSERT_TRUE(guess) << guess.error().text();
  SCOPED_TRACE(format_text(guess->format));
  EXPECT_EQ(!guess->doubts.empty(), log.truth["doubt"].get<bool>()) << listed(guess->doubts);
  expect_format(log.truth["want"], guess->format);
  const auto read = import_log(log.text, log.name() + ".log", guess->format);
  if (log.truth["columns"].empty()) {
    ASSERT_FALSE(read);
    EXPECT_THAT(read.error().front().text(), testing::HasSubstr("the format reads no column"));
    return;
  }
  ASSERT_TRUE(read) << read.error().front().text();
  EXPECT_EQ(difference(log.truth, *read), "");
  for (const Oddity& oddity : read->oddities)
    EXPECT_TRUE(log.name() == "footer" || log.name().starts_with("missing"))
        << oddity.line << ": " << oddity.said;
}

TEST_P(LogMatrix, ItsFormatIsATextAndBack) {
  const Log& log = logs()[GetParam()];
  const job::Job job = job_in(log.truth["zone"]);
  const auto guess = guess_format(log.text, log.name() + ".log", job);
  ASSERT_TRUE(guess);
  const std::string text = format_text(guess->format);
  const auto back = read_format(text, "format.toml", job);
  if (log.truth["columns"].empty()) {
    ASSERT_FALSE(back);
    EXPECT_THAT(back.error().front().text(), testing::HasSubstr("no column is read"));
    return;
  }
  ASSERT_TRUE(back) << back.error().front().text() << "\n" << text;
  EXPECT_EQ(*back, guess->format) << text;
  EXPECT_EQ(format_text(*back), text);
}

INSTANTIATE_TEST_SUITE_P(Logs, LogMatrix, testing::Range(std::size_t{0}, std::size_t{85}),
                         [](const auto& test) {
                           std::string name = logs()[test.param].name();
                           for (char& letter : name) letter = letter == '-' ? '_' : letter;
                           return name;
                         });

TEST(LogMatrix, HoldsEveryLogThatWasWritten) { EXPECT_EQ(logs().size(), 85U); }

}  // namespace
}  // namespace firstdraw::watch
