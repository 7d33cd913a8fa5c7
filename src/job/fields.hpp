// What a field of the job folder may hold: whether it may be left out, what is then assumed and why, and its
// range. The reader, the writer and the tests walk the same descriptions (describe.hpp) through these words.
#pragma once

#include <array>
#include <limits>
#include <string>
#include <string_view>
#include <vector>

namespace firstdraw::job {

enum class Missing { error, blank, assumed };

/// How to take a value that was left out.
template <class T>
struct Need {
  Missing missing = Missing::error;
  T value{};             // what is taken instead; a value equal to it is not written when `missing` is blank
  std::string_view why;  // of an assumption; a literal
};

struct Needed {
  template <class T>
  operator Need<T>() const {
    return {};
  }
};
struct Blank {
  template <class T>
  operator Need<T>() const {
    return {Missing::blank, T{}, {}};
  }
};
inline constexpr Needed needed;
inline constexpr Blank blank;

template <class T>
Need<T> assume(T value, std::string_view why) {
  return {Missing::assumed, std::move(value), why};
}
/// Left out where nothing looks at it: the usual value, without an assumption.
template <class T>
Need<T> of_no_effect(T value) {
  return {Missing::blank, std::move(value), {}};
}
inline Need<double> blank_price() { return {Missing::blank, std::numeric_limits<double>::quiet_NaN(), {}}; }

/// Values that make sense for a field.
struct Range {
  double low = -std::numeric_limits<double>::infinity();
  double high = std::numeric_limits<double>::infinity();
  bool above_low = false;  // low itself is out
  std::string_view says = "any number";

  bool holds(double value) const { return (above_low ? value > low : value >= low) && value <= high; }
};
namespace range {
inline constexpr double no_limit = std::numeric_limits<double>::infinity();
inline constexpr Range any{-no_limit, no_limit, false, "any value"};
inline constexpr Range positive{0, no_limit, true, "more than zero"};
inline constexpr Range not_negative{0, no_limit, false, "zero or more"};
inline constexpr Range fraction{0, 1, false, "between 0 and 1 (0 % to 100 %)"};
inline constexpr Range positive_fraction{0, 1, true, "more than 0 and at most 1 (100 %)"};
inline constexpr Range water{0, 100, false, "between 0 °C and 100 °C (32 °F and 212 °F)"};
inline constexpr Range air{-60, 100, false, "between -60 °C and 100 °C (-76 °F and 212 °F)"};
inline constexpr Range cable{-100, 600, false, "between -100 °C and 600 °C"};
inline constexpr Range half_turn{0, 3.1415926535897936, false, "between 0° and 180°"};
inline constexpr Range low_voltage{0.5, 1, false, "between 50 % and 100 % of the voltage"};
inline constexpr Range high_voltage{1, 1.5, false, "between 100 % and 150 % of the voltage"};
inline constexpr Range year{0, 8784, false, "between 0 and 8784 hours"};
inline constexpr Range passes{1, 6, false, "between 1 and 6"};
inline constexpr Range count{0, 1e6, false, "between 0 and 1000000"};
inline constexpr Range bundle{1, 40, false, "between 1 and 40"};
inline constexpr Range phases{1, 3, false, "1, 2 or 3"};
inline constexpr Range frequency{16, 400, false, "between 16 Hz and 400 Hz"};
inline constexpr Range calendar_year{1970, 2037, false, "a year from 1970 to 2037"};
inline constexpr Range months{1, 36, false, "between 1 and 36 months"};
inline constexpr Range dozen{1, 12, false, "between 1 and 12"};
inline constexpr Range part_of_hour{60, 3600, false, "between 1 min and 1 h"};
inline constexpr Range clock_step{300, 3600, false, "between 5 min and 1 h"};
inline constexpr Range confidence{0.5, 0.99, false, "between 50 % and 99 %"};
inline constexpr Range in_a_week{0, 604800, true, "more than zero and at most a week (168 h)"};
inline constexpr Range hot_hold{50, 80, false, "between 50 °C and 80 °C (122 °F and 176 °F)"};
inline constexpr Range reductions{0, 12, true, "more than 0 and at most 12"};
}  // namespace range

/// An enumeration's value and how it is written.
template <class E>
struct Named {
  E value;
  std::string_view name;
};
template <class E, std::size_t n>
std::vector<std::string> names_of(const std::array<Named<E>, n>& choices) {
  std::vector<std::string> names;
  for (const auto& choice : choices) names.emplace_back(choice.name);
  return names;
}

}  // namespace firstdraw::job
