// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// One draw after another of the unknowns of a scenario; private to sim/bands.
#pragma once

#include "sim/bands/bands.hpp"
#include "sim/bands/draw_points.hpp"
#include "sim/inputs/unknowns.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield::bands_detail {

enum class DrawStatus { done, film_fails, no_solution, left_bound };

struct Draw {
  DrawStatus status = DrawStatus::done;
  std::size_t point = 0;
  std::string message;
  std::vector<double> inputs, numbers;
};

/// Names of the numbers of a draw: those of summary_outputs() by their place, then amounts of the economic chain.
[[nodiscard]] const std::vector<std::string>& drawn_names();

/// What is drawn of the load in transit, at the least hoop tension of storage, where its mass is known; else nothing.
[[nodiscard]] std::vector<std::string> drawn_transit_names(const Scenario& scenario);

/// The numbers of a result under those names, those of transit last; NaN for an amount that is not known.
[[nodiscard]] std::vector<double> drawn_numbers(const Scenario& scenario, const Result& result);

/// Everything the draws of one scenario share. The unknowns of the film file are one entry, the last.
class Drawer {
 public:
  /// \param points to keep ready \param dimensions_each sets of dimensions side by side (indices take two)
  Drawer(const Scenario& scenario, const BandOptions& options, std::size_t points, std::size_t sets = 1);
  /// One of several scenarios that share their points.
  Drawer(const SharedSide& side, const BandOptions& options, std::shared_ptr<const DrawPoints> points);

  [[nodiscard]] const std::vector<Unknown>& unknowns() const { return unknowns_; }
  [[nodiscard]] bool draws_film() const { return film_.has_value(); }
  [[nodiscard]] std::size_t film_size() const { return film_ ? film_->size() : 0; }
  /// Names of the numbers of a draw.
  [[nodiscard]] std::vector<std::string> names() const;
  /// Unknowns, and the film as one.
  [[nodiscard]] std::size_t groups() const { return unknowns_.size() + (film_ ? 1 : 0); }
  [[nodiscard]] std::string group_key(std::size_t group) const;
  [[nodiscard]] std::size_t points() const { return points_->count(); }

  /// Standard normal numbers of a point: one for each unknown, then those of the film. \param set of dimensions
  [[nodiscard]] std::vector<double> normals(std::size_t point, std::size_t set = 0) const;
  /// Where the numbers of a group begin and end in normals().
  [[nodiscard]] std::pair<std::size_t, std::size_t> place(std::size_t group) const;
  /// Predicts at standard normal numbers. Failures are kept in the draw, Interrupted comes out.
  [[nodiscard]] Draw draw(const std::vector<double>& normals, Observer* observer) const;

 private:
  void collect_unknowns(const BandOptions& options);
  void collect_fitted(const CalibrationInput& calibration);
  void correlate(std::vector<double>& normals) const;
  /// Standard normals of the film file's numbers, where a calibration has moved them.
  [[nodiscard]] std::vector<double> film_normals(const std::vector<double>& normals) const;
  const Scenario& scenario_;
  bool pulses_ = false;
  std::size_t film_block_ = 0, set_size_ = 0;  ///< dimensions of a set, where there are several
  std::vector<Unknown> unknowns_;
  std::optional<FilmSpread> film_;
  // What a calibration fitted together: places in normals(), and the root of their correlation.
  std::vector<std::size_t> fitted_;
  std::vector<double> root_;
  std::shared_ptr<const DrawPoints> points_;
};

}  // namespace hoopfield::bands_detail
