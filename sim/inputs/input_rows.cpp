// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/input_rows.hpp"

#include "sim/base/detail/fnv.hpp"
#include "sim/base/number_text.hpp"
#include "sim/inputs/inputs.hpp"

#include <cmath>
#include <limits>

namespace hoopfield {

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
