// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Rows of a laboratory curve before and while they are put in order.
#pragma once

#include "sim/film_lab/lab_curve.hpp"

#include <optional>
#include <string>
#include <vector>

namespace hoopfield::detail {

/// One row before repair; stress is nominal, SI.
struct LabRow {
  double time = 0.0, stretch = 1.0, stress = 0.0;
  int line = 0;
};

/// What the repair must know of how the rows were measured.
struct RowFacts {
  bool timed = false;
  bool travel = false;               ///< the stretch comes from the travel of the grips
  std::optional<double> compliance;  ///< m/N, of the machine
  double give = 0.0;                 ///< compliance x section / grip distance, strain per Pa; 0 = none
  std::optional<double> grip;        ///< m between the grips at the start
  const char* row_word = "line";     ///< what the rows are counted in
};

/// Pa; 0 where no row is pulled.
[[nodiscard]] double greatest_stress(const std::vector<LabRow>& rows);

/// Order, duplicates, sign, give of the machine, spikes, slips and breaks, slack; appends to the warnings.
void repair_rows(const InputText& input, std::vector<LabRow>& rows, const RowFacts& facts, LabCurve& curve);

/// Rows whose force leaves both neighbourhoods and comes back at once: no film does that.
void drop_spikes(std::vector<LabRow>& rows, const RowFacts& facts, LabCurve& curve);

/// A fall of the force for good while the grips do not go back is a slip or a break: what follows is no longer this
/// film. Falls are judged against the whole curve, so that noise about zero is none.
void cut_at_drop(std::vector<LabRow>& rows, const RowFacts& facts, LabCurve& curve);

/// Takes the give of the machine off the travel of the grips: strain - give x stress. Throws InputError when so much is
/// taken off that the curve folds back.
void take_off_give(const InputText& input, std::vector<LabRow>& rows, const RowFacts& facts, LabCurve& curve);

/// The straight line along which a curve begins.
struct StartTangent {
  double strain = 0.0;                ///< at which it reaches zero force
  double error = 0.0;                 ///< standard error of that strain
  double slope = 0.0;                 ///< Pa
  std::size_t first = 0, beyond = 0;  ///< rows that lie along it: first..beyond-1
};

/// The steepest line through rows of the first loading before the film yields: the greatest lower bound (2.5 standard
/// errors and more for few rows) of a least-squares slope over windows that rise by a quarter of the stress reached
/// 10 % strain after the force came up. Nothing where there are too few rows. Pinned by tests/unit/lab_start_test.cpp.
[[nodiscard]] std::optional<StartTangent> start_tangent(const std::vector<LabRow>& rows);

/// Slack of the clamps and a toe: when the steepest tangent reaches zero force clearly after the first row, the strain
/// is shifted by that, and the rows before the tangent become its start (toe compensation, as tensile standards such as
/// ASTM D882 describe it in an annex; from memory).
void shift_toe(std::vector<LabRow>& rows, const RowFacts& facts, LabCurve& curve);

[[noreturn]] void fail_line(const InputText& input, int line, const std::string& key, const Complaint& complaint);

}  // namespace hoopfield::detail
