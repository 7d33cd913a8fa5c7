// How things of the job are called and numbers shown on paper.
#pragma once

#include <string>

#include "job/job.hpp"
#include "plan/plan.hpp"

namespace firstdraw::paper {

using units::Kind;

/// Shows quantities in the job's units.
class Show {
 public:
  explicit Show(const job::Job& job) : system_(job.units) {}
  std::string unit(Kind kind) const { return std::string(units::display_unit(kind, system_)); }
  /// Number alone, for columns whose heading names the unit.
  std::string number(double value_si, Kind kind) const { return units::show_number(value_si, kind, system_); }
  std::string with_unit(double value_si, Kind kind) const { return units::show(value_si, kind, system_); }
  /// In the display unit, for workbooks.
  double value(double value_si, Kind kind) const { return units::from_si(value_si, unit(kind), kind); }

 private:
  units::System system_;
};

std::string run_name(const job::Run& run);         // "R12, copper L 1-1/4"
std::string pipe_name(const physics::Pipe& pipe);  // "copper L 1-1/4"
std::string outlet_name(const job::Outlet& outlet);
std::string space_name(const job::Job& job, const std::string& id);
std::string level_name(const job::Job& job, const std::string& id);
std::string group_name(const job::Job& job, int group);  // "guest · Guest rooms"; "–" for none
std::string panel_name(const job::Job& job, int panel);
std::string node_name(const plan::Plan& plan, int node);
std::string cable_name(const job::Job& job, int cable);  // without what its maker adds in brackets
std::string place_name(const plan::Finding& finding);    // "run R12"
std::string insulation_name(const std::string& id);      // "glass fibre", without form and standard
std::string unbroken(std::string text);                  // with spaces that do not break
std::string count(double value, int decimals = 0);       // thin-space groups: "12 345"
std::string percent(double fraction, int decimals = 0);  // "97 %"
std::string probability(double fraction);                // "> 99.9 %" when every sample held
std::string money(double value, const std::string& currency);
std::string hours(double duration_s);                        // "3.2 h", "never"
std::string citation_text(const rules::Citation& citation);  // with its basis

}  // namespace firstdraw::paper
