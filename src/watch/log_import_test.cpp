// Reading by a format: hostile text gives one clear error, formats are read strictly, any format is read
// back.
#include "watch/log_import.hpp"

#include <fmt/format.h>
#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <random>

#include "units/quantity.hpp"
#include "watch/log_format.hpp"
#include "watch/log_number.hpp"
#include "watch/log_stamp.hpp"

namespace firstdraw::watch {
namespace {

using testing::HasSubstr;

job::Job a_job() {
  job::Job job;
  job.tariff.zone = "Europe/Berlin";
  job.groups.push_back({});
  job.groups.back().id = "riser-a";
  job.groups.push_back({});
  job.groups.back().id = "riser-b";
  return job;
}

std::string refusal(const std::string& text) {
  const auto guess = guess_format(text, "a.log", a_job());
  return guess ? "guessed" : guess.error().text();
}

bool reads_anything(const LogFormat& format) {
  return std::ranges::any_of(format.columns, [](const LogColumn& one) { return !one.series.empty(); });
}

TEST(HostileLog, EmptyAndBlank) {
  EXPECT_THAT(refusal(""), HasSubstr("a.log: is empty"));
  EXPECT_THAT(refusal("\n\n  \n"), HasSubstr("holds no line of text"));
  EXPECT_THAT(refusal("a letter\nto nobody\n"), HasSubstr("no line with a date and a reading"));
}

TEST(HostileLog, Binary) {
  std::string bytes(5000, '\0');
  std::mt19937 random(7);
  for (char& byte : bytes) byte = static_cast<char>(random());
  EXPECT_THAT(refusal(bytes), HasSubstr("no text that a logger wrote"));
  using namespace std::string_literals;
  EXPECT_THAT(refusal("time,Pipe (°C)\n2026-03-04 05:06,5\0.1\n"s), HasSubstr("NUL"));
}

TEST(HostileLog, OneLineOfTenMegabytes) {
  EXPECT_THAT(refusal(std::string(10'000'000, '7')), HasSubstr("longer than 1 MB"));
  LogFormat format;
  format.columns = {{"x", "x", "temperature", "", ""}};
  format.clock = ClockKind::unix_s;
  format.header_line = 0;
  format.first_line = 1;
  const auto read = import_log(std::string(10'000'000, '7'), "a.log", format);
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1U);
  EXPECT_THAT(read.error()[0].text(), HasSubstr("a.log:1: this line is longer than 1 MB"));
}

TEST(HostileLog, AQuoteThatNeverCloses) {
  std::string text = "time,Pipe (°C)\n";
  for (int i = 10; i < 60; ++i) text += "2026-03-04 05:" + std::to_string(i) + ",51.3\n";
  const std::string open = "\"2026-03-04 06:00,51.3\n";
  std::string spoilt = text;
  spoilt.insert(spoilt.find("2026-03-04 05:20"), open);
  const auto guess = guess_format(text, "a.log", a_job());
  ASSERT_TRUE(guess);
  const auto read = import_log(spoilt, "a.log", guess->format);
  ASSERT_FALSE(read);
  ASSERT_EQ(read.error().size(), 1U);
  EXPECT_THAT(read.error()[0].text(), HasSubstr("a.log:12: a quote that opens on this line does not close"));
}

TEST(HostileLog, CommasBetweenCellsAndInNumbers) {
  EXPECT_THAT(refusal("Zeit,Rohr (°C),Strom (A)\n04.03.2026 05:06,51,3,4,25\n04.03.2026 05:11,51,4,4,31\n"),
              HasSubstr("commas stand between the cells and within the numbers"));
}

TEST(HostileLog, CutAnywhereItIsReadOrRefused) {
  const std::string text =
      "Logger X\nDate;Time;\"Riser A; pipe "
      "(°C)\";State\n04.03.2026;05:06:07;51,3;ON\n04.03.2026;05:11:07;51,4;OFF\n";
  for (std::size_t length = 0; length <= text.size(); ++length) {
    const auto guess = guess_format(text.substr(0, length), "a.log", a_job());
    if (!guess) continue;
    EXPECT_EQ(import_log(text.substr(0, length), "a.log", guess->format).has_value(),
              reads_anything(guess->format));
  }
}

TEST(HostileLog, TurnedBytesNeverCrash) {
  const std::string text =
      "Date,Riser A pipe (°F),Riser B pipe (°F),Heater\n3/4/2026 5:06:07 PM,125.3,130.1,ON\n3/4/2026 5:11:07 "
      "PM,125.1,130.0,OFF\n3/4/2026 5:16:07 PM,124.9,129.8,OFF\n";
  std::mt19937 random(11);
  for (int i = 0; i < 3000; ++i) {
    std::string spoilt = text;
    for (int k = 0; k < 3; ++k) spoilt[random() % spoilt.size()] = static_cast<char>(random());
    if (const auto guess = guess_format(spoilt, "a.log", a_job())) {
      (void)import_log(spoilt, "a.log", guess->format);
      const auto back = read_format(format_text(guess->format), "f.toml", a_job());
      EXPECT_EQ(back.has_value(), reads_anything(guess->format)) << format_text(guess->format);
    }
  }
}

std::vector<std::string> complaints(const std::string& toml) {
  const auto format = read_format(toml, "f.toml", a_job());
  std::vector<std::string> texts;
  if (format) return texts;
  for (const auto& one : format.error()) texts.push_back(one.text());
  return texts;
}

const std::string good =
    "delimiter = \"semicolon\"\ndecimal = \"comma\"\nencoding = \"utf-8\"\nheader_line = 1\nfirst_line = 2\n"
    "[time]\ncolumn = 1\nclock = \"local\"\norder = \"day-month-year\"\nzone = \"Europe/Berlin\"\n"
    "[[column]]\nheader = \"Rohr\"\nseries = \"a\"\nquantity = \"temperature\"\nplace = \"riser-a\"\nunit = "
    "\"°C\"\n";

std::string with(const std::string& from, const std::string& to) {
  std::string text = good;
  text.replace(text.find(from), from.size(), to);
  return text;
}

TEST(FormatText, IsReadStrictly) {
  EXPECT_TRUE(complaints(good).empty()) << complaints(good).front();
  using testing::ElementsAre;
  EXPECT_THAT(
      complaints(with("\"semicolon\"", "\"semicolons\"")),
      ElementsAre(testing::AllOf(HasSubstr("f.toml:1"), HasSubstr("delimiter"), HasSubstr("semicolon"))));
  EXPECT_THAT(
      complaints(with("riser-a", "riser-x")),
      ElementsAre(testing::AllOf(HasSubstr("f.toml:15"), HasSubstr("riser-x"), HasSubstr("did you mean"))));
  EXPECT_THAT(complaints(with("Europe/Berlin", "Europe/Berlim")), ElementsAre(HasSubstr("did you mean")));
  EXPECT_THAT(complaints(with("\"°C\"", "\"A\"")), ElementsAre(HasSubstr("column.unit")));
  EXPECT_THAT(complaints(with("zone =", "zon =")), testing::SizeIs(testing::Ge(1U)));
  EXPECT_THAT(complaints(with("first_line = 2", "first_line = 1")),
              ElementsAre(HasSubstr("below header_line")));
  EXPECT_THAT(complaints("delimiter = [\n"), ElementsAre(HasSubstr("is not TOML here")));
  EXPECT_THAT(complaints(with("[[column]]", "[column]")), testing::Not(testing::IsEmpty()));
}

TEST(FormatText, OfAnotherLogIsRefusedByItsHeader) {
  const auto format = read_format(good, "f.toml", a_job());
  ASSERT_TRUE(format);
  const auto read = import_log("Zeit;Rohre\n04.03.2026 05:06;51,3\n", "b.log", *format);
  ASSERT_FALSE(read);
  EXPECT_THAT(read.error()[0].text(),
              HasSubstr("b.log:1: column 2: is called \"Rohre\"; the format calls it \"Rohr\""));
}

TEST(LogNumber, SignsOfAllKinds) {
  const auto value = [](std::string_view cell, char decimal) {
    const auto number = log_number(cell, decimal);
    return number ? number->value : std::nan("");
  };
  EXPECT_EQ(value("51.3", '.'), 51.3);
  EXPECT_EQ(value("+51,3", ','), 51.3);
  EXPECT_EQ(value("1,234.5", '.'), 1234.5);
  EXPECT_EQ(value("1.234.567,8", ','), 1234567.8);
  EXPECT_EQ(value("1 234,5", ','), 1234.5);
  EXPECT_EQ(value("1\u202f234,5", ','), 1234.5);
  EXPECT_EQ(value("1'234.5", '.'), 1234.5);
  EXPECT_EQ(value("\u22123.5", '.'), -3.5);
  EXPECT_EQ(value("-.5", '.'), -0.5);
  EXPECT_EQ(value("1e-3", '.'), 1e-3);
  EXPECT_EQ(log_number("51.3 °C", '.')->rest, "°C");
  for (const char* wrong :
       {"", "-", "12,34.5", "1,2345", "12:30", "1.2.3", "2026-03-04", "nan", "inf", "0x10"})
    EXPECT_FALSE(log_number(wrong, '.') && log_number(wrong, '.')->rest.empty()) << wrong;
}

TEST(Stamp, HalfDaysAtNoonAndMidnight) {
  const auto clock = [](std::string_view text) {
    const auto stamp = read_stamp(text, DateOrder::month_day_year);
    return stamp ? stamp->clock_ms % 86'400'000 / 60'000 : -1;
  };
  EXPECT_EQ(clock("3/4/2026 12:00 AM"), 0);
  EXPECT_EQ(clock("3/4/2026 12:30 a.m."), 30);
  EXPECT_EQ(clock("3/4/2026 12:00 PM"), 720);
  EXPECT_EQ(clock("3/4/2026 1:05pm"), 785);
  EXPECT_EQ(clock("3/4/2026 13:05 PM"), 785);
  EXPECT_EQ(clock("3/4/2026 13:05 AM"), -1);
  EXPECT_EQ(clock("3/4/2026 24:00"), 0);
  EXPECT_EQ(clock("3/4/2026 24:01"), -1);
  EXPECT_EQ(clock("2/30/2026 1:00"), -1);
}

/// Any format at all: samples written by it are read back the same.
TEST(AnyFormat, ReadsBackWhatWasWritten) {
  std::mt19937 random(3);
  const auto pick = [&random](std::size_t count) { return static_cast<std::size_t>(random() % count); };
  for (int round = 0; round < 300; ++round) {
    LogFormat format;
    format.delimiter = std::string_view(",;\t|")[pick(4)];
    format.decimal = format.delimiter == ',' ? '.' : std::string_view(".,")[pick(2)];
    format.order = static_cast<DateOrder>(pick(3));
    format.clock = std::array{ClockKind::fixed, ClockKind::with_offset, ClockKind::unix_ms}[pick(3)];
    if (format.clock == ClockKind::fixed) format.utc_offset_s = (static_cast<int>(pick(27)) - 12) * 1800;
    if (format.clock == ClockKind::unix_ms) format.order = DateOrder::year_month_day;
    format.missing = {"", "NaN"};
    const int columns = 1 + static_cast<int>(pick(3));
    std::string text = "time";
    for (int c = 0; c < columns; ++c) {
      const std::string name = "c" + std::to_string(c);
      format.columns.push_back({name, name, "temperature", "", pick(2) == 0 ? "°F" : "°C"});
      text += format.delimiter + name;
    }
    text += '\n';
    std::vector<std::vector<store::Sample>> written(static_cast<std::size_t>(columns));
    std::int64_t at_ms = 1'767'225'600'000 + static_cast<std::int64_t>(pick(31'000'000)) * 1000;
    for (int row = 0; row < 40; ++row, at_ms += 60'000) {
      const int offset_s = format.clock == ClockKind::with_offset ? 3600 : format.utc_offset_s;
      const std::int64_t shown = at_ms + offset_s * 1000LL, of_day = shown % 86'400'000 / 1000;
      const std::chrono::year_month_day date{
          std::chrono::sys_days(std::chrono::days(static_cast<int>(shown / 86'400'000)))};
      const int y = static_cast<int>(date.year()), m = static_cast<int>(static_cast<unsigned>(date.month())),
                d = static_cast<int>(static_cast<unsigned>(date.day()));
      const std::string day =
          format.order == DateOrder::year_month_day   ? fmt::format("{:04}-{:02}-{:02}", y, m, d)
          : format.order == DateOrder::day_month_year ? fmt::format("{:02}.{:02}.{:04}", d, m, y)
                                                      : fmt::format("{}/{}/{:04}", m, d, y);
      std::string stamp =
          fmt::format("{} {:02}:{:02}:{:02}", day, of_day / 3600, of_day / 60 % 60, of_day % 60);
      if (format.clock == ClockKind::with_offset) stamp += "+01:00";
      text += format.clock == ClockKind::unix_ms ? std::to_string(at_ms) : stamp;
      for (int c = 0; c < columns; ++c) {
        text += format.delimiter;
        if (pick(10) == 0) {
          text += pick(2) == 0 ? "NaN" : "";
          continue;
        }
        const double shown_value = 100 + static_cast<double>(pick(500)) / 10;
        std::string cell = fmt::format("{:.1f}", shown_value);
        if (format.decimal == ',') cell.replace(cell.find('.'), 1, ",");
        text += cell;
        const auto& unit = format.columns[static_cast<std::size_t>(c)].unit;
        written[static_cast<std::size_t>(c)].push_back(
            {at_ms, *units::to_si(shown_value, unit, units::Kind::temperature)});
      }
      text += '\n';
    }
    // 100 to 150 °C is more than a pipe has; what is left out there is not what this is about.
    for (auto& series : written) std::erase_if(series, [](const auto& sample) { return sample.value > 130; });
    const auto back = read_format(format_text(format), "f.toml", a_job());
    ASSERT_TRUE(back) << back.error().front().text();
    ASSERT_EQ(*back, format);
    const auto read = import_log(text, "a.log", *back);
    ASSERT_TRUE(read) << read.error().front().text() << text;
    for (std::size_t c = 0; c < written.size(); ++c)
      EXPECT_EQ(read->series[c].samples, written[c]) << format_text(format) << text;
  }
}

TEST(ImportLog, ReadsInPieces) {
  std::string text = "time;Rohr\n";
  for (int i = 0; i < 2000; ++i)
    text += std::to_string(1'767'225'600 + i * 60) + ";\"" + std::to_string(i % 50) + "\"\n";
  LogFormat format;
  format.delimiter = ';';
  format.clock = ClockKind::unix_s;
  format.columns = {{"Rohr", "a", "temperature", "", ""}};
  const auto whole = import_log(text, "a.log", format);
  ASSERT_TRUE(whole);
  std::size_t at = 0, turn = 0;
  const auto read = [&](char* buffer, std::size_t size) {
    const std::size_t taken = std::min({size, text.size() - at, std::size_t{1} + turn++ % 97});
    std::copy_n(text.data() + at, taken, buffer);
    at += taken;
    return taken;
  };
  const auto pieces = import_log(read, "a.log", format);
  ASSERT_TRUE(pieces);
  EXPECT_EQ(pieces->series[0].samples, whole->series[0].samples);
  EXPECT_EQ(pieces->series[0].samples.size(), 2000U);
}

}  // namespace
}  // namespace firstdraw::watch
