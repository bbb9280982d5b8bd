// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What came of a sweep, as a person reads it at a terminal.
#pragma once

#include "sim/outputs/outputs.hpp"
#include "sim/sweep/plan.hpp"

#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield::words {

/// What the cases are judged by: the quantity and moment of the targets, and the targets themselves.
struct SweepTarget {
  std::string quantity = "hoop_tension", at = "after_storage";
  std::array<std::optional<double>, 3> least;  ///< of top, middle and bottom; SI

  [[nodiscard]] bool is_set() const { return least[0] || least[1] || least[2]; }
};

/// Those of the outputs that the table needs.
[[nodiscard]] std::vector<const SummaryOutput*> table_outputs(const std::vector<const SummaryOutput*>& outputs,
                                                              const SweepTarget& target);

/// One number per case of a sweep, and what else its table shows.
class SweepNumbers {
 public:
  /// \param outputs single numbers the sweep keeps, in the order in which take() gets them. Cases are judged by the
  /// least of the three stations where all are kept, else by one station that is, else by the first output.
  SweepNumbers(std::vector<SweepAxis> axes, std::size_t first_case, const std::vector<const SummaryOutput*>& outputs,
               SweepTarget target);

  /// The outputs of one finished case, by its place in the sweep.
  void take(std::size_t index, const std::vector<double>& outputs);

  [[nodiscard]] const std::vector<SweepAxis>& axes() const { return axes_; }
  [[nodiscard]] std::size_t first_case() const { return first_case_; }
  [[nodiscard]] bool any() const;                                              ///< at least one case has a value
  [[nodiscard]] const std::vector<double>& values() const { return values_; }  ///< SI; NaN where there is none
  [[nodiscard]] std::optional<double> film(std::size_t index) const;           ///< kg per load
  [[nodiscard]] bool meets(std::size_t index) const { return meets_[index]; }
  [[nodiscard]] const std::string& quantity() const { return quantity_; }
  [[nodiscard]] const std::string& unit() const { return unit_; }        ///< in which people read it
  [[nodiscard]] bool is_containment() const { return is_containment_; }  ///< more is better
  [[nodiscard]] const SweepTarget& target() const { return target_; }

 private:
  [[nodiscard]] bool meets_targets(const std::vector<double>& outputs) const;
  std::vector<SweepAxis> axes_;
  std::size_t first_case_;
  SweepTarget target_;
  std::array<std::optional<std::size_t>, 3> stations_;  ///< places of top, middle and bottom among the outputs
  std::vector<std::size_t> judged_;                     ///< places of which the least is taken
  std::optional<std::size_t> film_place_;
  std::string quantity_, unit_;
  bool is_containment_ = false;
  std::vector<double> values_, film_;
  std::vector<bool> meets_;
};

/// Best and worst case, that with the least film that meets the targets, and the map. At most 80 columns wide; empty
/// when no case has a value.
[[nodiscard]] std::string sweep_text(const SweepNumbers& sweep);

/// The quantity over the two inputs that move it most, each cell the mean of its cases.
[[nodiscard]] std::string sweep_map(const SweepNumbers& sweep);

/// A value of an input in the metric unit people write, "12 rpm".
[[nodiscard]] std::string input_text(const SweepAxis& axis, std::size_t index);
/// That unit; empty for pure numbers and words.
[[nodiscard]] std::string input_unit(const SweepAxis& axis);

}  // namespace hoopfield::words
