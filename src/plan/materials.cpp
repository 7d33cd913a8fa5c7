#include "plan/materials.hpp"

#include "plan/materials_bill.hpp"

namespace firstdraw::plan {
namespace {

/// Whole units; what floating point left above a whole number is not a unit.
double round_up(double quantity) { return std::ceil(quantity - 1e-9); }

}  // namespace

void Bill::length(const char* section, std::string item, std::string detail, double length_m,
                  std::string basis, double price) {
  const std::string unit(units::display_unit(units::Kind::length, job_.units));
  const double quantity = round_up(units::from_si(length_m, unit, units::Kind::length));
  add({section, std::move(item), std::move(detail), unit, quantity, price, std::move(basis)});
}

void Bill::count(const char* section, std::string item, std::string detail, double pieces, std::string basis,
                 const char* unit) {
  add({section, std::move(item), std::move(detail), unit, round_up(pieces),
       std::numeric_limits<double>::quiet_NaN(), std::move(basis)});
}

void Bill::add(MaterialLine line) {
  if (line.quantity > 0) lines_.push_back(std::move(line));
}

std::vector<MaterialLine> bill_of_materials(const job::Job& job, const Plan& plan) {
  Bill bill(job);
  add_cable(job, plan, bill);
  add_connections(job, plan, bill);
  add_control(job, plan, bill);
  add_tape(job, plan, bill);
  add_insulation(job, plan, bill);
  add_labels(job, plan, bill);
  add_breakers(plan, job, bill);
  add_wiring(job, plan, bill);
  return bill.take();
}

}  // namespace firstdraw::plan
