// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/detail/report_parts.hpp"

#include "models/parameter.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <utility>

namespace hoopfield::detail {

namespace {

/// So many wraps stand beside each other; more of them stand in rows.
constexpr std::size_t most_beside = 3;

}  // namespace

bool is_pair(const std::vector<ReportSide>& sides) {
  const auto predicted = [](const ReportSide& side) { return side.result != nullptr; };
  return sides.front().result != nullptr && std::count_if(sides.begin(), sides.end(), predicted) == 2;
}

Json comparison_part(const ReportInput& input) {
  if (!input.comparison && input.comparison_json.empty()) return nullptr;
  Json json = input.comparison ? comparison_object(*input.comparison) : Json::parse(input.comparison_json);
  const Json measure = json.at("measures").at("containment");
  // Of many wraps only the containment they are judged by is set against the present one.
  const bool all = input.sides.size() <= most_beside || is_pair(input.sides);
  for (Json& alternative : json.at("sides")) {
    const Json cost = alternative.at("cost");
    if (cost.is_object() && cost.contains("currency")) alternative["currency"] = cost.at("currency");
    alternative["against_present"] = shown_differences(alternative.at("against_present"), all ? Json() : measure);
    for (const char* key : {"prediction", "cost"}) alternative.erase(key);
  }
  for (Json& alternative : json.at("sides"))
    for (Json& a : alternative.at("adjustments")) {
      const Parameter* p = declaration(a.at("key").get<std::string>());
      for (const auto& [style, unit] : {std::pair{"metric", p->metric}, std::pair{"inch_pound", p->inch_pound}})
        for (const char* when : {"before", "after"})
          a[style][when] =
              a.at(when).is_number() ? printed_unit(format_quantity(a.at(when).get<double>(), unit, 4)) : "not set";
    }
  return json;
}

}  // namespace hoopfield::detail
