#include "job/check_wishes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>

namespace firstdraw::job {

namespace {

constexpr double mm2 = 1e-6;

/// How a value in the unit of a rule is read: its kind, and what one of the unit is in SI.
struct RuleUnit {
  Kind kind{};
  double si = 1;
};

RuleUnit unit_of(const rules::CircuitRule& rule) {
  static const std::map<std::string, RuleUnit> units{{"A", {Kind::current, 1}},
                                                     {"m", {Kind::length, 1}},
                                                     {"mm2", {Kind::area, mm2}},
                                                     {"°C", {Kind::temperature, 1}},
                                                     {"", {Kind::fraction, 1}}};
  return units.at(rule.unit);
}

/// A number in the unit of the rule itself is taken as it is, so that writing and reading is exact.
Read<double> read_value(const std::string& text, const rules::CircuitRule& rule) {
  if (text.ends_with(rule.unit))
    if (const auto plain = read_number(text.substr(0, text.size() - rule.unit.size()), range::not_negative))
      return *plain;
  const RuleUnit unit = unit_of(rule);
  const auto read = read_quantity(text, unit.kind, std::nullopt, range::not_negative);
  if (!read) return std::unexpected(read.error());
  return *read / unit.si;
}

std::vector<rules::Override> one(const RuleOverride& by_user) {
  return {{by_user.rule, by_user.value.value_or(std::nan("")), by_user.reason, by_user.name}};
}

}  // namespace

void check(TomlReader& reader, const Pin& pin) {
  if (!reader.clean()) return;
  std::vector<std::string> runs = pin.runs;
  std::ranges::sort(runs);
  const auto twice = std::ranges::adjacent_find(runs);
  if (twice != runs.end()) return reader.problem("runs", fmt::format("names the run \"{}\" twice", *twice));
  if (runs.size() < 2) reader.problem("runs", "needs at least two runs");
}

void check(TomlReader& reader, Job& job, const std::string& value) {
  if (!reader.clean()) return;
  RuleOverride& last = job.overrides.back();
  const rules::RuleSet set = job.requirements.rules;
  if (!value.empty()) {
    const auto read = read_value(value, rules::circuit_rule(set, last.rule));
    if (!read) return reader.problem("value", read.error());
    last.value = *read;
  }
  for (const std::string& wrong : rules::check_overrides(set, one(last))) reader.problem("value", wrong);
  const auto same = [&](const RuleOverride& other) { return other.rule == last.rule; };
  if (std::ranges::count_if(job.overrides, same) > 1)
    reader.problem("rule", fmt::format("\"{}\" is set aside twice", last.rule));
}

}  // namespace firstdraw::job
