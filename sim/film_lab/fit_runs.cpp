// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_runs.hpp"

#include "models/text.hpp"
#include "sim/base/number_text.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::detail {

namespace {

constexpr double once_in_a_thousand = -3.09;  // standard deviations, one-sided
constexpr std::size_t least_signs = 12;

struct Piece {
  std::size_t first = 0, last = 0;  // readings first..last
};

std::vector<Piece> pieces_of(const FitPath& path) {
  std::vector<Piece> pieces;
  for (std::size_t i = 0; i < path.readings.size(); ++i) {
    if (i == 0 || path.readings[i].leg != path.readings[i - 1].leg) pieces.push_back({i, i});
    pieces.back().last = i;
  }
  return pieces;
}

const char* leg_name(FitLeg leg) {
  switch (leg) {
    case FitLeg::loading: return "loading";
    case FitLeg::unloading: return "unloading";
    case FitLeg::hold: return "hold";
    case FitLeg::creep: return "creep";
    case FitLeg::free: return "free film";
  }
  return "";
}

std::string place_of(const FitPath& path, const Piece& piece, std::size_t at) {
  const FitReading& reading = path.readings[at];
  const FitLeg leg = path.legs[reading.leg];
  if (leg == FitLeg::loading || leg == FitLeg::unloading)
    return " near " + fixed(100.0 * (reading.stretch - 1.0), 0) + " %";
  const double since = reading.time - path.readings[piece.first].time;
  return " near " + fixed(since, since < 10.0 ? 1 : 0) + " s";
}

}  // namespace

double runs_deviation(const std::vector<double>& residuals) {
  double above = 0.0, below = 0.0, runs = 0.0;
  bool last = false;
  for (const double r : residuals) {
    if (r == 0.0) continue;
    const bool now = r > 0.0;
    if (above + below == 0.0 || now != last) runs += 1.0;
    (now ? above : below) += 1.0;
    last = now;
  }
  const double n = above + below;
  if (n < static_cast<double>(least_signs)) return 0.0;
  if (above == 0.0 || below == 0.0) return -std::sqrt(n);  // one run; the variance of chance has no meaning here
  const double product = 2.0 * above * below;
  const double variance = product * (product - n) / (n * n * (n - 1.0));
  return variance > 0.0 ? (runs - 1.0 - product / n) / std::sqrt(variance) : 0.0;
}

std::string lawless_ranges(const std::vector<FitPath>& paths, const std::vector<CurveResidual>& curves, double least) {
  std::string list;
  for (std::size_t c = 0; c < paths.size(); ++c) {
    const FitPath& path = paths[c];
    for (const Piece& piece : pieces_of(path)) {
      std::vector<double> residuals;
      double square = 0.0, scatter = 0.0, farthest = 0.0;
      std::size_t at = piece.first;
      for (std::size_t i = piece.first; i <= piece.last; ++i) {
        const FitReading& reading = path.readings[i];
        const double r = (curves[c].fitted[i] - reading.stress) / reading.scale;
        residuals.push_back(r);
        square += r * r;
        scatter += path.noise * path.noise / reading.count;
        if (std::abs(r) > std::abs(farthest)) farthest = r, at = i;
      }
      const double misfit = std::sqrt(std::max(0.0, (square - scatter) / static_cast<double>(residuals.size())));
      if (runs_deviation(residuals) > once_in_a_thousand || misfit < least) continue;
      list += (list.empty() ? "" : "; ") + file_name(path.name) + ", " +
              leg_name(path.legs[path.readings[piece.first].leg]) + " " + fixed(100.0 * misfit, misfit < 0.1 ? 1 : 0) +
              " %, most " + fixed(100.0 * std::abs(farthest), 0) + " % too " + (farthest > 0.0 ? "high" : "low") +
              place_of(path, piece, at);
    }
  }
  if (list.empty()) return list;
  return "the law cannot follow these curves; its error beyond their scatter (root mean square): " + list +
         ". The intervals allow for it; a film of this kind is predicted less well than another";
}

}  // namespace hoopfield::detail
