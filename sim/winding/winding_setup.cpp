// SPDX-License-Identifier: BSD-3-Clause
// What is found before the load turns: checks, the film at the set force, the control law.
#include "models/error.hpp"
#include "sim/film_path/film_path.hpp"
#include "sim/winding/winding.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <numbers>

namespace hoopfield {

namespace {

constexpr double two_pi = 2.0 * std::numbers::pi;
// Where the bodies of young film end, as shares of the least film that the span ever holds: closer where film is
// younger, as its flow falls off with the logarithm of its age.
constexpr std::array<double, 3> young_ends{0.05, 0.2, 0.5};

// Film older than that of the young bodies is known at so many places, up to so many times the mean film of the span.
constexpr std::size_t places = 8;
constexpr double most_film = 3.0;

void require(bool good, const char* key, const char* expected) {
  if (!good) throw OutOfRange(std::string(key) + ": out of range; expected " + expected, {}, 0, 0, key);
}

void check(const WindingInput& in) {
  if (!in.law) throw InputError("film: no film law given");
  require(in.speed > 0.0 && std::isfinite(in.speed), "rotation.speed", "more than 0");
  require(in.ramp_turns >= 0.0 && std::isfinite(in.ramp_turns), "rotation.ramp_turns", "0 or more");
  require(in.turns > 0.0 && std::isfinite(in.turns), "turns", "more than 0");
  require(in.roll_section > 0.0, "film.width times film.thickness", "more than 0 m^2");
  require(in.force > 0.0 && std::isfinite(in.force), "delivery.tension.force", "more than 0 N");
  require(in.internal_path >= 0.0, "delivery.internal_path", "0 m or more");
  require(in.temperature > 0.0, "temperature", "more than 0 K");
  require(!in.film_on_load || *in.film_on_load >= 0.0, "friction.film_on_load", "0 or more, or \"stuck\"");
  require(!in.film_on_film || *in.film_on_film >= 0.0, "friction.film_on_film", "0 or more, or \"stuck\"");
  require(in.tolerance > 0.0 && in.tolerance < 1.0, "numerics.tolerance", "between 0 and 1");
}

std::shared_ptr<const DeliveryControl> make_control(const WindingInput& in, const FilmState& reference,
                                                    double perimeter) {
  switch (in.control.kind) {
    case WindingControl::Kind::fixed_length:
      return std::make_shared<FixedLength>(in.control.length_per_turn * perimeter / two_pi);
    case WindingControl::Kind::follow: {
      FollowParameters p;
      p.force = in.force;
      p.stretch = reference.stretch;
      p.lag = in.control.lag;
      p.gain = in.control.gain;
      p.speed_limit = in.control.speed_limit;
      p.acceleration_limit = in.control.acceleration_limit;
      return std::make_shared<FollowDemand>(p);
    }
    case WindingControl::Kind::own:
      if (!in.control.law) throw InputError("delivery.tension.control: no control law given");
      return in.control.law;
    case WindingControl::Kind::constant: break;
  }
  return std::make_shared<ConstantForce>();
}

}  // namespace

Winder::Winder(const WindingInput& input) : input_(input), take_up_((check(input), input.plan)) {
  const Rotation rotation{input.speed, two_pi * input.ramp_turns};
  const double mean_speed = input.speed * take_up_.perimeter() / two_pi;
  const double time_as_laid = (input.internal_path + take_up_.mean_span()) / mean_speed;
  end_angle_ = two_pi * input.turns;
  skipped_ = take_up_.events()[0].angle > 0.0 ? 0 : 1;

  const bool fixed = input.control.kind == WindingControl::Kind::fixed_length;
  if (fixed) require(input.control.length_per_turn > 0.0, "delivery.tension.length_per_turn", "more than 0");
  FilmState reference;
  if (input.laid) {
    reference = *input.laid;
  } else if (fixed) {
    reference = creep_to_stretch(*input.law, input.drawn, 1.0 / input.control.length_per_turn,
                                 input.force / input.roll_section, time_as_laid, input.mode, input.temperature, 1e-6)
                    .film;
  } else {
    reference = input.drawn;
    creep_along(*input.law, reference, input.force / input.roll_section, time_as_laid, input.mode, input.temperature);
  }
  const SpanFilm film{input.law, input.mode, input.roll_section, input.temperature};
  span_ = std::make_unique<Span>(take_up_, rotation, film, reference_row(film, reference),
                                 make_control(input, reference, take_up_.perimeter()), input.internal_path);
}

/// Film that has crept for its time since the roller, at the reference force; a control that holds the force needs the
/// film at the load only.
SpanReference Winder::reference_row(const SpanFilm& film, const FilmState& laid) const {
  SpanReference row;
  row.laid = laid;
  if (input_.control.kind == WindingControl::Kind::constant || film.law->branch_count() == 0) return row;
  double least_length = std::numeric_limits<double>::infinity();
  for (const FaceEvent& event : take_up_.events())
    least_length = std::min(least_length, input_.internal_path + event.span_after);
  const double least_mass = least_length / laid.stretch;
  const double feed = input_.speed * take_up_.perimeter() / (two_pi * laid.stretch);
  const double nominal = film.force(laid) / input_.roll_section;
  double begin = 0.0, age = 0.0;
  FilmState state = input_.drawn;
  for (const double end : young_ends) {
    const double middle = 0.5 * (begin + end) * least_mass / feed;
    creep(*input_.law, state, nominal, middle - age, input_.mode, input_.temperature);
    age = middle;
    row.young.push_back(state);
    row.young_mass.push_back((end - begin) * least_mass);
    begin = end;
  }
  row.farthest = most_film * (input_.internal_path + take_up_.mean_span()) / laid.stretch;
  for (std::size_t i = 0; i < places; ++i) {
    const double there = row.place(i, places) / feed;
    if (there > age) creep(*input_.law, state, nominal, there - age, input_.mode, input_.temperature);
    age = std::max(age, there);
    row.placed.push_back(state);
  }
  return row;
}

}  // namespace hoopfield
