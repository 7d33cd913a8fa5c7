// What the checks work with: the job with its cross-references resolved once, a place for findings, and words
// for numbers.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "physics/heating_cable.hpp"
#include "plan/plan.hpp"

namespace firstdraw::plan {

/// Numbers as the job's reader knows them.
class Show {
 public:
  explicit Show(units::System system) : system_(system) {}
  std::string temperature(double temp_c) const {
    return units::show(temp_c, units::Kind::temperature, system_);
  }
  std::string difference(double rise_k) const {
    return units::show(rise_k, units::Kind::temperature_difference, system_);
  }
  std::string length(double length_m) const { return units::show(length_m, units::Kind::length, system_); }
  std::string size(double size_m) const { return units::show(size_m, units::Kind::size, system_); }
  std::string volume(double volume_m3) const { return units::show(volume_m3, units::Kind::volume, system_); }
  std::string output(double power_w_per_m) const {
    return units::show(power_w_per_m, units::Kind::power_per_length, system_);
  }

 private:
  units::System system_;
};
std::string percent(double frac);
std::string amperes(double current_a);
std::string volts(double voltage_v);

/// Where a finding points: the thing, and the line that can change it.
struct Subject {
  Finding::PlaceKind kind{};
  std::string id;
  job::Place place;
};
Subject about_site();
Subject about(const job::Run& run);
Subject about(const job::Outlet& outlet);
Subject about(const job::ControlGroup& group);
Subject about(const job::Panel& panel);
Subject about(const job::Space& space);
Subject about(const physics::CableSheet& cable);
/// A circuit stands in no file: its first run does.
Subject about(const power::Circuit& circuit, const job::Job& job);

/// Practice that no document read or remembered states.
rules::Citation common_practice();

class Findings {
 public:
  /// Severity comes from the catalogue; an id it does not know throws std::logic_error.
  void add(std::string_view id, Subject subject, std::string what, std::string todo,
           rules::Citation citation = common_practice());
  std::vector<Finding> take() { return std::move(found_); }

 private:
  std::vector<Finding> found_;
};

/// The job with its names resolved.
struct Survey {
  Survey(const job::Job& described, const piping::Network& piping);

  const job::Job& job;
  const piping::Network& network;
  Show show;
  std::vector<int> group_of_run;              // like job.runs; none: no or unknown group
  std::vector<int> panel_of_group;            // like job.groups
  std::vector<int> sensor_of_group;           // like job.groups; index into job.runs
  std::vector<std::vector<int>> traced_runs;  // by group
  std::vector<int> feeding_run;               // by node; none at the supply

  const job::Run& run(int index) const { return job.runs[static_cast<std::size_t>(index)]; }
  bool tempered(int run) const { return network.below_mixing_valve[static_cast<std::size_t>(run)]; }
  bool has_mixing_valve() const { return network.mixing_valve_node != piping::none; }
  /// Hottest water that the heater sends into a run: delivered below the mixing valve, else stored.
  double supplied_c(int run) const;
  rules::HygieneGuideline guideline() const;  // without temperatures when there is none
};

/// A survey with its finished plan.
struct Review {
  Review(const Survey& surveyed, const Plan& planned);

  const Survey& survey;
  const job::Job& job;
  const Plan& plan;
  const Show& show;
  std::vector<physics::HeatingCable> cables;  // like job.cables

  /// The runs that have a cable, with their group; what most checks walk over.
  struct Traced {
    int index = 0;
    const job::Run& run;
    const RunPlan& planned;
    const job::ControlGroup& group;
    const physics::CableSheet& cable;
  };
  std::vector<Traced> traced;
};

using SurveyCheck = void (*)(const Survey&, Findings&);
using PlanCheck = void (*)(const Review&, Findings&);
std::span<const SurveyCheck> piping_checks();
std::span<const SurveyCheck> space_and_group_checks();
std::span<const SurveyCheck> sensor_checks();
std::span<const SurveyCheck> setting_checks();
std::span<const SurveyCheck> hygiene_checks();
std::span<const SurveyCheck> period_checks();
std::span<const SurveyCheck> outlet_checks();
std::span<const PlanCheck> thermal_checks();
std::span<const PlanCheck> limit_checks();
std::span<const PlanCheck> control_result_checks();
std::span<const PlanCheck> circuit_checks();
std::span<const PlanCheck> voltage_checks();
std::span<const PlanCheck> wiring_checks();
std::span<const PlanCheck> start_checks();
std::span<const PlanCheck> panel_checks();
std::span<const PlanCheck> layout_checks();
std::span<const PlanCheck> override_checks();

}  // namespace firstdraw::plan
