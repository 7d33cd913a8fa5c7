#include "rules/override.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <set>
#include <stdexcept>

#include "rules/cited_row.hpp"

namespace firstdraw::rules {

namespace {

std::vector<CircuitRule> read_rules(RuleSet rules) {
  std::vector<CircuitRule> list;
  for (const tables::Row& row : tables::table("rules_circuit").rows()) {
    if (!applies(row, rules)) continue;
    list.push_back({row.text("id"), row.text("title"), row.text("sentence"), row.text("unit"),
                    row.number_or_nan("value"), citation_of(row)});
  }
  return list;
}

std::vector<std::string> ids_of(RuleSet rules) {
  std::vector<std::string> ids;
  for (const CircuitRule& rule : circuit_rules(rules)) ids.push_back(rule.id);
  return ids;
}

std::string shown(double value, const std::string& unit) {
  if (std::isnan(value)) return "set aside";
  return unit.empty() ? fmt::format("{:.4g}", value) : fmt::format("{:.4g} {}", value, unit);
}

std::string filled(std::string sentence, double value) {
  constexpr std::string_view kMark = "{value}";
  const auto at = sentence.find(kMark);
  return at == std::string::npos ? sentence
                                 : sentence.replace(at, kMark.size(), fmt::format("{:.4g}", value));
}

/// A rule with a unit or a number is overridden by a number; a rule that only says what to do by nothing.
bool takes_number(const CircuitRule& rule) {
  return !rule.unit.empty() || !std::isnan(rule.value) || rule.id.ends_with("-factor") ||
         rule.id.ends_with("-fill");
}

std::optional<std::string> wrong_value(const CircuitRule& rule, double value) {
  if (!takes_number(rule))
    return std::isnan(value) ? std::nullopt
                             : std::optional(fmt::format("override of \"{}\": takes no value", rule.id));
  const bool may_be_zero = rule.id == "next-rating" || rule.id == "earth-upsizing";
  if (std::isfinite(value) && (value > 0 || (may_be_zero && value == 0))) return std::nullopt;
  return fmt::format("override of \"{}\": {} must be a positive number", rule.id, rule.title);
}

}  // namespace

std::span<const CircuitRule> circuit_rules(RuleSet rules) {
  static const std::vector<CircuitRule> us = read_rules(RuleSet::us), intl = read_rules(RuleSet::intl);
  return rules == RuleSet::us ? us : intl;
}

const CircuitRule& circuit_rule(RuleSet rules, std::string_view id) {
  const auto list = circuit_rules(rules);
  const auto found = std::ranges::find(list, id, &CircuitRule::id);
  if (found == list.end()) throw std::logic_error(unknown_name("rule", id, ids_of(rules)));
  return *found;
}

std::vector<std::string> check_overrides(RuleSet rules, std::span<const Override> overrides) {
  std::vector<std::string> wrong;
  std::set<std::string_view> seen;
  const std::vector<std::string> known = ids_of(rules);
  for (const Override& item : overrides) {
    if (std::ranges::find(known, item.rule) == known.end()) {
      wrong.push_back(unknown_name(fmt::format("rule of the rule set {}", name_of(rules)), item.rule, known));
      continue;
    }
    if (!seen.insert(item.rule).second)
      wrong.push_back(fmt::format("override of \"{}\": given twice", item.rule));
    if (item.reason.empty()) wrong.push_back(fmt::format("override of \"{}\": no reason given", item.rule));
    if (item.name.empty()) wrong.push_back(fmt::format("override of \"{}\": no name given", item.rule));
    if (auto message = wrong_value(circuit_rule(rules, item.rule), item.value))
      wrong.push_back(*std::move(message));
  }
  return wrong;
}

Reason authority_notice(RuleSet rules) {
  const Citation edition = rules == RuleSet::us ? Citation{"NFPA 70 (NEC)", "2023", "90.4", "memory"}
                                                : Citation{"IEC 60364", "", "national adoption", "memory"};
  return {fmt::format("Checked against {} as transcribed. The edition in force, local amendments and the "
                      "authority having jurisdiction decide; so do the instructions of the makers of cable "
                      "and device.",
                      rules == RuleSet::us ? "NFPA 70 (NEC) 2023" : "IEC 60364 (editions as cited)"),
          edition};
}

Ruling::Ruling(RuleSet rules, std::span<const Override> overrides) : rules_(rules), overrides_(overrides) {
  const std::vector<std::string> wrong = check_overrides(rules, overrides);
  if (!wrong.empty()) throw std::logic_error(fmt::format("{}", fmt::join(wrong, "; ")));
}

const Override* Ruling::find(std::string_view id) const {
  const auto found = std::ranges::find(overrides_, id, &Override::rule);
  return found == overrides_.end() ? nullptr : &*found;
}

std::optional<double> Ruling::overridden(std::string_view id) const {
  const Override* by_user = find(id);
  return by_user ? std::optional(by_user->value) : std::nullopt;
}

double Ruling::value(std::string_view id) const {
  return overridden(id).value_or(circuit_rule(rules_, id).value);
}

double Ruling::apply(std::string_view id) {
  const CircuitRule& rule = circuit_rule(rules_, id);
  return apply(id, rule.value, filled(rule.sentence, rule.value), rule.citation);
}

double Ruling::apply(std::string_view id, double by_table, std::string sentence, const Citation& citation) {
  const Override* by_user = find(id);
  if (by_user) {
    echo(*by_user, by_table, citation);
    return by_user->value;
  }
  if (!sentence.empty()) say(std::move(sentence), citation, id);
  return by_table;
}

void Ruling::echo(const Override& by_user, double by_table, const Citation& citation) {
  const CircuitRule& rule = circuit_rule(rules_, by_user.rule);
  const std::string instead = std::isnan(by_table) ? "" : " instead of " + shown(by_table, rule.unit);
  say(fmt::format("Overridden by {}: {} ({}): {}{}. Reason given: {}. The authority having jurisdiction "
                  "decides.",
                  by_user.name, rule.title, rule.id, shown(by_user.value, rule.unit), instead,
                  by_user.reason),
      {citation.document, citation.edition, citation.clause, "overridden by " + by_user.name}, by_user.rule);
}

void Ruling::say(std::string sentence, Citation citation, std::string_view about) {
  reasons_.push_back({std::move(sentence), std::move(citation), std::string(about)});
}

std::vector<Reason> Ruling::reasons() const {
  std::vector<Reason> all = reasons_;
  all.push_back(authority_notice(rules_));
  return all;
}

}  // namespace firstdraw::rules
