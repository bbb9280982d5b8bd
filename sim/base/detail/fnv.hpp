// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// 64-bit FNV-1a. It tells two contents apart; it protects nothing against forgery.
#pragma once

#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace hoopfield {

class Fnv {
 public:
  /// One field of the content.
  void add(std::string_view bytes) {
    for (const char c : bytes) step(static_cast<unsigned char>(c));
    step(0);  // ends a field, so that "ab","c" and "a","bc" differ
  }
  [[nodiscard]] std::string hex() const {
    constexpr char digits[] = "0123456789abcdef";
    std::string text(16, '0');
    for (std::size_t i = 0; i < 16; ++i) text[15 - i] = digits[(value_ >> (4 * i)) & 15U];
    return text;
  }

 private:
  void step(unsigned char byte) {
    value_ ^= byte;
    value_ *= 0x100000001b3ULL;
  }
  std::uint64_t value_ = 0xcbf29ce484222325ULL;
};

}  // namespace hoopfield
