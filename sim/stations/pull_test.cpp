// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/pull_test.hpp"

#include "sim/stations/band_film.hpp"

#include <boost/math/quadrature/gauss.hpp>

#include <algorithm>
#include <cmath>
#include <utility>

namespace hoopfield {
namespace {

struct Strand {
  double path = 0.0;   // length over the plate, m
  double share = 0.0;  // sum of the sines of both ends
};

Strand strand_at(const PullTest& t, double z, double pulled) {
  const double c = std::sqrt(std::max(0.0, t.plate_radius * t.plate_radius - z * z));
  const double near = std::hypot(t.corner_distance - c, pulled);
  const double far = std::hypot(t.face_length - t.corner_distance - c, pulled);
  return {near + 2.0 * c + far, pulled / near + pulled / far};
}

/// Points and weights of the Gauss rule on [low, high].
template <unsigned count>
void add_gauss_points(double low, double high, std::vector<std::pair<double, double>>& points) {
  using Gauss =
      boost::math::quadrature::gauss<double, count>;  // its abscissas are 0 (odd counts) and the positive ones
  const double centre = 0.5 * (low + high), half = 0.5 * (high - low);
  for (std::size_t i = 0; i < Gauss::abscissa().size(); ++i) {
    const double x = Gauss::abscissa()[i], weight = half * Gauss::weights()[i];
    points.emplace_back(centre + half * x, weight);
    if (x > 0.0) points.emplace_back(centre - half * x, weight);
  }
}

/// Many thin slices under the plate need few points each: two in slices of 0.4 of its radius at most, three in those of
/// its radius at most, five in thicker ones. More of them change the force by less than 1e-4.
std::vector<std::pair<double, double>> gauss_points(double low, double high, double slice_height, double radius) {
  std::vector<std::pair<double, double>> points;
  if (slice_height <= 0.4 * radius)
    add_gauss_points<2>(low, high, points);
  else if (slice_height <= radius)
    add_gauss_points<3>(low, high, points);
  else
    add_gauss_points<5>(low, high, points);
  return points;
}

/// Every strand under the plate, one element per film layer, slice and Gauss point.
struct Strands {
  FilmBlock film;
  // Of the Gauss points, shared by the layers: height over the plate centre, what of a tension pulls at the end of the
  // test.
  std::vector<double> heights, shares;
  std::vector<std::size_t> point;            // of each strand
  std::vector<double> path_stretch, weight;  // weight = section * Gauss weight
  std::size_t tautest = 0;                   // strand of the greatest stress before the pull

  void add(const FilmState& state, std::size_t branches, std::size_t at_point, double stretch, double share) {
    film.put_state(film.size++, state, branches);
    point.push_back(at_point);
    path_stretch.push_back(stretch);
    weight.push_back(share);
  }
};

/// Nominal stress of one strand at the end of a pull cut into `pieces` of equal time.
double pulled_stress(const PullTest& test, const StackSetup& setup, const Strands& strands, std::size_t strand,
                     int pieces, double temperature) {
  FilmState film = strands.film.state_of(strand, setup.law->branch_count());
  const double height = strands.heights[strands.point[strand]];
  const double dt = test.pull_distance / test.pull_rate / pieces;
  double nominal = 0.0;
  for (int piece = 1; piece <= pieces; ++piece) {
    const double path = strand_at(test, height, test.pull_distance * piece / pieces).path / test.face_length;
    nominal =
        setup.law->step(film, strands.path_stretch[strand] * path, dt, setup.mode, temperature, temperature).nominal;
  }
  return nominal;
}

/// How the pull is cut: the plate moves at constant speed but the path grows with its square.
struct PullCourse {
  int pieces = 4;
  double correction = 1.0;  ///< stress of a finely cut pull over that of this one
};

/// Second order in the length of a piece, so twice as many tell the error of these.
PullCourse pull_course(const PullTest& test, const StackSetup& setup, const Strands& strands, double temperature) {
  constexpr int most_pieces = 4096;
  PullCourse course;
  if (strands.film.size == 0) return course;
  double coarse = pulled_stress(test, setup, strands, strands.tautest, course.pieces, temperature);
  for (;;) {
    const double fine = pulled_stress(test, setup, strands, strands.tautest, 2 * course.pieces, temperature);
    const double exact = fine + (fine - coarse) / 3.0;
    if (!(coarse > 0.0 && exact > 0.0)) return course;
    course.correction = exact / coarse;
    if (std::abs(course.correction - 1.0) <= setup.tolerance || 2 * course.pieces > most_pieces) return course;
    course.pieces *= 2;
    coarse = fine;
  }
}

/// Pulls all strands together; returns the force on the plate.
double pull(const PullTest& test, const StackSetup& setup, Strands& strands, double temperature) {
  const std::size_t n = strands.film.size, branches = setup.law->branch_count();
  const PullCourse course = pull_course(test, setup, strands, temperature);
  const double dt = test.pull_distance / test.pull_rate / course.pieces;
  FilmBlock end;
  end.allocate(strands.film.stride, branches);  // the blocks change places
  BlockStress stress;
  stress.allocate(strands.film.stride, branches);
  std::vector<double> to(n), path(strands.heights.size());
  for (int piece = 1; piece <= course.pieces; ++piece) {
    const double pulled = test.pull_distance * piece / course.pieces;
    for (std::size_t j = 0; j < path.size(); ++j)
      path[j] = strand_at(test, strands.heights[j], pulled).path / test.face_length;
    for (std::size_t i = 0; i < n; ++i) to[i] = strands.path_stretch[i] * path[strands.point[i]];
    setup.law->step_block(strands.film, end, to.data(), dt, setup.mode, temperature, temperature, stress);
    for (std::size_t i = 0; i < n; ++i) {
      if (stress.nominal[i] > 0.0) continue;  // slack film waits until the plate has taken up its slack
      end.put_state(i, strands.film.state_of(i, branches), branches);
    }
    std::swap(strands.film, end);
  }
  double force = 0.0;
  for (std::size_t i = 0; i < n; ++i)
    force += strands.weight[i] * std::max(0.0, stress.nominal[i]) * strands.shares[strands.point[i]];
  return force * course.correction;
}

/// c of tent_factor over the pull distance, m.
double tent_share(PullSlit slit, double pulled) {
  const auto between = [&](double at_50_mm, double at_100_mm) {
    return at_50_mm + (at_100_mm - at_50_mm) * std::clamp((pulled - 0.05) / 0.05, 0.0, 1.0);
  };
  switch (slit) {
    case PullSlit::none: return between(0.93, 0.92);
    case PullSlit::beside: return between(0.42, 0.55);
    case PullSlit::unknown: break;
  }
  return between(0.66, 0.72);
}

}  // namespace

double tent_factor(const Tent& t) {
  const bool is_tent =
      t.edge_above > 0.0 && t.edge_below > 0.0 && t.pull_distance > 0.0 && t.stiffness_over_force > 0.0;
  if (!is_tent) return 1.0;
  const double edge = 2.0 / (1.0 / t.edge_above + 1.0 / t.edge_below);
  const double reach = 0.575 * std::pow(t.stiffness_over_force, 0.25) * std::sqrt(t.pull_distance * t.face_length);
  return 1.0 + tent_share(t.slit, t.pull_distance) * 0.278 * std::pow(t.stiffness_over_force, 0.364) *
                   std::pow(t.pull_distance / t.plate_radius, 0.804) * std::pow(t.face_length / t.plate_radius, 0.323) *
                   -std::expm1(-edge / reach);
}

PullReading pull_test(const PullTest& test, const StackSetup& setup, const std::vector<LoadStack::Slice>& slices,
                      std::size_t face, double path_factor, double temperature, const std::vector<LaidPatch>* patches) {
  PullReading reading;
  const std::size_t branches = setup.law->branch_count();
  const std::size_t direction = direction_of(face);
  const double plan = direction == 0 ? setup.length : setup.width;
  const auto [bottom, top] =
      band_ends(setup.slice_height * static_cast<double>(slices.size()), test.height, 2.0 * test.plate_radius);
  const std::vector<SlicePart> parts = slice_parts(setup.slice_height, slices.size(), bottom, top);
  const auto points_of = [&](double low, double high) {
    return gauss_points(low, high, setup.slice_height, test.plate_radius);
  };
  const std::size_t points_per_slice = points_of(0.0, setup.slice_height).size();
  std::size_t most = 1;
  for (const SlicePart& part : parts) {
    const auto& faces = slices[part.slice].face;
    most += points_per_slice * static_cast<std::size_t>(std::count(faces.begin(), faces.end(), face));
  }
  Strands strands;
  strands.film.allocate(most, branches);
  double weighted_stiffness = 0.0, tension = 0.0, greatest_stress = 0.0;
  for (const SlicePart& part : parts) {
    const double low = part.low - test.height, high = part.high - test.height;
    if (!(high > low)) continue;
    const LoadStack::Slice& slice = slices[part.slice];
    const auto points = points_of(low, high);
    const std::size_t first_point = strands.heights.size();
    double resting_weight = 0.0;  // Gauss weights times what of a tension pulls on the plate
    for (const auto& [z, gauss_weight] : points) {
      strands.heights.push_back(z);
      strands.shares.push_back(strand_at(test, z, test.pull_distance).share);
      resting_weight += gauss_weight * strands.shares.back();
    }
    for (std::size_t i = 0; i < slice.film.size; ++i) {
      if (slice.face[i] != face) continue;
      const double section = section_in(part, slice, i, patches);
      if (!(section > 0.0)) continue;
      const FilmState state = slice.film.state_of(i, branches);
      const double path_stretch =
          slice.reference_stretch[i] * (plan - slice.closing[direction]) * path_factor / slice.reference_path[i];
      if (slice.nominal[i] > greatest_stress) {
        greatest_stress = slice.nominal[i];
        strands.tautest = strands.film.size;
      }
      for (std::size_t j = 0; j < points.size(); ++j)
        strands.add(state, branches, first_point + j, path_stretch, section * points[j].second);
      reading.resting_force += section * slice.nominal[i] * resting_weight;
      if (slice.nominal[i] > 0.0) {
        const double share = section * (high - low);
        weighted_stiffness += share * setup.law->stress(state, setup.mode, temperature).slope;
        tension += share * slice.nominal[i];
      }
    }
  }
  reading.strand_force = pull(test, setup, strands, temperature);
  reading.stiffness_over_force = tension > 0.0 ? weighted_stiffness / tension : 0.0;
  return reading;
}

}  // namespace hoopfield
