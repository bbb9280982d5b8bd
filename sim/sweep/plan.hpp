// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a sweep is going to compute: one scenario, the inputs that vary, and their value in every case.
#pragma once

#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario.hpp"

#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

enum class Sampling { grid, latin_hypercube, sobol, table };

/// How one input varies, before sampling. Either `values` or `from` and `to`.
struct VariedInput {
  std::string key;
  std::vector<InputValue> values = {};  ///< a number is SI (strain for stretch), a text is as a user writes it
  std::optional<InputValue> from = {}, to = {};
  std::size_t steps = 0;  ///< grid only: number of values from `from` to `to`, both included; >= 2
  /// A value beyond the bounds of its input fails the cases that have it, instead of being refused with the plan.
  bool fails_outside = false;
};

/// One varied input and its value in every case: `numbers` when every value is a number, else `texts`.
struct SweepAxis {
  std::string key;
  std::string unit;                ///< SI unit of `numbers`; empty for pure numbers and texts
  std::vector<double> numbers;     ///< SI, one per case
  std::vector<std::string> texts;  ///< as a user writes them, one per case
};

/// Which share of a sweep a plan is (sim/sweep/shard.hpp).
struct SweepShard {
  std::size_t number = 0, count = 0;  ///< the third of sixteen: 3, 16
  std::size_t whole_cases = 0;        ///< of the sweep it is a share of
  std::string whole_hash;
};

struct SweepPlan {
  Scenario scenario;
  Sampling sampling = Sampling::grid;
  std::vector<SweepAxis> axes;
  std::vector<std::size_t> grid_shape;  ///< grid only: values per axis; the last axis varies fastest
  /// Names of summary outputs and fields; a prefix ("containment.after_storage") stands for all below it and
  /// "summary" for the summary. Empty = summary. An output that is itself varied (pattern.pitch) is left out.
  std::vector<std::string> outputs;
  std::string text;                     ///< the sweep file as read; empty when made in memory
  std::vector<std::string> files = {};  ///< sweep file, scenario, films and table as found on the disk
  std::size_t first_case = 0;           ///< number of the first case in the whole sweep
  std::optional<SweepShard> shard = {};
  [[nodiscard]] std::size_t case_count() const {
    return axes.empty() ? 1 : axes.front().numbers.size() + axes.front().texts.size();
  }
};

/// Greatest number of cases of one sweep.
inline constexpr std::size_t max_sweep_cases = 10'000'000;

/// Checks keys, units, bounds and outputs and lays out the cases.
/// - grid: every combination; `samples` and `seed` do not act;
/// - latin-hypercube, sobol: `samples` points of the unit cube (see sampling.hpp), stretched to `from`..`to`; of a list
/// of
///   values every value has the same share of the cube; whole-number inputs take every whole number of the range alike;
/// - table: lists of equal length, one entry per case.
/// What concerns several inputs at once is found case by case, later. Throws InputError or OutOfRange.
[[nodiscard]] SweepPlan make_sweep_plan(Scenario scenario, Sampling sampling, const std::vector<VariedInput>& varied,
                                        std::size_t samples = 0, std::uint64_t seed = 1,
                                        std::vector<std::string> outputs = {});

/// The scenario of one case. Throws InputError or OutOfRange when the values do not fit together.
[[nodiscard]] Scenario sweep_scenario(const SweepPlan& plan, std::size_t case_index);

/// 16 hexadecimal digits over scenario, film, varied values, outputs and version: equal plans, equal hash. A shard has
/// one of its own.
[[nodiscard]] std::string sweep_hash(const SweepPlan& plan);

/// Reads a sweep file (TOML) with its scenario and, for sampling "table", its CSV table; both paths start from the
/// folder of the sweep file. Throws IoError, InputError or OutOfRange with the place.
[[nodiscard]] SweepPlan read_sweep(const std::string& path);

}  // namespace hoopfield
