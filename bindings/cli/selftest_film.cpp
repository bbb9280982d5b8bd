// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/selftest.hpp"
#include "models/film/description.hpp"
#include "models/film/film_law.hpp"
#include "sim/film_path/draw.hpp"
#include "sim/film_path/film_path.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::cli {

namespace {

constexpr double room = 296.15;  // K

FilmDescription plain_film() {
  FilmDescription film;
  film.name = "self-test";
  film.density = 920.0;
  film.network = {1e6, 30.0};
  return film;
}

FilmDescription one_branch_film() {
  FilmDescription film = plain_film();
  film.branches = {{{"modulus", 100e6}, {"reference_rate", 1e-3}, {"flow_stress", 0.5e6}}};
  return film;
}

SelfCheck network_check() {
  const auto law = make_film_law(plain_film());
  FilmState state;
  state.stretch = 3.0;
  const double l = 3.0, g = 1e6, jm = 30.0, invariant = l * l + 2.0 / l;
  return {"network stress at stretch 3, free width",
          "P = G Jm/(Jm - (I1 - 3)) (l^2 - 1/l)/l,  I1 = l^2 + 2/l",
          g * jm / (jm - (invariant - 3.0)) * (l * l - 1.0 / l) / l,
          law->stress(state, WidthMode::free(), room).nominal,
          1e-12,
          "Pa"};
}

SelfCheck relaxation_check() {
  const auto law = make_film_law(one_branch_film());
  const double modulus = 100e6, rate = 1e-3, flow = 0.5e6, time = 40.0, y0 = 12.0;
  FilmState state;
  state.stretch = 2.0;
  state.strain[0] = y0 * flow / modulus;
  law->step(state, 2.0, time, WidthMode::free(), room, room);
  const double y = 2.0 * std::atanh(std::tanh(0.5 * y0) * std::exp(-modulus * rate * time / flow));
  return {"relaxation of one branch over 40 s at rest",
          "tanh(y/2) = tanh(y0/2) exp(-E r t/Y),  y = E e/Y",
          y * flow / modulus,
          state.strain[0],
          1e-9,
          ""};
}

SelfCheck flow_check() {
  const auto law = make_film_law(one_branch_film());
  const double modulus = 100e6, rate = 1e-3, flow = 0.5e6, log_rate = 0.5;
  FilmState state;
  advance_controlled(*law, state, 3.0, std::log(3.0) / log_rate, WidthMode::free(), room, 1e-8);
  return {"steady flow at 0.5 1/s",
          "E e = Y asinh(a/r)",
          flow * std::asinh(log_rate / rate),
          modulus * state.strain[0],
          1e-6,
          "Pa"};
}

SelfCheck draw_check() {
  FilmDescription film = plain_film();
  film.law = "maxwell";
  film.network.modulus = 1.0;
  film.branches = {{{"modulus", 1e9}, {"relaxation_time", 1e-6}}};
  const auto law = make_film_law(film);
  DrawInput input;
  input.law = law.get();
  input.ratio = 3.0;
  input.width_exponent = 0.5;
  input.temperature = room;
  const DrawResult result = draw(input);
  const double half = 0.5 * input.gap;
  const auto after = std::find_if(result.profile.begin(), result.profile.end(),
                                  [&](const DrawPoint& p) { return p.position >= half; });
  double found = NAN;
  if (after != result.profile.begin() && after != result.profile.end()) {
    const DrawPoint& before = *(after - 1);
    const double share = (half - before.position) / (after->position - before.position);
    found = before.stretch * std::pow(after->stretch / before.stretch, share);
  }
  return {"stretch half-way through the gap, Newtonian film drawn 3 times",
          "l = ratio^(x/d)",
          std::sqrt(3.0),
          found,
          2e-3,
          ""};
}

std::vector<SelfCheck> film_path_checks() {
  const auto law = make_film_law(plain_film());
  FilmPathInput input;
  input.law = law.get();
  input.roll_width = 0.5;
  input.roll_thickness = 20e-6;
  input.density = 920.0;
  input.draw_ratio = 2.5;
  input.span_force = 30.0;
  input.take_up_speed = 1.0;
  input.width_exponent = 0.5;
  const FilmPathResult path = solve_film_path(input).result;
  const double l = path.stretch_on_load, jm = 30.0, invariant = l * l + 2.0 / l;
  const double stress = 1e6 * jm / (jm - (invariant - 3.0)) * (l * l - 1.0 / l) / l;
  return {{"force of the laid film, elastic", "F = P(l) w0 t0", input.span_force,
           stress * input.roll_width * input.roll_thickness, 1e-6, "N"},
          {"thickness of film free in width", "t = t0 l^(-1/2)", input.roll_thickness / std::sqrt(l),
           path.laid_thickness, 1e-9, "m"}};
}

}  // namespace

std::vector<SelfCheck> film_checks() {
  std::vector<SelfCheck> checks = {network_check(), relaxation_check(), flow_check(), draw_check()};
  for (SelfCheck& check : film_path_checks()) checks.push_back(std::move(check));
  return checks;
}

}  // namespace hoopfield::cli
