// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_figures.hpp"

#include "models/error.hpp"
#include "models/film/film_law.hpp"
#include "sim/stations/containment.hpp"
#include "sim/wrap/plan.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {

namespace {

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

/// Value per slice, mean of the faces, of row `i` of a field (row, face, height).
std::vector<double> face_mean(const Field& field, std::size_t i) {
  std::vector<double> mean(field.shape[2], 0.0);
  for (std::size_t f = 0; f < face_count; ++f)
    for (std::size_t h = 0; h < mean.size(); ++h) mean[h] += field.at(i, f, h) / static_cast<double>(face_count);
  return mean;
}

std::vector<double> station_rows(const Field& field, double slice_height, double height, double band) {
  std::vector<double> rows;
  if (field.data.empty()) return rows;
  for (std::size_t i = 0; i < field.shape[0]; ++i)
    rows.push_back(band_mean(face_mean(field, i), slice_height, height, band));
  return rows;
}

/// A series of slices that begins and ends at the numbers of its station, which reads film by its edges: the slices'
/// share of the film hardly changes on the way.
std::vector<double> through(std::vector<double> rows, double first, double last) {
  if (rows.empty() || !(rows.front() > 0.0 && rows.back() > 0.0)) return rows;
  const double at_first = first / rows.front(), at_last = last / rows.back();
  const double steps = std::max(1.0, static_cast<double>(rows.size()) - 1.0);
  for (std::size_t i = 0; i < rows.size(); ++i)
    rows[i] *= at_first + (at_last - at_first) * static_cast<double>(i) / steps;
  return rows;
}

/// Tension per height of a patch at lay-down, N/m: after folding in, so less than force over width at the top edge.
double laid_tension(const WrapPlan& plan, const LaidPatch& p) {
  return plan.law->stress(p.state, plan.film_path.mode, plan.wrap_temperature).nominal * p.section_per_width;
}

class Reader {
 public:
  Reader(const Scenario& scenario, const Result& result)
      : s_(scenario),
        r_(result),
        plan_(plan_wrap(scenario)),
        slice_height_(scenario.load.height / static_cast<double>(std::max<std::size_t>(1, result.height.size()))) {
    for (const LaidPatch& p : plan_.patches) laid_.push_back(laid_tension(plan_, p));
  }

  ReportFigures read() {
    for (std::size_t i = 0; i < station_names.size(); ++i) fill_station(i);
    fill_layers();
    fill_curves();
    fill_working_points();
    fill_zones();
    fill_findings();
    return std::move(out_);
  }

 private:
  void fill_station(std::size_t i) {
    StationFigure& station = out_.stations[i];
    const double height = r_.end.stations[i].height, band = s_.stations.band_height;
    const double wrapped = r_.end.stations[i].hoop_tension, stored = r_.after_storage.stations[i].hoop_tension;
    station.over_time = through(station_rows(r_.hoop_tension, slice_height_, height, band), wrapped, stored);
    station.over_turns = station_rows(r_.hoop_tension_buildup, slice_height_, height, band);
    if (!station.over_turns.empty() && station.over_turns.back() > 0.0)
      for (const double by = wrapped / station.over_turns.back(); double& tension : station.over_turns) tension *= by;
    station.as_laid.assign(station.over_turns.size(), 0.0);
    std::vector<double> covered(r_.height.size());
    for (std::size_t p = 0; p < plan_.patches.size(); ++p) {
      cover(plan_.patches[p].patch, covered);
      const double share = band_mean(covered, slice_height_, height, band) / static_cast<double>(face_count);
      // The patch of turn t is laid at an angle in (t - 1, t] turns.
      const auto first = static_cast<std::size_t>(std::max(0.0, std::ceil(plan_.patches[p].patch.angle - 1e-9) - 1.0));
      for (std::size_t t = first; t < station.as_laid.size(); ++t) station.as_laid[t] += share * laid_[p];
    }
  }

  /// Slices whose centres lie in the band of the middle station; at least the nearest one.
  [[nodiscard]] std::vector<std::size_t> middle_slices() const {
    const double height = r_.end.stations[1].height;
    std::vector<std::size_t> slices;
    std::size_t nearest = 0;
    for (std::size_t h = 0; h < r_.height.size(); ++h) {
      if (std::abs(r_.height[h] - height) <= 0.5 * s_.stations.band_height) slices.push_back(h);
      if (std::abs(r_.height[h] - height) < std::abs(r_.height[nearest] - height)) nearest = h;
    }
    if (slices.empty() && !r_.height.empty()) slices.push_back(nearest);
    return slices;
  }

  void cover(const Patch& patch, std::vector<double>& fraction) const {
    for (std::size_t h = 0; h < fraction.size(); ++h)
      fraction[h] =
          covered_fraction(patch, static_cast<double>(h) * slice_height_, static_cast<double>(h + 1) * slice_height_);
  }

  void fill_layers() {
    if (r_.layer_tension.data.empty()) return;
    const std::size_t count = r_.layer_tension.shape[0], n = r_.height.size();
    const std::vector<std::size_t> slices = middle_slices();
    std::vector<double> share(count, 0.0), laid(count, 0.0), end(count, 0.0), fraction(n);
    std::vector<std::array<std::size_t, face_count>> next(n);
    for (std::size_t p = 0; p < plan_.patches.size(); ++p) {
      const Patch& patch = plan_.patches[p].patch;
      cover(patch, fraction);
      for (const std::size_t h : slices) {
        if (!(fraction[h] > 0.0)) continue;
        const std::size_t layer = next[h][patch.face]++;
        if (layer >= count || !std::isfinite(r_.layer_tension.at(layer, patch.face, h))) continue;
        share[layer] += fraction[h];
        laid[layer] += fraction[h] * laid_[p];
        end[layer] += r_.layer_tension.at(layer, patch.face, h);
      }
    }
    for (std::size_t i = 0; i < count && share[i] > 0.0; ++i)
      out_.layers.push_back({laid[i] / share[i], end[i] / share[i]});
  }

  FilmCurveFigure curve(double rate, double end) const {
    constexpr int steps = 80;
    FilmCurveFigure figure{rate, plan_.wrap_temperature, {1.0}, {0.0}};
    FilmState state;
    const WidthMode mode = WidthMode::power(0.5);
    const double section = s_.film.width * s_.film.thickness;
    try {
      for (int i = 1; i <= steps; ++i) {
        const double share = static_cast<double>(i) / steps;
        const double stretch = 1.0 + (end - 1.0) * share * share;  // fine where the curve bends
        const double time = (stretch - state.stretch) / rate;
        const double force =
            section * advance_controlled(*plan_.law, state, stretch, time, mode, plan_.wrap_temperature, 1e-4).nominal;
        figure.stretch.push_back(stretch);
        figure.force.push_back(force);
      }
    } catch (const SolverError&) {
      // The curve ends where the film does; what could be computed is shown.
    }
    return figure;
  }

  void fill_curves() {
    const FilmPathResult& path = r_.film_path;
    double time = 0.0;
    for (std::size_t i = 1; i < path.gap_position.size(); ++i)
      time += 2.0 * (path.gap_position[i] - path.gap_position[i - 1]) /
              (path.roller_speed_1 * (path.gap_stretch[i] + path.gap_stretch[i - 1]));
    const double limit = plan_.law->stretch_limit(WidthMode::power(0.5));
    const double end = std::min(1.0 + 1.05 * s_.delivery.prestretch, 1.0 + 0.98 * (limit - 1.0));
    if (!(end > 1.0)) return;
    const double draw_rate = time > 0.0 ? s_.delivery.prestretch / time : nan;
    if (std::isfinite(draw_rate) && draw_rate > 0.0) out_.film_curves.push_back(curve(draw_rate, end));
    out_.film_curves.push_back(curve(0.01, end));
  }

  void fill_working_points() {
    const FilmPathResult& path = r_.film_path;
    const double ratio = 1.0 + s_.delivery.prestretch;
    out_.working_points.push_back({"prestretch", ratio, ratio, ratio, path.prestretch_force});
    double force = 0.0;
    for (const double f : r_.span.face_force) force += f / static_cast<double>(r_.span.face_force.size());
    if (r_.span.face_force.empty()) force = r_.span.force_set;
    const double laid = path.stretch_on_load;
    out_.working_points.push_back({"on_load", laid, laid, laid, force});
    out_.film_stiffness = path.stiffness_over_force * r_.span.force_set;
    const StationResult& middle = r_.after_storage.stations[1];
    if (r_.closing_along_length.data.empty() || !(middle.film_layers > 0.0)) return;
    // Film laid first loses the whole closing of the load, film laid last only what came after it.
    double first = 0.0, last = 0.0;
    const std::vector<std::size_t> slices = middle_slices();
    const std::size_t t = r_.closing_along_length.shape[0] - 1;
    for (const std::size_t h : slices) {
      const double end = 2.0 * (r_.closing_along_length.at(0, h) + r_.closing_along_width.at(0, h));
      const double stored = 2.0 * (r_.closing_along_length.at(t, h) + r_.closing_along_width.at(t, h));
      first += stored / plan_.perimeter / static_cast<double>(slices.size());
      last += (stored - end) / plan_.perimeter / static_cast<double>(slices.size());
    }
    const double factor = 1.0 - s_.load.settling;
    const double low = laid * (1.0 - first) * factor, high = laid * (1.0 - last) * factor;
    out_.working_points.push_back(
        {"after_storage", 0.5 * (low + high), low, high, middle.hoop_tension / middle.film_layers * path.laid_width});
  }

  void fill_zones() {
    const Pattern pattern(plan_.pattern);
    const double per_length = s_.film.width * s_.film.thickness * s_.film_description.density;
    std::array<ZoneFigure, zone_names.size()> zones;
    for (std::size_t z = 0; z < zones.size(); ++z) zones[z].name = zone_names[z];
    double on_faces = 0.0;
    for (std::size_t p = 0; p < plan_.patches.size(); ++p) {
      const Patch& patch = plan_.patches[p].patch;
      ZoneFigure& zone = zones[static_cast<std::size_t>(pattern.zone(patch.angle))];
      const double mass = plan_.wound.faces[p].mass * per_length;
      zone.turns += 1.0 / static_cast<double>(face_count);
      zone.mass += mass;
      zone.above_top += mass * std::min(1.0, mean_width_above(patch, s_.load.height) / patch.width);
      on_faces += mass;
    }
    zones.back().mass = r_.film.mass - on_faces;
    for (const ZoneFigure& zone : zones)
      if (zone.mass > 1e-9 * r_.film.mass) out_.zones.push_back(zone);
  }

  void fill_findings() {
    ReportFindings& f = out_.findings;
    const auto& after = r_.after_storage.stations;
    for (std::size_t i = 1; i < after.size(); ++i)
      if (after[i].hoop_tension < after[f.weakest_station].hoop_tension) f.weakest_station = i;
    const double end = r_.end.stations[f.weakest_station].hoop_tension;
    f.weakest_change = end > 0.0 ? after[f.weakest_station].hoop_tension / end - 1.0 : nan;
    find_faces(f);
    const StationFigure& middle = out_.stations[1];
    f.build_up_loss = !middle.as_laid.empty() && middle.as_laid.back() > 0.0
                          ? 1.0 - middle.over_turns.back() / middle.as_laid.back()
                          : nan;
    const SpanResult& span = r_.span;
    f.span_swing = std::max(span.force_max - span.force_set, span.force_set - span.force_min) / span.force_set;
    for (std::size_t z = 1; z < out_.zones.size(); ++z)
      if (out_.zones[z].mass > out_.zones[f.largest_zone].mass) f.largest_zone = z;
    if (!out_.zones.empty()) f.largest_zone_share = out_.zones[f.largest_zone].mass / r_.film.mass;
    f.stretch_given_back = 1.0 + s_.delivery.prestretch - r_.film_path.stretch_on_load;
  }

  void find_faces(ReportFindings& f) const {
    if (r_.hoop_tension.data.empty()) return;
    std::array<double, face_count> mean{};
    const std::size_t last = r_.hoop_tension.shape[0] - 1, n = r_.height.size();
    for (std::size_t face = 0; face < face_count; ++face)
      for (std::size_t h = 0; h < n; ++h) mean[face] += r_.hoop_tension.at(last, face, h) / static_cast<double>(n);
    f.strongest_face = static_cast<std::size_t>(std::max_element(mean.begin(), mean.end()) - mean.begin());
    f.weakest_face = static_cast<std::size_t>(std::min_element(mean.begin(), mean.end()) - mean.begin());
    f.strongest_face_mean = mean[f.strongest_face];
    f.weakest_face_mean = mean[f.weakest_face];
    f.face_difference = f.strongest_face_mean > 0.0 ? f.weakest_face_mean / f.strongest_face_mean - 1.0 : nan;
    compare_at_least_place(f);
  }

  /// The band that holds least against the other faces at its height; ratios of what the slices hold there.
  void compare_at_least_place(ReportFindings& f) const {
    const ContainmentResult& after = r_.after_storage;
    std::array<double, face_count> held{};
    for (std::size_t face = 0; face < face_count; ++face) held[face] = stored_in_band(face, after.least_height);
    std::size_t& best = f.least_place_best_face = after.least_face;
    for (std::size_t face = 0; face < face_count; ++face)
      if (held[face] > held[best]) best = face;
    const bool is_held = after.least_hoop_tension > 0.0 && held[after.least_face] > 0.0;
    f.least_place_more = is_held ? held[best] / held[after.least_face] - 1.0 : nan;
    f.least_place_best = is_held ? after.least_hoop_tension * (1.0 + f.least_place_more) : held[best];
  }

  [[nodiscard]] double stored_in_band(std::size_t face, double height) const {
    const std::size_t last = r_.hoop_tension.shape[0] - 1;
    std::vector<double> values;
    for (std::size_t h = 0; h < r_.height.size(); ++h) values.push_back(r_.hoop_tension.at(last, face, h));
    return band_mean(values, slice_height_, height, s_.stations.band_height);
  }

  const Scenario& s_;
  const Result& r_;
  WrapPlan plan_;
  double slice_height_;
  std::vector<double> laid_;  // per patch
  ReportFigures out_;
};

}  // namespace

ReportFigures report_figures(const Scenario& scenario, const Result& result) { return Reader(scenario, result).read(); }

}  // namespace hoopfield
