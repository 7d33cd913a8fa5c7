// Turning the text of one value into the value, the same for TOML strings and CSV cells.
#pragma once

#include <expected>
#include <optional>
#include <string>
#include <string_view>

#include "job/fields.hpp"
#include "units/quantity.hpp"

namespace firstdraw::job {

/// A value, or one sentence of what was expected.
template <class T>
using Read = std::expected<T, std::string>;

Read<double> read_quantity(std::string_view text, units::Kind kind, std::optional<std::string_view> bare_unit,
                           const Range& range);
Read<double> read_number(std::string_view text, const Range& range);
Read<int> read_integer(std::string_view text, const Range& range);
Read<bool> read_flag(std::string_view text);
/// "12.50 per m", "0.14/kWh": money for one `base_unit`.
Read<double> read_price(std::string_view text, std::string_view base_unit, units::Kind kind);
std::optional<std::string> out_of_range(double value, const Range& range);
/// Why this text cannot be an id; empty when it can.
std::optional<std::string> wrong_id(std::string_view text);

/// How values of a kind of their own are written as text: "mon-fri", "22:00".
template <class T>
struct Spelling {
  Read<T> (*read)(std::string_view text);
  std::string (*write)(const T& value, units::System system);
};

/// "R1; R2": ids of runs in one cell, and back.
std::vector<std::string> split_runs(std::string_view list);
std::string join_runs(const std::vector<std::string>& runs);

/// Shortest text that reads back to the same double.
std::string exact_number(double value);

}  // namespace firstdraw::job
