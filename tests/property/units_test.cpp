// Properties of reading and writing quantities and CSV: nothing is lost on the way through text, and no text
// breaks the reader.
#include <fmt/format.h>
#include <gtest/gtest.h>
#include <rapidcheck.h>

#include <array>
#include <bit>
#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>
#include <string_view>
#include <vector>

#include "tables/csv.hpp"
#include "units/quantity.hpp"

namespace firstdraw::units {
namespace {

constexpr int kKinds = static_cast<int>(Kind::fraction) + 1;

struct Spelling {
  std::string_view text;
  Kind kind;
};
// Texts that read well, to be damaged, and units for round trips.
constexpr std::array<Spelling, 24> kGood{{
    {"1-1/2 in", Kind::size},
    {"12' 6-1/2\"", Kind::length},
    {"12 ft 6 in", Kind::length},
    {"115 °F", Kind::temperature},
    {"46C", Kind::temperature},
    {"9 K", Kind::temperature_difference},
    {"0.25 Btu·in/(h·ft²·°F)", Kind::conductivity},
    {"0.036 W/(m K)", Kind::conductivity},
    {"2 Btu/h.ft2.F", Kind::film_coefficient},
    {"8 W/m", Kind::power_per_length},
    {"1½ in", Kind::size},
    {"208 V", Kind::voltage},
    {"30 mA", Kind::current},
    {"0.1 A/ft", Kind::current_per_length},
    {"20 MΩ", Kind::resistance},
    {"1.98 ohm/1000 ft", Kind::resistance_per_length},
    {"0.45 nF/m", Kind::capacitance_per_length},
    {"6 L/min", Kind::volume_flow},
    {"3 gal", Kind::volume},
    {"90 min", Kind::duration},
    {"180 deg", Kind::angle},
    {"80 %", Kind::fraction},
    {"60 Hz", Kind::frequency},
    {"2 kWh", Kind::energy},
}};

Kind any_kind() { return static_cast<Kind>(*rc::gen::inRange(0, kKinds)); }
System any_system() { return *rc::gen::element(System::metric, System::us); }

/// Any finite double: every exponent, subnormals and both zeros.
double any_finite() {
  return *rc::gen::suchThat(rc::gen::map(rc::gen::arbitrary<std::uint64_t>(),
                                         [](std::uint64_t bits) { return std::bit_cast<double>(bits); }),
                            [](double x) { return std::isfinite(x); });
}

/// A number as people write them: a few digits, up to 10^6.
double any_everyday() {
  return *rc::gen::inRange(-9'999'999, 9'999'999) / std::pow(10.0, *rc::gen::inRange(0, 5));
}

bool same_bits(double a, double b) {
  return std::bit_cast<std::uint64_t>(a) == std::bit_cast<std::uint64_t>(b);
}

void reads_back(double si, Kind kind, System system) {
  const std::string text = exact_text(si, kind, system);
  const auto back = parse(text, kind);
  if (!back) RC_FAIL(text + ": " + back.error());
  RC_LOG() << text << " " << si << " " << *back;
  RC_ASSERT(same_bits(*back, si));
}

TEST(ExactText, ReadsBackBitForBit) {
  EXPECT_TRUE(rc::check("any double", [] { reads_back(any_finite(), any_kind(), any_system()); }));
  EXPECT_TRUE(rc::check("an everyday number in a display unit", [] {
    const Kind kind = any_kind();
    const System system = any_system();
    reads_back(to_si(any_everyday(), display_unit(kind, system), kind).value(), kind, system);
  }));
}

/// The digits of the number a text begins with, without sign, point, exponent or zeros at either end.
std::string significant_digits(std::string_view text) {
  std::string digits;
  for (const char c : text.substr(0, text.find_first_of(" e")))
    if (c >= '0' && c <= '9') digits += c;
  const auto first = digits.find_first_not_of('0');
  if (first == std::string::npos) return "0";
  return digits.substr(first, digits.find_last_not_of('0') - first + 1);
}

// What a person wrote in the display unit with a few digits is written back with those digits. A resistance
// chooses kΩ or MΩ by its size; durations choose minutes, hours or days, whose digits differ.
TEST(ExactText, KeepsWhatWasWritten) {
  EXPECT_TRUE(rc::check("short decimals stay short", [] {
    const Kind kind = any_kind();
    RC_PRE(kind != Kind::duration);
    const System system = any_system();
    const double written = any_everyday();
    const std::string text =
        exact_text(to_si(written, display_unit(kind, system), kind).value(), kind, system);
    RC_LOG() << written << " became " << text;
    RC_ASSERT(text.ends_with(display_unit(kind, system)));
    RC_ASSERT(significant_digits(text) == significant_digits(fmt::format("{}", written)));
    if (kind != Kind::resistance) RC_ASSERT(std::strtod(text.c_str(), nullptr) == written);
  }));
}

TEST(Conversion, ThereAndBackIsTheSame) {
  EXPECT_TRUE(rc::check("to_si inverts from_si", [] {
    const Kind kind = any_kind();
    const std::string_view unit = display_unit(kind, any_system());
    const double value = any_everyday();
    const double back = from_si(to_si(value, unit, kind).value(), unit, kind);
    // Three roundings; a temperature's zero adds the rounding of the offset 32.
    RC_ASSERT(std::abs(back - value) <= 4e-16 * (std::abs(value) + 64));
  }));
}

TEST(Conversion, KeepsOrder) {
  EXPECT_TRUE(rc::check("a larger value in any unit is a larger quantity", [] {
    const Kind kind = any_kind();
    const std::string_view unit = display_unit(kind, any_system());
    const double value = any_everyday();
    RC_ASSERT(to_si(value, unit, kind).value() < to_si(value + 1, unit, kind).value());
  }));
}

TEST(Parse, MixedFractionsAddUp) {
  EXPECT_TRUE(rc::check("whole and sixteenths", [] {
    const int whole = *rc::gen::inRange(0, 100), part = *rc::gen::inRange(1, 16);
    const std::string joint = *rc::gen::element(std::string("-"), std::string(" "));
    const std::string text = std::to_string(whole) + joint + std::to_string(part) + "/16 in";
    RC_ASSERT(parse(text, Kind::size).value() == (whole + part / 16.0) * 254 / 10000);
  }));
}

/// A good text with some bytes replaced, removed, doubled or put in.
std::string damaged() {
  std::string text(kGood[*rc::gen::inRange<std::size_t>(0, kGood.size())].text);
  const int hits = *rc::gen::inRange(1, 5);
  for (int i = 0; i < hits && !text.empty(); ++i) {
    const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
    switch (*rc::gen::inRange(0, 4)) {
      case 0:
        text[at] = *rc::gen::arbitrary<char>();
        break;
      case 1:
        text.erase(at, 1);
        break;
      case 2:
        text.insert(at, 1, *rc::gen::element(' ', '/', '-', '.', ',', '\'', '"', '(', '1', 'e'));
        break;
      default:
        text.insert(at, text.substr(at / 2));
        break;
    }
  }
  return text;
}

void answers(const std::string& text) {
  const auto value = parse(text, any_kind());
  RC_ASSERT((value ? std::isfinite(*value) : !value.error().empty()));
  const auto bare = parse(text, any_kind(), text);
  RC_ASSERT((bare ? std::isfinite(*bare) : !bare.error().empty()));
}

TEST(Parse, AnswersAnyText) {
  EXPECT_TRUE(rc::check("damaged text", [] { answers(damaged()); }));
  EXPECT_TRUE(rc::check("random bytes", [] { answers(*rc::gen::arbitrary<std::string>()); }));
}

TEST(Show, AnswersAnyNumber) {
  EXPECT_TRUE(rc::check("show", [] {
    const double si = any_finite();
    const Kind kind = any_kind();
    const System system = any_system();
    RC_ASSERT(!show(si, kind, system).empty());
    RC_ASSERT(!show_number(si, kind, system).empty());
  }));
}

}  // namespace
}  // namespace firstdraw::units

namespace firstdraw::tables {
namespace {

/// Text of any Unicode characters but NUL, with those that matter to CSV often.
std::string any_cell() {
  const auto character = rc::gen::oneOf(
      rc::gen::map(rc::gen::element(',', ';', '\t', '"', '\n', '\r', ' ', '#', 'a', '1'),
                   [](char c) { return std::string(1, c); }),
      rc::gen::element(std::string("°"), std::string("½"), std::string("−"), std::string("🔥")));
  std::string cell;
  for (const std::string& c : *rc::gen::container<std::vector<std::string>>(character)) cell += c;
  return cell;
}

TEST(Csv, LinesReadBack) {
  EXPECT_TRUE(rc::check("csv_line and read_csv", [] {
    const auto columns = *rc::gen::inRange<std::size_t>(1, 6);
    const auto any_row = [columns] {
      std::vector<std::string> cells;
      for (std::size_t i = 0; i < columns; ++i) cells.push_back(any_cell());
      return cells;
    };
    // The header is plain, as headers are: it decides the separator.
    std::vector<std::string> header(columns, "name");
    std::vector<std::vector<std::string>> rows;
    for (int i = *rc::gen::inRange(0, 4); i > 0; --i) rows.push_back(any_row());
    std::string text = csv_line(header);
    for (const auto& row : rows) text += csv_line(row);
    const auto csv = read_csv(text);
    if (!csv) RC_FAIL(csv.error().message);
    RC_ASSERT(csv->rows.size() == rows.size());
    for (std::size_t r = 0; r < rows.size(); ++r) {
      RC_ASSERT(csv->rows[r].size() == columns);
      for (std::size_t c = 0; c < columns; ++c) RC_ASSERT(csv->rows[r][c].text == rows[r][c]);
    }
  }));
}

void answers(const std::string& text) {
  const auto csv = read_csv(text);
  if (!csv) {
    RC_ASSERT(!csv.error().message.empty());
    RC_ASSERT(csv.error().line >= 1);
    RC_ASSERT(csv.error().column >= 1);
    return;
  }
  int line = 0;
  for (const auto& row : csv->rows) {
    RC_ASSERT(!row.empty());
    RC_ASSERT(row.front().line > line);
    line = row.front().line;
  }
}

TEST(Csv, AnswersAnyText) {
  EXPECT_TRUE(rc::check("random bytes", [] { answers(*rc::gen::arbitrary<std::string>()); }));
  EXPECT_TRUE(rc::check("damaged lines", [] {
    std::string text = "id,length\nR1,\"12' 6\"\"\"\nR2,3 m\n";
    for (int i = *rc::gen::inRange(1, 8); i > 0; --i) {
      const auto at = *rc::gen::inRange<std::size_t>(0, text.size());
      text[at] = *rc::gen::oneOf(rc::gen::arbitrary<char>(), rc::gen::element('"', '\n', '\r', ',', '\0'));
    }
    answers(text);
  }));
}

}  // namespace
}  // namespace firstdraw::tables
