// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/strip.hpp"

#include "models/error.hpp"

#include <cmath>

namespace hoopfield {

namespace {
constexpr double tolerance = 1e-5;  // of the step control, relative to the flow stress of each branch
}

Strip::Strip(const FilmDescription& film, const FilmTest& test, Observer* observer)
    : law_(make_film_law(film)),
      mode_(WidthMode::power(test.width_exponent)),
      temperature_(test.temperature),
      entropic_share_(film.thermal.entropic_share),
      observer_(observer) {
  if (!test.draw_heat) return;
  heat_per_volume_ = film.density * film.thermal.heat_capacity;
  if (!(heat_per_volume_ > 0.0))
    throw InputError("thermal.heat_capacity: is 0 in the film file, so the heat of drawing is not known", {}, 0, 0,
                     "thermal.heat_capacity");
}

double Strip::move(double stretch, double duration) {
  if (observer_ != nullptr && !observer_->progress(0.0, "testing")) throw Interrupted();
  const FilmState before = state_;
  const double stress = advance_controlled(*law_, state_, stretch, duration, mode_, temperature_, tolerance).nominal;
  if (!(heat_per_volume_ > 0.0)) return stress;
  heat(before);
  return this->stress();
}

/// `rho cp dT = sum m E_k e_k (d ln l - d e_k) + theta P_net dl`, trapezium over the step.
void Strip::heat(const FilmState& before) {
  const FilmRates start = law_->rates(before, mode_, temperature_);
  const FilmRates at = law_->rates(state_, mode_, temperature_);
  const double log_step = std::log(state_.stretch / before.stretch);
  double work = entropic_share_ * 0.5 * (start.network + at.network) * log_step;
  for (std::size_t k = 0; k < law_->branch_count(); ++k)
    work += mode_.m * at.modulus[k] * 0.5 * (before.strain[k] + state_.strain[k]) *
            (log_step - (state_.strain[k] - before.strain[k]));
  temperature_ += work / heat_per_volume_;
}

void Strip::creep(double nominal, double duration) {
  if (observer_ != nullptr && !observer_->progress(0.0, "testing")) throw Interrupted();
  hoopfield::creep(*law_, state_, nominal, duration, mode_, temperature_);
}

double Strip::stress() const { return law_->stress(state_, mode_, temperature_).nominal; }

}  // namespace hoopfield
