// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The interface every film law answers. Constant objects; state is a separate small value.
#pragma once

#include "models/film/width_mode.hpp"

#include <array>
#include <cstddef>
#include <vector>

namespace hoopfield {

inline constexpr std::size_t max_branches = 8;

/// State of one film element: stretch (length over length on the roll) and elastic log strain of each branch.
struct FilmState {
  double stretch = 1.0;
  std::array<double, max_branches> strain{};
};

/// Stress answer at a state. Nominal stress = force over section on the roll.
struct FilmStress {
  double nominal = 0.0;  ///< P, Pa; may be negative, film itself cannot push (the caller decides)
  double slope =
      0.0;  ///< d P / d ln l at the end of the step, with the dashpots following (dt > 0) or frozen (dt = 0), Pa
};

/// Flow rates and moduli at a state, for solvers of the plain differential equations (draw, reference integrators).
struct FilmRates {
  double network = 0.0;                        ///< s_net, true stress, Pa
  double network_slope = 0.0;                  ///< d s_net / d ln l, Pa
  double softening_network = 0.0;              ///< b_G, 1/K
  double softening_branch = 0.0;               ///< b_E, 1/K
  std::array<double, max_branches> modulus{};  ///< E_k(T), Pa
  /// Flow rate of each branch in `d e_k/dt = d ln l/dt - f_k`, as `f_k exp(-log_scale)`: it may span hundreds of
  /// decades. 1/s
  std::array<double, max_branches> flow{};
  double log_scale = 0.0;
};

/// Blocks are padded to a multiple of this, so that vectors of elements need no special end. Padding holds finite
/// numbers that mean nothing.
inline constexpr std::size_t block_lanes = 16;
constexpr std::size_t padded_size(std::size_t count) { return (count + block_lanes - 1) / block_lanes * block_lanes; }

/// Many elements of the same film on the load, structure of arrays: `strain[k * stride + i]`, i < size <= stride.
struct FilmBlock {
  std::size_t size = 0;
  std::size_t stride = 0;
  std::vector<double> stretch;
  std::vector<double> strain;
  /// Without elements, for so many of them.
  void allocate(std::size_t capacity, std::size_t branches) {
    size = 0;
    stride = padded_size(capacity);
    stretch.assign(stride, 1.0);
    strain.assign(stride * branches, 0.0);
  }
  [[nodiscard]] FilmState state_of(std::size_t i, std::size_t branches) const {
    FilmState state;
    state.stretch = stretch[i];
    for (std::size_t k = 0; k < branches; ++k) state.strain[k] = strain[k * stride + i];
    return state;
  }
  void put_state(std::size_t i, const FilmState& state, std::size_t branches) {
    stretch[i] = state.stretch;
    for (std::size_t k = 0; k < branches; ++k) strain[k * stride + i] = state.strain[k];
  }
};

/// What a block step tells per element: nominal stress (Pa), its slope d P/d ln l (Pa), and d e_k/d ln l as
/// `strain_slope[k * stride + i]` with the stride of the block it was made with.
struct BlockStress {
  std::vector<double> nominal, slope, strain_slope;
  void allocate(std::size_t capacity, std::size_t branches) {
    nominal.assign(padded_size(capacity), 0.0);
    slope.assign(padded_size(capacity), 0.0);
    strain_slope.assign(padded_size(capacity) * branches, 0.0);
  }
};

/// A film law: true stress `s = s_net(l) + m sum_k E_k e_k`, nominal `P = s/l`, `d e_k/dt = d ln l/dt - f_k(e_k, l,
/// T)`. Temperatures in K, times in s, stresses in Pa. All functions are const and thread-safe.
class FilmLaw {
 public:
  virtual ~FilmLaw() = default;

  [[nodiscard]] virtual std::size_t branch_count() const = 0;

  /// Stress at a state, and the elastic slope (dashpots frozen).
  [[nodiscard]] virtual FilmStress stress(const FilmState& state, const WidthMode& mode, double temperature) const = 0;

  /// Moves the state to `stretch_end` at constant log rate over dt (dt = 0: elastic jump), in as many sub-steps as
  /// |delta ln chi| <= 0.1 asks for. `temperature_flow` acts on the flow, `temperature_end` on the stress returned.
  virtual FilmStress step(FilmState& state, double stretch_end, double dt, const WidthMode& mode,
                          double temperature_flow, double temperature_end) const = 0;

  /// The same for every element of a block in free mode, writing to `end` (same size, buffers already allocated),
  /// with stress and slopes per element (same capacity as `end`). `begin` and `end` may not overlap. One step
  /// each: for the small moves of film on a load.
  virtual void step_block(const FilmBlock& begin, FilmBlock& end, const double* stretch_end, double dt,
                          const WidthMode& mode, double temperature_flow, double temperature_end,
                          BlockStress& stress) const = 0;

  /// Rates of the plain differential equations at a state.
  [[nodiscard]] virtual FilmRates rates(const FilmState& state, const WidthMode& mode, double temperature) const = 0;

  /// Elastic strain at which branch k starts to flow, the scale of its errors: flow stress over modulus, 1 % for linear
  /// branches.
  [[nodiscard]] virtual double strain_scale(std::size_t k) const = 0;

  /// Greatest stretch the law can reach in a mode (infinite where there is none).
  [[nodiscard]] virtual double stretch_limit(const WidthMode& mode) const = 0;

  /// Order p of step(): the error of a path that is cut into steps falls as the p-th power of their length, at least.
  [[nodiscard]] virtual int step_order() const = 0;

  /// Greatest distance of the true stress of the branches from its tangent at the end of a step of length dt > 0 in
  /// free width, over the square of the log stretch moved along the tangent, Pa; infinite where no such bound exists.
  /// At the reference temperature: a size, not a last digit.
  [[nodiscard]] virtual double curvature_bound(double dt) const = 0;
};

/// `step` with error control by step doubling: the log-stretch path from the state to `stretch_end` over dt is cut
/// until the estimated error of every branch stress is below `tolerance` times its flow stress (or modulus times 1 %
/// for linear branches).
FilmStress advance_controlled(const FilmLaw& law, FilmState& state, double stretch_end, double dt,
                              const WidthMode& mode, double temperature, double tolerance,
                              std::size_t* steps = nullptr);

/// Stretch at which the nominal stress takes a wanted value by an elastic jump (dashpots frozen), searched on the
/// stable part of the curve that contains the present state. Throws SolverError when the film cannot carry it.
[[nodiscard]] double stretch_at_stress(const FilmLaw& law, const FilmState& state, double nominal,
                                       const WidthMode& mode, double temperature);

/// Creep: holds the nominal stress over dt (first an elastic jump to it); state is moved. Step doubling keeps the
/// error of ln l per step below `tolerance`.
void creep(const FilmLaw& law, FilmState& state, double nominal, double dt, const WidthMode& mode, double temperature,
           double tolerance = 1e-6);

/// Creep of film on its way to the load. Film that passes at the speed v once it is laid passes earlier, at a smaller
/// stretch, at v l/l_laid: it has gone the path p after the time T with `int_0^T l dt = (p/v) l(T)`.
/// \param time_as_laid  p/v, s
/// Returns T: longer than p/v for film that draws on. The state is moved. Pinned by tests/unit/draw_test.cpp.
double creep_along(const FilmLaw& law, FilmState& state, double nominal, double time_as_laid, const WidthMode& mode,
                   double temperature, double tolerance = 1e-6);

}  // namespace hoopfield
