// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Whether a text is what its declaration asks for: one line, or a date.
#pragma once

#include "models/parameter.hpp"

#include <optional>
#include <string>

namespace hoopfield {

/// What is wrong with a text, and what was perhaps meant; the hint may be empty.
struct TextProblem {
  std::string what, hint;
};

/// Nothing when the text keeps the form of its declaration. An empty text keeps every form.
[[nodiscard]] std::optional<TextProblem> text_problem(const Parameter& parameter, const std::string& text);

}  // namespace hoopfield
