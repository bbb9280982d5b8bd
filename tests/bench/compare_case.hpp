// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The case on which integrators are compared: one height of a load that gives, all film laid, then stored.
#pragma once

#include "models/film/description.hpp"
#include "models/film/film_law.hpp"
#include "sim/buildup/load_stack.hpp"

#include <array>
#include <cstddef>
#include <ctime>
#include <vector>

namespace hoopfield::bench {

/// Processor time of this process: other work on the machine would lengthen long runs more than short ones.
inline double processor_seconds() {
  timespec now{};
  ::clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// Film elements of one slice at the end of wrapping and the load they press on. No load creep, constant temperature.
struct Case {
  FilmDescription film;
  const FilmLaw* law = nullptr;
  WidthMode mode;
  double length = 0.0, width = 0.0;
  double stiffness_length = 0.0, stiffness_width = 0.0;  ///< Pa
  double temperature = 296.15;
  LoadStack::Slice start;
  std::vector<double> times;  ///< s, first 0
};

/// Tension of the four faces at each time (N/m), and what it took.
struct Answer {
  std::vector<std::array<double, face_count>> tension;
  double seconds = 0.0;
  std::size_t steps = 0, rejected = 0;
};

/// All elements as one system of differential equations `dv_ik/dt = f_k`, v = ln l - e, closings from the equilibrium
/// at every instant; BDF with the analytic Jacobian, dense. SUNDIALS CVODE.
Answer solve_cvode(const Case& c, double relative_tolerance);

/// One element on a stretch path of constant log rate between the times: branch strains at the end.
struct ElementPath {
  FilmDescription film;
  double shape = 1.0;  ///< q of the free mode
  double temperature = 296.15;
  std::vector<double> time, stretch;
  std::vector<double> strain;  ///< at the start
};
struct ElementAnswer {
  std::vector<double> strain;
  double seconds = 0.0;
  std::size_t steps = 0;
};
/// rosenbrock4 with its step control on the plain equations.
ElementAnswer solve_rosenbrock4(const ElementPath& path, double tolerance);

}  // namespace hoopfield::bench
