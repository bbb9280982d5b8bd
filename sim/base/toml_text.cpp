// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/toml_text.hpp"

#include "models/text.hpp"

namespace hoopfield {

std::string toml_text(std::string_view text) {
  std::string out = "\"";
  for (const char c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += std::string("\\") + c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (c == '\t') {
      out += "\\t";
    } else if (code < 0x20 || code == 0x7f) {
      out += "\\u" + hexadecimal(code, 4);
    } else {
      out += c;
    }
  }
  return out + '"';
}

}  // namespace hoopfield
