// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/input_rows.hpp"

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
  const auto add = [&](const char* key, double number, const char* unit) {
    InputRow row{key, shortest(number), unit, "assumed", {}, number, 0};
    if (const auto found = scenario.sources.find(key); found != scenario.sources.end()) {
      row.origin = origin_name(found->second.origin);
      row.file = found->second.file;
      row.line = found->second.line;
    }
    rows.push_back(std::move(row));
  };
  add("film.width", scenario.film.width, "m");
  add("film.thickness", scenario.film.thickness, "m");
  add("delivery.prestretch", scenario.delivery.prestretch, "1");
  add("delivery.tension.force", scenario.delivery.tension.force.value_or(std::numeric_limits<double>::quiet_NaN()), "N");
  add("load.length", scenario.load.length, "m");
  add("load.width", scenario.load.width, "m");
  add("load.height", scenario.load.height, "m");
  add("storage.duration", scenario.storage.duration, "s");
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
