// The bill as its parts write to it, and the parts by purpose.
#pragma once

#include <cmath>
#include <limits>
#include <string>
#include <utility>
#include <vector>

#include "plan/plan.hpp"
#include "units/quantity.hpp"

namespace firstdraw::plan {

/// Collects lines; lengths are turned into the job's unit and rounded up.
class Bill {
 public:
  explicit Bill(const job::Job& job) : job_(job) {}

  void length(const char* section, std::string item, std::string detail, double length_m, std::string basis,
              double price = std::numeric_limits<double>::quiet_NaN());
  void count(const char* section, std::string item, std::string detail, double pieces, std::string basis,
             const char* unit = "pcs");
  std::vector<MaterialLine> take() { return std::move(lines_); }

 private:
  void add(MaterialLine line);

  const job::Job& job_;
  std::vector<MaterialLine> lines_;
};

inline bool is_heated(const RunPlan& run) { return run.cable != piping::none; }

void add_cable(const job::Job& job, const Plan& plan, Bill& bill);
void add_connections(const job::Job& job, const Plan& plan, Bill& bill);
void add_control(const job::Job& job, const Plan& plan, Bill& bill);
void add_tape(const job::Job& job, const Plan& plan, Bill& bill);
void add_insulation(const job::Job& job, const Plan& plan, Bill& bill);
void add_labels(const job::Job& job, const Plan& plan, Bill& bill);
void add_breakers(const Plan& plan, const job::Job& job, Bill& bill);
/// Conductors and raceways from the panels to the power connections, and to the panels themselves.
void add_wiring(const job::Job& job, const Plan& plan, Bill& bill);

}  // namespace firstdraw::plan
