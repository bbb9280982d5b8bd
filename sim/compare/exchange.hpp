// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Moving inputs from one scenario to another, and the factors by which two scenarios differ.
#pragma once

#include "sim/inputs/scenario.hpp"

#include <functional>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

using KeyTest = std::function<bool(std::string_view)>;

/// Copies every input whose key passes, with its origin, and the film itself with "film.file"; nothing is validated.
void copy_inputs(const Scenario& from, Scenario& to, const KeyTest& wanted);

/// Keys whose values differ. Films are the same when their text is.
[[nodiscard]] std::vector<std::string> differing_keys(const Scenario& a, const Scenario& b);

/// True when the text of both films is the same, or without texts the file they name.
[[nodiscard]] bool same_film(const Scenario& a, const Scenario& b);

/// A group of inputs that one decision at the line changes together.
struct Factor {
  const char* name;
  bool (*owns)(std::string_view key);
};

/// Every input that acts on a prediction belongs to exactly one; titles, price, cost and targets to none.
[[nodiscard]] const std::vector<Factor>& factors();

}  // namespace hoopfield
