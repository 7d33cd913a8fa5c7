// The lines of the load calculation as they are written: rules with their sentence, overrides named as such.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "plan/plan.hpp"
#include "rules/override.hpp"

namespace firstdraw::plan {

/// What stands beside the reasons, by what they are about.
struct ReasonValues {
  std::string ampacity{}, earth{}, drop{}, raceway{};
  std::string leakage{}, trip{}, leakage_most{};
};

class LoadLines {
 public:
  /// Keeps the reference.
  explicit LoadLines(const job::Job& job);

  /// The lines that follow are of this panel and circuit.
  void begin(std::string panel, std::string circuit);
  void add(std::string quantity, std::string value, std::string how, rules::Citation citation);
  /// A rule with its sentence, or with the override that takes its place.
  void add_rule(std::string_view id, std::string quantity, std::string value);
  /// Nothing unless the rule is overridden.
  void add_override(std::string_view id);
  void add_reasons(std::span<const rules::Reason> reasons, const ReasonValues& values);
  /// What the panel needs in words.
  void requirements();

  const rules::CircuitRule& rule(std::string_view id) const;
  double value(std::string_view id) const;  // the user's where overridden
  std::span<const rules::Override> overrides() const { return overrides_; }

  std::string current(double a) const;
  std::string length(double m) const;
  std::string power(double w) const;
  std::string temperature(double c) const;
  /// First letter made large.
  static std::string sentence(std::string text);

  std::vector<LoadLine> take() { return std::move(lines_); }

 private:
  const job::Job& job_;
  std::vector<rules::Override> overrides_;
  std::string panel_, circuit_;
  std::vector<LoadLine> lines_;
};

/// The data sheet's start currents and the model fitted to them.
rules::Citation start_model();

}  // namespace firstdraw::plan
