// The quick answer of `firstdraw cable`: what a data sheet says at one pipe temperature and voltage.
#pragma once

#include <expected>
#include <nlohmann/json.hpp>
#include <optional>
#include <string>
#include <vector>

#include "cli/context.hpp"
#include "physics/heating_cable.hpp"
#include "rules/rules.hpp"

namespace firstdraw::cli {

/// As typed; empty where nothing was given.
struct CableQuestion {
  std::string cable;  // "sheet.toml" or "JOB:id"
  std::string pipe_temp, voltage, length, start_temp;
};

/// A data sheet and what its job says about the circuits it would be on.
struct SheetInUse {
  physics::CableSheet sheet;
  rules::RuleSet rules = rules::RuleSet::us;
  std::optional<double> start_c;
};

struct BreakerLength {
  double breaker_a = 0, max_length_m = 0;
};

struct CableAnswer {
  physics::CableSheet sheet;
  double pipe_c = 0, voltage_v = 0, start_c = 0;
  bool start_assumed = false;
  physics::HeatingCable::Output output;
  double current_a_per_m = 0;
  physics::HeatingCable::StartCurrent start;
  bool voltage_allowed = true;
  std::optional<double> length_m;
  std::vector<BreakerLength> max_lengths;  // of the sheet, at this voltage and start
  std::vector<std::string> warnings;       // what the sheet does not cover
};

/// Wrong names and unreadable sheets are errors of kind 3, wrong quantities of kind 2.
struct CableFailure {
  ExitCode code = ExitCode::wrong_command_line;
  Diagnostics errors;
};
std::expected<SheetInUse, CableFailure> find_sheet(const std::string& text);
std::expected<CableAnswer, CableFailure> answer(const CableQuestion& question);
CableAnswer answer(const SheetInUse& use, double pipe_c, double voltage_v, std::optional<double> length_m,
                   std::optional<double> start_c);

/// schemas/cable-answer.schema.json.
nlohmann::json to_json(const CableAnswer& answer);

}  // namespace firstdraw::cli
