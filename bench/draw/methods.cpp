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
  constexpr double relative = 1e-5, absolute_k = 1e-3, longest_step_s = 0.2, as_cut = 0;
  switch (setting.kind) {
    case Kind::refined:
      return std::make_unique<solvers::Refined>(scene, solvers::RefinedOptions{as_cut, longest_step_s, true});
    case Kind::cvode_klu:
      return std::make_unique<solvers::CvodeMethod>(
          scene, solvers::CvodeOptions{Linear::klu, as_cut, relative, absolute_k, true});
    case Kind::cvode_tree:
      return std::make_unique<solvers::CvodeMethod>(
          scene, solvers::CvodeOptions{Linear::tree, as_cut, relative, absolute_k, true});
    case Kind::plain_loop:
      return std::make_unique<solvers::PlainLoop>(scene, solvers::PlainOptions{as_cut, setting.step_s, true});
    case Kind::plain_parcels:
      return std::make_unique<solvers::PlainParcels>(scene,
                                                     solvers::PlainOptions{as_cut, setting.step_s, true});
    case Kind::simulate:
      break;
  }
  throw std::logic_error("no solver of this kind");
}

}  // namespace

double thread_s() {
  timespec now{};
  clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

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
  const draw::Scene cut = solvers::with_cells(scene, setting.cell_m, setting.runout_cell_m);
  const double begin_s = thread_s();
  if (setting.kind == Kind::simulate) {
    draw::Options options;
    options.end_s = end_s;
    options.tick_s = setting.tick_s;
    outcome.taps = solvers::by_simulate(cut, draws, options);
  } else {
    const auto method = make(cut, setting);
    outcome.taps = solvers::drive(cut, draws, {0, end_s, setting.tick_s}, *method);
  }
  outcome.seconds = thread_s() - begin_s;
  return outcome;
}

}  // namespace firstdraw::bench
