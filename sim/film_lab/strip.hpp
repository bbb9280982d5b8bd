// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The strip in the grips: one film state moved along, with the heat of drawing when asked for.
#pragma once

#include "models/film/film_law.hpp"
#include "sim/film_lab/film_test.hpp"

#include <functional>
#include <memory>

namespace hoopfield {

class Strip {
 public:
  Strip(const FilmDescription& film, const FilmTest& test, Observer* observer);

  /// To a stretch at constant log rate over `duration`. Returns the nominal stress.
  double move(double stretch, double duration);
  /// Free or under a constant nominal stress for `duration`.
  void creep(double nominal, double duration);
  [[nodiscard]] double stress() const;
  [[nodiscard]] double stretch() const { return state_.stretch; }
  [[nodiscard]] double temperature() const { return temperature_; }
  [[nodiscard]] double limit() const { return law_->stretch_limit(mode_); }
  /// A copy to try a step with: the heat of the step belongs to it.
  struct State {
    FilmState film;
    double temperature = 0.0;  // K
  };
  [[nodiscard]] State state() const { return {state_, temperature_}; }
  void set_state(const State& state) {
    state_ = state.film;
    temperature_ = state.temperature;
  }

 private:
  void heat(const FilmState& before);

  std::shared_ptr<const FilmLaw> law_;
  WidthMode mode_;
  double temperature_;
  double heat_per_volume_ = 0.0;  // rho cp, J/m^3/K; 0 = no heat of drawing
  double entropic_share_ = 1.0;
  Observer* observer_;
  FilmState state_;
};

}  // namespace hoopfield
