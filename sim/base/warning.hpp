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

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("code", s.code);
    visit("severity", s.severity);
    visit("key", s.key);
    visit("text", s.text);
  }
};

}  // namespace hoopfield
