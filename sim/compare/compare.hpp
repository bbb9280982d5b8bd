// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Several ways to wrap a load side by side: the present one against candidates.
#pragma once

#include "sim/compare/measured.hpp"
#include "sim/compare/paired.hpp"
#include "sim/film_lab/derived_numbers.hpp"
#include "sim/inputs/scenario.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/outputs/result.hpp"
#include "sim/wrap/predict.hpp"

#include <cstddef>
#include <cstdint>
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace hoopfield {

inline constexpr std::size_t most_compared_sides = 24;

/// What is made equal before anything is predicted.
enum class SameWhat {
  nothing,     ///< every side as its file says
  settings,    ///< candidates take delivery, rotation and pattern of the present wrap; film and load stay theirs
  span_force,  ///< candidates take the span force of the present wrap
  film_mass  ///< candidates get the pitch (or turns) whose film mass is nearest to the present wrap's: whole turns only
};

struct CompareOptions {
  SameWhat same = SameWhat::nothing;
  bool best_prestretch =
      false;  ///< every predicted side where it contains best within its break limit, with the least film
  double break_share = 0.8;       ///< that limit: share of the film's break stretch (as strain); own choice
  bool sensitivity = true;        ///< two more predictions a side
  bool factors = true;            ///< one factor at a time, in both orders
  bool film_numbers = true;       ///< virtual tests of every film at the stretch it has on the load
  bool unknowns = false;          ///< rank the assumed inputs of every side (some thirty more predictions each)
  bool present_unknowns = false;  ///< rank them for the present wrap alone: enough where all share one scenario
  std::int64_t band_samples = 0;  ///< draws over what is uncertain, at the same points for all sides; 0 = no bands
  double words_at = 0.9;          ///< share of draws from which on a candidate is said to have more or less
};

/// One side as it comes from a file or a program.
struct CompareSide {
  std::string name;  ///< short, for columns; made from title or file when empty
  std::string file;
  std::variant<Scenario, MeasuredSide> content;
};

/// An input that a mode changed, SI.
struct Adjustment {
  std::string key, unit, why;
  std::optional<double> before;
  double after = 0.0;
};

/// One side after prediction.
struct ComparedSide {
  std::string name, title, file;
  bool measured = false;
  bool failed = false;
  std::string message;               ///< why it failed
  std::optional<Scenario> scenario;  ///< as predicted, adjustments made
  std::optional<Result> result;
  std::optional<DerivedNumbers> film_numbers;  ///< at the stretch on the load and the temperature of wrapping
  std::optional<MeasuredNumbers> readings;
  std::vector<double> in_transit;          ///< weakest_transit_numbers() of `result`
  std::optional<Economics> economics;      ///< when price or [cost] ask for it
  std::optional<double> break_even_price;  ///< money/kg at which it costs as much per load as the present wrap
  std::vector<Adjustment> adjustments;
  std::vector<Warning> warnings;  ///< of the comparison; those of the prediction are in `result`
  /// Places in `Comparison::sides`: more containment for no more cost, or as much for less, as predicted and, where
  /// both sides have draws of both, in the share `words_at` of them.
  std::vector<std::size_t> dominates, dominated_by;
  std::optional<BandResult> measured_band;  ///< readings drawn with their scatter; of a measured side
  std::vector<PairedBand> paired;           ///< against the present wrap, in the order of compare_quantities()
  std::string paired_message;               ///< why there are none; empty when there are, or without draws
  std::vector<Saving> savings;              ///< per year against the present wrap, where both have a year

  /// Draws of the prediction or of the readings; null without.
  [[nodiscard]] const BandResult* draws() const;
};

/// One number every side may have. Names are those of the JSON object without the unit.
struct CompareQuantity {
  std::string name;  ///< "containment.after_storage.top.hoop_tension"
  std::string unit;  ///< SI; "money" in the currency; "1" for pure numbers (stretch as strain)
  std::string json_name;
  double per_si = 1.0;  ///< JSON number = SI * per_si
  std::string long_name;
  std::string short_name;  ///< a few words for the head of a column; no two quantities share them
  std::function<std::optional<double>(const ComparedSide&)> value;
};

/// All of them, in the order of the table. Thread-safe.
[[nodiscard]] const std::vector<CompareQuantity>& compare_quantities();
/// One of them by name. Throws std::out_of_range for another name.
[[nodiscard]] const CompareQuantity& compare_quantity(const std::string& name);
[[nodiscard]] std::optional<double> compare_value(const ComparedSide& side, const std::string& name);

/// Draws of one of them, in the order of the points; empty where a side has none. NaN where a draw failed.
[[nodiscard]] std::vector<double> compare_draws(const ComparedSide& side, const std::string& name);
/// What the draws say of one of them against the present wrap; null where they say nothing.
[[nodiscard]] const PairedBand* paired_band(const ComparedSide& side, const std::string& name);

/// What one factor adds to each of `Comparison::explained` when it goes from the present value to the candidate's.
struct FactorShare {
  std::string factor;  ///< "film law", "pre-stretch", "thickness", "film width", "span force", "turns", "rest"
  std::vector<std::string> keys;  ///< inputs that differ
  std::vector<double> forward;    ///< changed in the order of the list, SI; empty when a step could not be computed
  std::vector<double> reverse;    ///< changed in the opposite order
};

/// Candidate less present, factor by factor. In either order the shares of all factors add up to `total`.
struct Difference {
  std::size_t candidate = 0;
  std::vector<double> total;  ///< SI, per explained quantity
  std::vector<FactorShare> factors;
  std::string forward_message, reverse_message;  ///< why an order is missing
};

struct Comparison {
  CompareOptions options;
  std::vector<ComparedSide> sides;      ///< the first is the present wrap
  std::string containment_measure;      ///< quantity by which dominance judges containment; empty when there is none
  std::string cost_measure;             ///< and cost
  std::vector<std::string> explained;   ///< quantities that `differences` split
  std::vector<Difference> differences;  ///< one for each predicted candidate that differs, when asked for
  std::vector<Warning> warnings;
};

/// Predicts and compares up to `most_compared_sides` sides, the first being the present one. A candidate that cannot be
/// computed is recorded and does not stop the others; a present wrap that cannot throws what predict() throws.
/// Throws InputError for fewer than two or too many sides. The result does not depend on the number of threads.
[[nodiscard]] Comparison compare(std::vector<CompareSide> sides, const CompareOptions& options = {},
                                 Observer* observer = nullptr);

/// Words of a mode: "as given", "same settings", ...
[[nodiscard]] std::string mode_text(const CompareOptions& options);
[[nodiscard]] const char* same_word(SameWhat same);  ///< "nothing", "settings", "span-force", "film-mass"
[[nodiscard]] std::optional<SameWhat> same_of_word(std::string_view word);  ///< the other way; nothing for other words

}  // namespace hoopfield
