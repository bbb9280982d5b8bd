// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Laboratory curves made from a known film, with noise.
#pragma once

#include "models/film/film_law.hpp"
#include "sim/film_lab/film_test.hpp"
#include "sim/film_lab/lab_curve.hpp"

#include <algorithm>
#include <cmath>
#include <random>
#include <string>
#include <utility>
#include <vector>

namespace test {

/// Corners of a stretch history: time (s) and stretch ratio, even in time between them.
using History = std::vector<std::pair<double, double>>;

/// The film led along a history, read `per_leg` times on each leg that moves (even in time) and ten times a decade on
/// each that rests; stress times (1 + noise x normal).
inline hoopfield::LabCurve measured(const hoopfield::FilmDescription& film, const History& corners, double noise,
                                    unsigned seed, hoopfield::FilmTestKind kind, double temperature = 296.15,
                                    int per_leg = 600) {
  using namespace hoopfield;
  const auto law = make_film_law(film);
  std::mt19937 random(seed);
  std::normal_distribution<double> normal(0.0, 1.0);
  LabCurve curve;
  curve.name = film_test_name(kind);
  curve.kind = kind;
  curve.temperature = temperature;
  curve.temperature_given = true;
  FilmState state;
  double time = 0.0;
  curve.points.push_back({0.0, 1.0, 0.0});
  const auto read = [&](double to_time, double stretch) {
    const double stress =
        law->step(state, stretch, to_time - time, WidthMode::free(), temperature, temperature).nominal;
    time = to_time;
    return stress;
  };
  for (std::size_t c = 1; c < corners.size(); ++c) {
    const auto [t0, l0] = corners[c - 1];
    const auto [t1, l1] = corners[c];
    std::vector<double> times;
    if (l0 != l1) {
      for (int i = 1; i <= per_leg; ++i) times.push_back(t0 + (t1 - t0) * i / per_leg);
    } else {
      for (double t = 0.02; t < t1 - t0; t *= std::pow(10.0, 0.025)) times.push_back(t0 + t);
      times.push_back(t1);
    }
    for (const double t : times) {
      double stress = 0.0;
      const double share_before = (time - t0) / (t1 - t0), share = (t - t0) / (t1 - t0);
      // Fine steps between the readings, so that the curve is the law's own and no step's.
      const int pieces =
          l0 != l1 ? std::max(4, static_cast<int>(std::abs(l1 - l0) * (share - share_before) / 5e-4)) : 1;
      const double start = time;
      for (int i = 1; i <= pieces; ++i) {
        const double s = share_before + (share - share_before) * i / pieces;
        stress = read(start + (t - start) * i / pieces, l0 + (l1 - l0) * s);
      }
      curve.points.push_back({t, l0 + (l1 - l0) * share, stress * (1.0 + noise * normal(random))});
    }
  }
  curve.rows_read = curve.points.size();
  return curve;
}

/// Three tensile rates, a hold, one loading and unloading: what determines a law of two or three branches at one
/// temperature.
inline std::vector<hoopfield::LabCurve> curve_set(const hoopfield::FilmDescription& film, double noise, unsigned seed) {
  using hoopfield::FilmTestKind;
  std::vector<hoopfield::LabCurve> curves;
  for (const double rate : {0.003, 0.1, 3.0})
    curves.push_back(measured(film, {{0.0, 1.0}, {2.5 / rate, 3.5}}, noise,
                              seed * 8 + static_cast<unsigned>(curves.size()), FilmTestKind::tensile));
  curves.push_back(
      measured(film, {{0.0, 1.0}, {12.5, 3.5}, {86412.5, 3.5}}, noise, seed * 8 + 3, FilmTestKind::relaxation));
  curves.push_back(measured(film, {{0.0, 1.0}, {12.5, 3.5}, {14.0, 3.2}}, noise, seed * 8 + 4, FilmTestKind::cycle));
  return curves;
}

}  // namespace test
