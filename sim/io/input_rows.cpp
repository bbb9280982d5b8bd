// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/input_rows.hpp"

#include "sim/io/inputs.hpp"
#include "sim/io/number_text.hpp"

#include <cmath>
#include <limits>
#include <string_view>

namespace hoopfield {

namespace {

class Fnv {
 public:
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

}  // namespace

std::string origin_name(Origin origin) {
  switch (origin) {
    case Origin::given: return "given";
    case Origin::measured: return "measured";
    case Origin::fitted: return "fitted";
    case Origin::assumed: return "assumed";
  }
  return "assumed";
}

std::vector<InputRow> input_rows(const Scenario& scenario) {
  std::vector<InputRow> rows;
  for (const ResolvedValue& value : resolved_values(scenario)) {
    rows.push_back({value.key, value.text, value.unit, origin_name(value.source.origin), value.source.file,
                    value.number.value_or(std::numeric_limits<double>::quiet_NaN()), value.source.line,
                    value.parameter->kind == ParameterKind::integer});
  }
  return rows;
}

std::string inputs_hash(const Scenario& scenario) {
  Fnv hash;
  for (const InputRow& row : input_rows(scenario)) {
    hash.add(row.key);
    hash.add(std::isnan(row.number) ? row.text : shortest(row.number));
  }
  hash.add(scenario.film_text);
  return hash.hex();
}

}  // namespace hoopfield
