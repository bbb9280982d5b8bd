// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/detail/report_parts.hpp"

#include "models/parameter.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <utility>

namespace hoopfield::detail {

namespace {

/// What the draws say of a candidate in the containment the comparison is judged by, as shares of the present wrap.
Json versus_present(const Json& against, const Json& measure) {
  if (!measure.is_string() || !against.contains(measure.get<std::string>())) return nullptr;
  const Json& found = against.at(measure.get<std::string>());
  if (!found.contains("band") || found.at("band").is_null()) return nullptr;
  std::string words = found.at("words");
  std::replace(words.begin(), words.end(), '_', ' ');
  return {{"words", words},
          {"low_change", found.at("band").at("p05").get<double>() - 1.0},
          {"high_change", found.at("band").at("p95").get<double>() - 1.0}};
}

/// So many wraps stand beside each other with their differences; more of them stand in rows.
constexpr std::size_t most_beside = 3;

/// Candidate less present, number by number: the difference, its share of the present number, and between which ends
/// nine of ten draws lie (null without draws).
Json differences_from_present(const Json& against) {
  Json kept = Json::object();
  for (const auto& [name, found] : against.items()) {
    const bool drawn = found.contains("difference_band") && !found.at("difference_band").is_null();
    const Json& ratio = found.at("ratio");
    kept[name] = {{"difference", found.at("difference")},
                  {"change", ratio.is_number() ? Json(ratio.get<double>() - 1.0) : Json(nullptr)},
                  {"low", drawn ? found.at("difference_band").at("p05") : Json(nullptr)},
                  {"high", drawn ? found.at("difference_band").at("p95") : Json(nullptr)}};
  }
  return kept;
}

/// Changes against the present wrap with the ends between which they lie nine times in ten, of the numbers that the
/// page sets beside each other; of `only` alone where it is a name.
Json shown_changes(const Json& against, const Json& only) {
  Json list = Json::object();
  if (!against.is_object()) return list;
  for (const auto& [name, found] : against.items()) {
    if (!name.starts_with("containment.") && name != "film.mass_kg" && !name.starts_with("cost.")) continue;
    if (only.is_string() && only != name) continue;
    if (!found.contains("ratio") || !found.at("ratio").is_number()) continue;
    Json row = {{"change", found.at("ratio").get<double>() - 1.0}};
    if (found.contains("band") && found.at("band").is_object()) {
      row["low_change"] = found.at("band").at("p05").get<double>() - 1.0;
      row["high_change"] = found.at("band").at("p95").get<double>() - 1.0;
    }
    list[name] = std::move(row);
  }
  return list;
}

}  // namespace

bool is_pair(const std::vector<ReportSide>& sides) {
  const auto predicted = [](const ReportSide& side) { return side.result != nullptr; };
  return sides.front().result != nullptr && std::count_if(sides.begin(), sides.end(), predicted) == 2;
}

Json comparison_part(const ReportInput& input) {
  if (!input.comparison && input.comparison_json.empty()) return nullptr;
  Json json = input.comparison ? comparison_object(*input.comparison) : Json::parse(input.comparison_json);
  const Json measure = json.at("measures").at("containment");
  for (Json& alternative : json.at("sides")) {
    alternative["versus"] = versus_present(alternative.at("against_present"), measure);
    alternative["changes"] =
        shown_changes(alternative.at("against_present"), input.sides.size() > 2 ? measure : Json());
    if (is_pair(input.sides)) alternative["told"] = told_differences(alternative.at("against_present"));
    const Json cost = alternative.at("cost");
    if (cost.is_object() && cost.contains("currency")) alternative["currency"] = cost.at("currency");
    const Json against = alternative.at("against_present");
    for (const char* key : {"prediction", "cost", "against_present"}) alternative.erase(key);
    if (input.sides.size() <= most_beside) alternative["against_present"] = differences_from_present(against);
  }
  for (Json& alternative : json.at("sides"))
    for (Json& a : alternative.at("adjustments")) {
      const Parameter* p = declaration(a.at("key").get<std::string>());
      for (const auto& [style, unit] : {std::pair{"metric", p->metric}, std::pair{"inch_pound", p->inch_pound}})
        for (const char* when : {"before", "after"})
          a[style][when] = a.at(when).is_number()
                               ? printed_unit(format_quantity(a.at(when).get<double>(), unit, 4))
                               : "not set";
    }
  return json;
}

}  // namespace hoopfield::detail
