// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What to know before using a result.
#pragma once

#include <string>

namespace hoopfield {

/// One thing a person should know.
struct Warning {
  std::string code;      ///< stable, e.g. "bare-gap"
  std::string severity;  ///< "note", "caution" or "danger"
  std::string key;       ///< the input it is about; may be empty
  std::string text;
};

}  // namespace hoopfield
