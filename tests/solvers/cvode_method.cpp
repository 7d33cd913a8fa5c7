#include "solvers/cvode_method.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <stdexcept>
#include <string>

#include "solvers/cells_ode.hpp"

namespace firstdraw::solvers {
namespace {

void must(int flag, const char* what) {
  if (flag < 0) throw std::runtime_error(std::string(what) + " failed with " + std::to_string(flag));
}

constexpr long most_steps = 1'000'000;
constexpr int entries_per_cell = 11;  // 10 within a cell, 1 upstream

/// Fills I-shaped Jacobian rows (compressed by rows) of the cells.
class RowWriter {
 public:
  explicit RowWriter(SUNMatrix matrix)
      : starts_(SUNSparseMatrix_IndexPointers(matrix)),
        columns_(SUNSparseMatrix_IndexValues(matrix)),
        values_(SUNSparseMatrix_Data(matrix)) {}
  void row() { starts_[rows_++] = entries_; }
  void put(std::size_t column, double value) {
    columns_[entries_] = static_cast<sunindextype>(column);
    values_[entries_++] = value;
  }
  void end() { starts_[rows_] = entries_; }

 private:
  sunindextype *starts_, *columns_;
  realtype* values_;
  sunindextype rows_ = 0, entries_ = 0;
};

void write_cell(RowWriter& rows, const CellRates& cell, std::size_t index, double source_slope_per_s) {
  const std::size_t own = per_cell * index;
  rows.row();
  if (cell.upstream >= 0) rows.put(draw::at(per_cell * cell.upstream), cell.flow);
  rows.put(own, -cell.flow - cell.water_wall), rows.put(own + 1, cell.water_wall);
  rows.row();
  rows.put(own, cell.wall_water);
  rows.put(own + 1, source_slope_per_s - cell.wall_water - cell.wall_inner),
      rows.put(own + 2, cell.wall_inner);
  rows.row();
  rows.put(own + 1, cell.inner_wall), rows.put(own + 2, -cell.inner_wall - cell.inner_outer);
  rows.put(own + 3, cell.inner_outer);
  rows.row();
  rows.put(own + 2, cell.outer_inner), rows.put(own + 3, -cell.outer_inner - cell.outer_air);
}

}  // namespace

struct CvodeMethod::Integrator {
  CellsOde ode;
  SUNContext context = nullptr;
  N_Vector state = nullptr;
  void* memory = nullptr;
  SUNMatrix matrix = nullptr;
  SUNLinearSolver linear = nullptr;
  _generic_SUNLinearSolver_Ops tree_operations{};
  _generic_SUNLinearSolver tree{};
  std::vector<double> slope_per_s;
  bool restart = false;

  Integrator(const draw::Scene& scene, const CvodeOptions& options) : ode(Grid(scene, options.cell_m)) {
    must(SUNContext_Create(nullptr, &context), "SUNContext_Create");
    state = N_VNew_Serial(ode.size(), context);
    begin_at(start(scene, ode.grid(), options.held));
    memory = CVodeCreate(CV_BDF, context);
    must(CVodeInit(memory, rates, 0, state), "CVodeInit");
    must(CVodeSetUserData(memory, this), "CVodeSetUserData");
    must(CVodeSStolerances(memory, options.relative, options.absolute_k), "CVodeSStolerances");
    must(CVodeSetMaxNumSteps(memory, most_steps), "CVodeSetMaxNumSteps");
    if (options.linear == Linear::klu)
      use_klu();
    else
      use_tree();
  }
  ~Integrator() {
    CVodeFree(&memory);
    if (matrix) SUNLinSolFree(linear), SUNMatDestroy(matrix);
    N_VDestroy(state);
    SUNContext_Free(&context);
  }
  Integrator(const Integrator&) = delete;
  Integrator& operator=(const Integrator&) = delete;

  double* values() const { return N_VGetArrayPointer(state); }
  void begin_at(const Field& field) {
    for (std::size_t i = 0; i < field.water_c.size(); ++i) {
      double* cell = values() + per_cell * i;
      cell[0] = field.water_c[i], cell[1] = field.wall_c[i], cell[2] = field.inner_c[i],
      cell[3] = field.outer_c[i];
    }
  }

  void use_klu() {
    matrix = SUNSparseMatrix(ode.size(), ode.size(), entries_per_cell * ode.grid().cells, CSR_MAT, context);
    linear = SUNLinSol_KLU(state, matrix, context);
    must(CVodeSetLinearSolver(memory, linear, matrix), "CVodeSetLinearSolver");
    must(CVodeSetJacFn(memory, jacobian), "CVodeSetJacFn");
  }
  /// A solver that knows the matrix itself and needs no factorisation.
  void use_tree() {
    tree_operations.gettype = [](SUNLinearSolver) { return SUNLINEARSOLVER_MATRIX_EMBEDDED; };
    tree_operations.solve = [](SUNLinearSolver solver, SUNMatrix, N_Vector x, N_Vector b, realtype) {
      return static_cast<Integrator*>(solver->content)->solve_tree(x, b);
    };
    tree.content = this, tree.ops = &tree_operations, tree.sunctx = context;
    linear = &tree;
    must(CVodeSetLinearSolver(memory, linear, nullptr), "CVodeSetLinearSolver");
  }

  int solve_tree(N_Vector x, N_Vector b) {
    realtype time = 0, gamma = 0, rl1 = 0;
    N_Vector predicted = nullptr, now = nullptr, rate = nullptr, z = nullptr;
    void* data = nullptr;
    must(CVodeGetNonlinearSystemData(memory, &time, &predicted, &now, &rate, &gamma, &rl1, &z, &data),
         "CVodeGetNonlinearSystemData");
    ode.source_slopes(N_VGetArrayPointer(predicted), slope_per_s);
    ode.solve(gamma, slope_per_s, N_VGetArrayPointer(b), N_VGetArrayPointer(x));
    return 0;
  }

  static int rates(realtype, N_Vector state, N_Vector rate, void* self) {
    static_cast<Integrator*>(self)->ode.rates(N_VGetArrayPointer(state), N_VGetArrayPointer(rate));
    return 0;
  }
  static int jacobian(realtype, N_Vector state, N_Vector, SUNMatrix matrix, void* self, N_Vector, N_Vector,
                      N_Vector) {
    auto& integrator = *static_cast<Integrator*>(self);
    integrator.ode.source_slopes(N_VGetArrayPointer(state), integrator.slope_per_s);
    RowWriter rows(matrix);
    for (std::size_t i = 0; i < integrator.ode.cells().size(); ++i)
      write_cell(rows, integrator.ode.cells()[i], i, integrator.slope_per_s[i]);
    rows.end();
    return 0;
  }
};

CvodeMethod::CvodeMethod(const draw::Scene& scene, const CvodeOptions& options)
    : integrator_(std::make_unique<Integrator>(scene, options)) {}
CvodeMethod::~CvodeMethod() = default;

void CvodeMethod::set(std::span<const double> flow_m3_per_s, std::span<const double> share) {
  integrator_->ode.set(flow_m3_per_s, share);
  integrator_->restart = true;
}

void CvodeMethod::advance(double from_s, double to_s) {
  Integrator& it = *integrator_;
  if (it.restart) must(CVodeReInit(it.memory, from_s, it.state), "CVodeReInit");
  it.restart = false;
  must(CVodeSetStopTime(it.memory, to_s), "CVodeSetStopTime");
  realtype reached_s = from_s;
  must(CVode(it.memory, to_s, it.state, &reached_s, CV_NORMAL), "CVode");
}

double CvodeMethod::wall_c(int run, double at_frac) const {
  return integrator_->values()[per_cell * integrator_->ode.grid().cell_at(run, at_frac) + 1];
}
double CvodeMethod::outlet_c(int run) const {
  return integrator_->values()[per_cell * integrator_->ode.grid().outlet_cell(run)];
}
long CvodeMethod::steps() const {
  long steps = 0;
  must(CVodeGetNumSteps(integrator_->memory, &steps), "CVodeGetNumSteps");
  return steps;
}

}  // namespace firstdraw::solvers
