// SPDX-License-Identifier: BSD-3-Clause
#include "sim/winding/laid_film.hpp"

#include "models/load/corner_slip.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {

namespace {

constexpr double slack_force = 1e-3;   // N: floor that keeps ln T finite
constexpr double limit_slack = 1e-10;  // in ln T; below it nothing is worth moving
constexpr int most_rounds = 8;         // mixing changes tensions a little: repeat until the limits hold

/// One body of film of the chain: a laid face, or the span as the last.
struct Link {
  double length, mass;
  FilmState film;
};

LogTension log_tension(const Link& link, double mass, const SpanFilm& film) {
  FilmState moved = link.film;
  const FilmStress s =
      film.law->step(moved, link.length / mass, 0.0, film.mode, film.temperature, film.temperature);
  const double force = s.nominal * film.section;
  const double slope = std::max(s.slope * film.section, slack_force);
  // Below the floor: a straight continuation of T in ln T, so that a slack face still asks for less film.
  if (force < slack_force)
    return {std::log(slack_force) + (force - slack_force) / slack_force, -slope / (slack_force * mass)};
  return {std::log(force), -slope / (force * mass)};
}

std::array<double, max_branches> viscous(const FilmState& film, std::size_t branches) {
  std::array<double, max_branches> v{};
  for (std::size_t k = 0; k < branches; ++k) v[k] = std::log(film.stretch) - film.strain[k];
  return v;
}

void move_film(std::vector<Link>& links, const CornerSlip& slip, std::size_t branches) {
  const std::vector<Link> before = links;
  for (std::size_t i = 0; i < links.size(); ++i) {
    const double from_behind = i > 0 ? std::max(slip.slip[i - 1], 0.0) : 0.0;
    const double from_ahead = i < slip.slip.size() ? std::max(-slip.slip[i], 0.0) : 0.0;
    links[i].mass = slip.mass[i];
    links[i].film.stretch = links[i].length / links[i].mass;
    auto v = viscous(before[i].film, branches);
    const double kept = slip.mass[i] - from_behind - from_ahead;
    if (from_behind > 0.0 || from_ahead > 0.0) {
      for (std::size_t k = 0; k < branches; ++k) {
        double sum = kept * v[k];
        if (from_behind > 0.0) sum += from_behind * viscous(before[i - 1].film, branches)[k];
        if (from_ahead > 0.0) sum += from_ahead * viscous(before[i + 1].film, branches)[k];
        v[k] = sum / slip.mass[i];
      }
    }
    for (std::size_t k = 0; k < branches; ++k) links[i].film.strain[k] = std::log(links[i].film.stretch) - v[k];
  }
}

}  // namespace

bool slip_laid_film(std::vector<LaidFace>& faces, std::size_t first, double limit_to_span, const SpanFilm& film,
                    double span_length, SpanState& span) {
  if (faces.empty() || first >= faces.size()) return false;
  const auto jump = std::log(std::max(span.force, slack_force)) - std::log(std::max(faces.back().force, slack_force));
  if (std::abs(jump) <= limit_to_span + limit_slack) return false;

  std::vector<Link> links;
  std::vector<double> limit;
  for (std::size_t i = first; i < faces.size(); ++i) {
    links.push_back({faces[i].length, faces[i].mass, faces[i].film});
    limit.push_back(i + 1 < faces.size() ? faces[i + 1].limit_behind : limit_to_span);
  }
  links.push_back({span_length, span.mass, span.film});
  const std::size_t branches = film.law->branch_count();
  const FaceTension tension = [&](std::size_t i, double mass) { return log_tension(links[i], mass, film); };
  for (int round = 0; round < most_rounds; ++round) {
    std::vector<double> mass, logs;
    for (std::size_t i = 0; i < links.size(); ++i) {
      mass.push_back(links[i].mass);
      logs.push_back(tension(i, links[i].mass).value);
    }
    if (greatest_excess(logs, limit) <= limit_slack) break;
    move_film(links, slip_corners(mass, limit, tension, 1e-11), branches);
  }
  for (std::size_t i = first; i < faces.size(); ++i) {
    const Link& link = links[i - first];
    if (link.mass == faces[i].mass) continue;
    faces[i].mass = link.mass;
    faces[i].film = link.film;
    faces[i].force = std::max(film.force(link.film), 0.0);
  }
  span.mass = links.back().mass;
  span.film = links.back().film;
  return true;
}

}  // namespace hoopfield
