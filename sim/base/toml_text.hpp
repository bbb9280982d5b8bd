// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Texts as TOML writes them.
#pragma once

#include <string>
#include <string_view>

namespace hoopfield {

/// A basic string: in double quotes, with quotes, backslashes and control characters escaped.
[[nodiscard]] std::string toml_text(std::string_view text);

}  // namespace hoopfield
