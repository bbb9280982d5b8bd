// SPDX-License-Identifier: BSD-3-Clause
// The stack as one system with CVODE. Equations written from the parameters of the film, not through the film law.
#include "models/error.hpp"
#include "models/film/eyring_flow.hpp"
#include "tests/bench/compare_case.hpp"

#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <algorithm>
#include <cmath>

namespace hoopfield::bench {
namespace {

void require(bool good, const char* what) {
  if (!good) throw SolverError(std::string("CVODE: ") + what);
}

/// Flow of one branch and its derivatives by elastic strain and log stretch.
struct Flow {
  double rate = 0.0, by_strain = 0.0, by_log_stretch = 0.0;
};

class System {
 public:
  explicit System(const Case& c)
      : case_(c),
        numbers_(c.film.branches.begin(), c.film.branches.end()),
        count_(c.start.film.size),
        branches_(c.film.branches.size()) {
    stretch_.resize(count_);
    path_slope_.resize(count_);
    tangent_.resize(count_);
    closing_ = c.start.closing;
  }
  [[nodiscard]] std::size_t size() const { return count_ * branches_; }

  /// Closings and stretches for viscous strains v: `k_d u_d = sum of weight P` by Newton; both directions are
  /// independent.
  void equilibrium(const double* v) {
    for (std::size_t d = 0; d < 2; ++d) {
      const double stiffness = d == 0 ? case_.stiffness_length : case_.stiffness_width;
      for (int i = 0; i < 50; ++i) {
        double pull = 0.0, slope = 0.0;
        for (std::size_t e = 0; e < count_; ++e) {
          if (direction(e) != d) continue;
          double tangent = 0.0;
          pull += case_.start.weight[e] * nominal(e, v, tangent);
          slope += case_.start.weight[e] * tangent * path_slope_[e];
        }
        const double miss = stiffness * closing_[d] - pull;
        stiffness_[d] = stiffness - slope;
        const double change = -miss / stiffness_[d];
        closing_[d] += change;
        if (std::abs(change) < 1e-15 * side(d)) break;
      }
    }
  }

  std::array<double, face_count> tension(const double* v) {
    equilibrium(v);
    std::array<double, face_count> out{};
    for (std::size_t e = 0; e < count_; ++e) {
      double tangent = 0.0;
      out[case_.start.face[e]] += case_.start.weight[e] * nominal(e, v, tangent);
    }
    return out;
  }

  void rates(const double* v, double* dv) {
    equilibrium(v);
    for (std::size_t e = 0; e < count_; ++e) {
      double tangent = 0.0;
      (void)nominal(e, v, tangent);
      for (std::size_t k = 0; k < branches_; ++k) dv[e * branches_ + k] = flow(e, k, v).rate;
    }
  }

  /// `df_ek/dv_jm = -f_e delta + (f_e + f_l) dln l_e/du du/dv_jm`, `du/dv_jm = w_j dP_j/dv_jm / K`.
  void jacobian(const double* v, SUNMatrix matrix) {
    equilibrium(v);
    SUNMatZero(matrix);
    std::vector<double> closing_by(size());
    for (std::size_t e = 0; e < count_; ++e) {
      double tangent = 0.0;
      (void)nominal(e, v, tangent);
      for (std::size_t k = 0; k < branches_; ++k)
        closing_by[e * branches_ + k] =
            -case_.start.weight[e] * numbers_[k].modulus / stretch_[e] / stiffness_[direction(e)];
    }
    for (std::size_t e = 0; e < count_; ++e)
      for (std::size_t k = 0; k < branches_; ++k) {
        const Flow f = flow(e, k, v);
        const auto row = static_cast<sunindextype>(e * branches_ + k);
        const double by_closing = (f.by_strain + f.by_log_stretch) * path_slope_[e];
        for (std::size_t j = 0; j < count_; ++j) {
          if (direction(j) != direction(e)) continue;
          for (std::size_t m = 0; m < branches_; ++m)
            SM_ELEMENT_D(matrix, row, static_cast<sunindextype>(j * branches_ + m)) =
                by_closing * closing_by[j * branches_ + m];
        }
        SM_ELEMENT_D(matrix, row, row) -= f.by_strain;
      }
  }

 private:
  [[nodiscard]] std::size_t direction(std::size_t e) const {
    return case_.start.face[e] == left || case_.start.face[e] == right ? 0 : 1;
  }
  [[nodiscard]] double side(std::size_t d) const { return d == 0 ? case_.length : case_.width; }

  /// Nominal stress at the present closing; keeps stretch and d ln l/du; `tangent` = dP/dln l at fixed v.
  double nominal(std::size_t e, const double* v, double& tangent) {
    const std::size_t d = direction(e);
    const double path = side(d) - closing_[d];
    const double l = case_.start.reference_stretch[e] * path / case_.start.reference_path[e];
    stretch_[e] = l;
    path_slope_[e] = -1.0 / path;
    const double q = case_.mode.shape;
    const double excess = l * l + 2.0 * q / l - 3.0, limit = case_.film.network.stretch_limit;
    const double gent = case_.film.network.modulus * limit / (limit - excess);
    const double drive = l * l - q / l;
    double s = gent * drive;
    double ds = gent * (2.0 * l * l + q / l) + gent / (limit - excess) * (2.0 * l * l - 2.0 * q / l) * drive;
    for (std::size_t k = 0; k < branches_; ++k) {
      s += numbers_[k].modulus * (std::log(l) - v[e * branches_ + k]);
      ds += numbers_[k].modulus;
    }
    tangent = (ds - s) / l;
    return s / l;
  }

  [[nodiscard]] Flow flow(std::size_t e, std::size_t k, const double* v) const {
    const double l = stretch_[e], q = case_.mode.shape;
    const double chi = 1.0 + case_.film.viscous_share * (l * l + 2.0 * q / l - 3.0);
    const double log_slope = case_.film.viscous_share * (2.0 * l * l - 2.0 * q / l) / chi;
    const EyringFlow::Branch& b = numbers_[k];
    const double gain = b.modulus / (b.flow_stress * chi);
    const double y = gain * (std::log(l) - v[e * branches_ + k]);
    const double cosh = b.reference_rate * std::cosh(y);
    return {b.reference_rate * std::sinh(y), cosh * gain, -cosh * y * log_slope};
  }

  const Case& case_;
  std::vector<EyringFlow::Branch> numbers_;
  std::size_t count_, branches_;
  std::vector<double> stretch_, path_slope_, tangent_;
  std::array<double, 2> closing_{}, stiffness_{};
};

int rates(realtype, N_Vector v, N_Vector dv, void* user) {
  static_cast<System*>(user)->rates(N_VGetArrayPointer(v), N_VGetArrayPointer(dv));
  return 0;
}
int jacobian(realtype, N_Vector v, N_Vector, SUNMatrix j, void* user, N_Vector, N_Vector, N_Vector) {
  static_cast<System*>(user)->jacobian(N_VGetArrayPointer(v), j);
  return 0;
}

}  // namespace

Answer solve_cvode(const Case& c, double relative_tolerance) {
  Answer answer;
  const double begin = processor_seconds();
  System system(c);
  SUNContext context = nullptr;
  require(SUNContext_Create(nullptr, &context) == 0, "no context");
  const auto n = static_cast<sunindextype>(system.size());
  N_Vector v = N_VNew_Serial(n, context);
  const std::size_t branches = c.film.branches.size();
  for (std::size_t e = 0; e < c.start.film.size; ++e)
    for (std::size_t k = 0; k < branches; ++k)
      N_VGetArrayPointer(v)[e * branches + k] =
          std::log(c.start.film.stretch[e]) - c.start.film.strain[k * c.start.film.stride + e];
  void* memory = CVodeCreate(CV_BDF, context);
  SUNMatrix matrix = SUNDenseMatrix(n, n, context);
  SUNLinearSolver solver = SUNLinSol_Dense(v, matrix, context);
  require(memory != nullptr && matrix != nullptr && solver != nullptr, "no memory");
  require(CVodeInit(memory, rates, 0.0, v) == 0, "init");
  require(CVodeSetUserData(memory, &system) == 0, "user data");
  // Elastic strains are some 1 %; an absolute error of the tolerance times 1e-2 is the relative error of the tension.
  require(CVodeSStolerances(memory, 1e-2 * relative_tolerance, 1e-2 * relative_tolerance) == 0, "tolerances");
  require(CVodeSetLinearSolver(memory, solver, matrix) == 0, "linear solver");
  require(CVodeSetJacFn(memory, jacobian) == 0, "jacobian");
  require(CVodeSetMaxNumSteps(memory, 1000000) == 0, "steps");
  answer.tension.push_back(system.tension(N_VGetArrayPointer(v)));
  for (std::size_t i = 1; i < c.times.size(); ++i) {
    realtype reached = 0.0;
    require(CVode(memory, c.times[i], v, &reached, CV_NORMAL) >= 0, "no step");
    answer.tension.push_back(system.tension(N_VGetArrayPointer(v)));
  }
  long int steps = 0, failed = 0;
  CVodeGetNumSteps(memory, &steps);
  CVodeGetNumErrTestFails(memory, &failed);
  answer.steps = static_cast<std::size_t>(steps);
  answer.rejected = static_cast<std::size_t>(failed);
  CVodeFree(&memory);
  SUNLinSolFree(solver);
  SUNMatDestroy(matrix);
  N_VDestroy(v);
  SUNContext_Free(&context);
  answer.seconds = processor_seconds() - begin;
  return answer;
}

}  // namespace hoopfield::bench
