// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/number_text.hpp"

namespace hoopfield {

std::string csv_cell(const std::string& word) {
  // A spreadsheet computes what begins so; numbers are meant to be numbers.
  const bool formula =
      !word.empty() && std::string("=+-@\t\r").find(word.front()) != std::string::npos && !number_in(word);
  const std::string safe = formula ? "'" + word : word;
  if (safe.find_first_of(",\"\r\n") == std::string::npos) return safe;
  std::string text = "\"";
  for (const char c : safe) text += c == '"' ? std::string("\"\"") : std::string(1, c);
  return text + '"';
}

}  // namespace hoopfield
