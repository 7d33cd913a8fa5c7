#include "watch/fit.hpp"

#include <ceres/ceres.h>

#include <algorithm>
#include <cmath>
#include <random>

namespace firstdraw::watch {
namespace {

using Matrix = Eigen::Matrix<double, fit_size, fit_size>;
using Vector = Eigen::Matrix<double, fit_size, 1>;
using Rows = Eigen::Matrix<double, Eigen::Dynamic, fit_size, Eigen::RowMajor>;

/// What has the soft loss as its square.
double bent(double residual, double bend) {
  const double share = residual / bend;
  const double size = bend * std::sqrt(2 * (std::sqrt(1 + share * share) - 1));
  return residual < 0 ? -size : size;
}

Parameters taken(const double* x) {
  Parameters at;
  std::copy(x, x + fit_size, at.begin());
  return at;
}

/// All residuals as one block: the model of a whole log is run at once, and each reading bends by itself.
class AllReadings : public ceres::CostFunction {
 public:
  AllReadings(const FitTask& task, int count) : task_(task) {
    set_num_residuals(count);
    mutable_parameter_block_sizes()->push_back(fit_size);
  }
  bool Evaluate(double const* const* parameters, double* residuals, double** jacobians) const override {
    const Parameters at = taken(parameters[0]);
    const std::vector<double> here = bent_at(at);
    std::ranges::copy(here, residuals);
    if (jacobians == nullptr || jacobians[0] == nullptr) return true;
    for (std::size_t p = 0; p < fit_size; ++p) {
      Parameters more = at, less = at;
      more[p] += task_.step[p];
      less[p] -= task_.step[p];
      const std::vector<double> up = bent_at(more), down = bent_at(less);
      for (std::size_t i = 0; i < here.size(); ++i)
        jacobians[0][i * fit_size + p] = (up[i] - down[i]) / (2 * task_.step[p]);
    }
    return true;
  }

 private:
  std::vector<double> bent_at(const Parameters& at) const {
    std::vector<double> all = task_.residuals(at);
    for (double& residual : all) residual = bent(residual, task_.bend);
    return all;
  }
  const FitTask& task_;
};

class Prior : public ceres::SizedCostFunction<fit_size, fit_size> {
 public:
  explicit Prior(const FitTask& task) : task_(task) {}
  bool Evaluate(double const* const* parameters, double* residuals, double** jacobians) const override {
    for (std::size_t p = 0; p < fit_size; ++p)
      residuals[p] = (parameters[0][p] - task_.prior[p]) / task_.prior_sd[p];
    if (jacobians == nullptr || jacobians[0] == nullptr) return true;
    std::fill_n(jacobians[0], fit_size * fit_size, 0.0);
    for (std::size_t p = 0; p < fit_size; ++p) jacobians[0][p * fit_size + p] = 1 / task_.prior_sd[p];
    return true;
  }

 private:
  const FitTask& task_;
};

Square plain(const Matrix& matrix) {
  Square square;
  for (int i = 0; i < fit_size; ++i)
    for (int k = 0; k < fit_size; ++k)
      square[static_cast<std::size_t>(i)][static_cast<std::size_t>(k)] = matrix(i, k);
  return square;
}

/// Sum of the scores of as many blocks as there are, drawn with replacement: its spread is what the log would
/// do if it were kept again.
Matrix score_spread(const Rows& jacobian, const Eigen::VectorXd& residual, std::size_t block,
                    std::uint64_t seed) {
  constexpr int draws = 400;
  const auto count = static_cast<std::size_t>(residual.size());
  const std::size_t length = std::clamp<std::size_t>(block, 1, std::max<std::size_t>(1, count / 4));
  const std::size_t starts = count - length + 1, blocks = (count + length - 1) / length;
  std::vector<Vector> running(count + 1, Vector::Zero());
  for (std::size_t i = 0; i < count; ++i) {
    const auto row = static_cast<Eigen::Index>(i);
    running[i + 1] = running[i] + jacobian.row(row).transpose() * residual(row);
  }
  const Vector mean = running[count] * (static_cast<double>(length) / static_cast<double>(count));
  std::mt19937_64 random(seed);
  std::uniform_int_distribution<std::size_t> start(0, starts - 1);
  Matrix spread = Matrix::Zero();
  for (int draw = 0; draw < draws; ++draw) {
    Vector sum = Vector::Zero();
    for (std::size_t b = 0; b < blocks; ++b) {
      const std::size_t from = start(random);
      sum += running[from + length] - running[from] - mean;
    }
    spread += sum * sum.transpose();
  }
  const double share = static_cast<double>(count) / static_cast<double>(blocks * length);
  return spread * (share / draws);
}

void add_covariances(const FitTask& task, FitResult& result) {
  const auto count = static_cast<Eigen::Index>(result.residuals.size());
  Rows jacobian(count, fit_size);
  Eigen::VectorXd residual(count);
  const AllReadings readings(task, static_cast<int>(count));
  const double* at = result.at.data();
  double* into = jacobian.data();
  readings.Evaluate(&at, residual.data(), &into);
  Matrix prior = Matrix::Zero();
  for (int p = 0; p < fit_size; ++p)
    prior(p, p) = 1 / std::pow(task.prior_sd[static_cast<std::size_t>(p)], 2);
  const Matrix inverse = Matrix(jacobian.transpose() * jacobian + prior).inverse();
  result.curvature = plain(inverse);
  result.bootstrap =
      plain(inverse * (score_spread(jacobian, residual, task.block, task.seed) + prior) * inverse);
}

}  // namespace

FitResult fit(const FitTask& task) {
  FitResult result;
  Parameters x = task.start;
  const auto count = static_cast<int>(task.residuals(x).size());
  ceres::Problem::Options keep;
  keep.cost_function_ownership = ceres::DO_NOT_TAKE_OWNERSHIP;
  AllReadings readings(task, count);
  Prior prior(task);
  ceres::Problem problem(keep);
  problem.AddResidualBlock(&readings, nullptr, x.data());
  problem.AddResidualBlock(&prior, nullptr, x.data());
  for (int p = 0; p < fit_size; ++p) {
    problem.SetParameterLowerBound(x.data(), p, task.low[static_cast<std::size_t>(p)]);
    problem.SetParameterUpperBound(x.data(), p, task.high[static_cast<std::size_t>(p)]);
  }
  ceres::Solver::Options options;
  options.linear_solver_type = ceres::DENSE_NORMAL_CHOLESKY;
  options.max_num_iterations = 40;
  options.function_tolerance = task.rough ? 1e-5 : 1e-8;
  options.parameter_tolerance = task.rough ? 1e-4 : 1e-7;
  options.num_threads = 1;
  options.logging_type = ceres::SILENT;
  ceres::Solver::Summary summary;
  ceres::Solve(options, &problem, &summary);
  result.at = x;
  result.converged = summary.IsSolutionUsable() && summary.termination_type == ceres::CONVERGENCE;
  result.said = summary.message;
  result.residuals = task.residuals(x);
  if (!task.rough) add_covariances(task, result);
  return result;
}

}  // namespace firstdraw::watch
