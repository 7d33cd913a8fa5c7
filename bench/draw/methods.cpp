#include "methods.hpp"

#include <ctime>
#include <memory>

#include "solvers/by_simulate.hpp"
#include "solvers/cvode_method.hpp"
#include "solvers/plain_parcels.hpp"
#include "solvers/refined.hpp"

namespace firstdraw::bench {
namespace {

using solvers::Linear;

std::unique_ptr<solvers::Method> make(const draw::Scene& scene, const Setting& setting) {
  constexpr double relative = 1e-5, absolute_k = 1e-3;
  const double cell_m = setting.cell_m;
  switch (setting.kind) {
    case Kind::refined:
      return std::make_unique<solvers::Refined>(scene, solvers::RefinedOptions{cell_m, cell_m, true});
    case Kind::cvode_klu:
      return std::make_unique<solvers::CvodeMethod>(
          scene, solvers::CvodeOptions{Linear::klu, cell_m, relative, absolute_k, true});
    case Kind::cvode_tree:
      return std::make_unique<solvers::CvodeMethod>(
          scene, solvers::CvodeOptions{Linear::tree, cell_m, relative, absolute_k, true});
    case Kind::plain_loop:
      return std::make_unique<solvers::PlainLoop>(scene, solvers::PlainOptions{cell_m, setting.step_s, true});
    case Kind::plain_parcels:
      return std::make_unique<solvers::PlainParcels>(scene,
                                                     solvers::PlainOptions{cell_m, setting.step_s, true});
    case Kind::simulate:
      break;
  }
  throw std::logic_error("no solver of this kind");
}

std::vector<solvers::TapTemps> by_simulate(const draw::Scene& scene, const std::vector<draw::Draw>& draws,
                                           double end_s, const Setting& setting) {
  draw::Options options;
  options.end_s = end_s;
  options.tick_s = setting.tick_s;
  return solvers::by_simulate(setting.cell_m > 0 ? solvers::with_cells(scene, setting.cell_m) : scene, draws,
                              options);
}

double thread_s() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

}  // namespace

const char* name(Kind kind) {
  switch (kind) {
    case Kind::simulate:
      return "simulate";
    case Kind::refined:
      return "refined";
    case Kind::cvode_klu:
      return "cvode_klu";
    case Kind::cvode_tree:
      return "cvode_tree";
    case Kind::plain_loop:
      return "plain_loop";
    case Kind::plain_parcels:
      return "plain_parcels";
  }
  return "";
}

Outcome solve(const draw::Scene& scene, const std::vector<draw::Draw>& draws, double end_s,
              const Setting& setting) {
  Outcome outcome;
  const double begin_s = thread_s();
  if (setting.kind == Kind::simulate) {
    outcome.taps = by_simulate(scene, draws, end_s, setting);
  } else {
    const auto method = make(scene, setting);
    outcome.taps = solvers::drive(scene, draws, {0, end_s, setting.tick_s}, *method);
  }
  outcome.seconds = thread_s() - begin_s;
  return outcome;
}

}  // namespace firstdraw::bench
