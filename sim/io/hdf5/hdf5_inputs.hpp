// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the group `inputs` of every result file says. No HDF5 types show.
#pragma once

#include "sim/inputs/input_rows.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// Resolved inputs with origin and place, scenario and film text, and who computed: version, compiler, instruction set.
struct InputTable {
  std::string version, compiler, simd, hash;
  std::vector<InputRow> rows;
  std::string scenario_text, film_text;
};

[[nodiscard]] InputTable input_table(const Scenario& scenario);

}  // namespace hoopfield
