// SPDX-License-Identifier: BSD-3-Clause
#include "models/output_names.hpp"
#include "models/units.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/words/display_units.hpp"
#include "sim/words/economics_text.hpp"

#include <algorithm>

namespace hoopfield {

namespace {

using detail::Json;

/// An amount with its unit; money with its currency.
std::string amount_text(const Parameter& p, double value, const std::string& currency, bool inch) {
  if (p.unit == "money") return words::money_digits(value) + " " + currency;
  if (p.unit == "money/kg") {
    const words::DisplayUnit mass = words::large_mass(inch ? words::UnitStyle::inch_pound : words::UnitStyle::metric);
    return words::money_digits(value / mass.per_si) + " " + currency + "/" + std::string(mass.name);
  }
  if (p.unit == "money/s") return words::money_digits(value) + " " + currency + "/h";
  const std::string unit(inch ? p.inch_pound : p.metric);
  const double shown = unit.empty() ? value : to_unit(si_of_json(p, value), unit);
  return words::trimmed(shown) + (unit.empty() ? "" : " " + unit);
}

}  // namespace

std::vector<std::vector<std::string>> detail::cost_rows(const Json& summary, bool inch_pound) {
  std::vector<std::vector<std::string>> rows;
  if (!summary.contains("cost")) return rows;
  const Json& cost = summary.at("cost");
  const std::string named = cost.value("currency", "");
  const std::string currency = named.empty() ? std::string(words::unnamed_currency) : named;
  for (const Parameter& p : parameters(ParameterRoom::output)) {
    if (!p.key.starts_with("cost.") || p.label.empty()) continue;
    std::string place = "/" + json_key(p);
    std::replace(place.begin(), place.end(), '.', '/');
    const Json::json_pointer at(place);
    if (!summary.contains(at) || !summary.at(at).is_number()) continue;
    rows.push_back({std::string(p.label), amount_text(p, summary.at(at).get<double>(), currency, inch_pound)});
  }
  for (const auto& [key, label] : {std::pair{"co2e_source", "source of the CO2e factor"},
                                   std::pair{"energy_source", "source of the energy factor"}})
    if (cost.contains(key)) rows.push_back({label, cost.at(key).get<std::string>()});
  if (named.empty()) rows.push_back({currency, "the currency of film.price; cost.currency names it"});
  return rows;
}

}  // namespace hoopfield
