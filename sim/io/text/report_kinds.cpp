// SPDX-License-Identifier: BSD-3-Clause
#include "models/output_names.hpp"
#include "models/units.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/words/display_units.hpp"

#include <algorithm>

namespace hoopfield {
namespace {

/// A kind of number on the page: the unit of the number in the data and the units it is shown in.
struct Kind {
  const char *name, *data;
  const char* metric = data;
  std::string_view inch_pound = words::inch_pound_unit(metric);
  std::string_view metric_word = metric, inch_pound_word = inch_pound;
};

const Kind kinds[] = {
    {"tension", "N/m"},
    {"force", "N"},
    {"height", "m"},
    {"place", "m", "mm"},
    {"small", "mm"},
    {"length", "m", "m", words::long_length},
    {"mass", "kg", "g"},
    {"bigmass", "kg"},
    {"price", "/kg", "/kg", "/lb", "per kg", "per lb"},
    {"seconds", "s"},
    {"hourly", "/h", "/h", "", "per h"},
    {"speed", "m/s", "m/s", "ft/min"},
    {"carriage", "m/min", "m/min", "ft/min"},
    {"celsius", "degC", "degC", "degF", "\u00b0C", "\u00b0F"},
    {"percent", "%"},
    {"points", "%"},
    {"share", "", "%"},
    {"change", "", "%"},
    {"size", "", "%"},
    {"time", "s"},
    {"count", ""},
    {"ratio", ""},
    {"rate", "1/s"},
    {"angle", "deg", "deg", "", "\u00b0"},
    {"money", ""},
    {"stress", "MPa"},
};

detail::Json shown(std::string_view data, std::string_view unit, std::string_view word) {
  const Unit from = *find_unit(data), to = *find_unit(unit);
  return {{"unit", word}, {"factor", from.factor / to.factor}, {"offset", (from.offset - to.offset) / to.factor}};
}

detail::Json kind_json(const Kind& kind) {
  detail::Json json;
  json["metric"] = shown(kind.data, kind.metric, kind.metric_word);
  json["inch_pound"] =
      kind.inch_pound.empty() ? json["metric"] : shown(kind.data, kind.inch_pound, kind.inch_pound_word);
  return json;
}

detail::Json money_json(const Parameter& p) {
  const char* const name = p.unit == "money/kg" ? "price" : p.unit == "money/s" ? "hourly" : "money";
  detail::Json json = kind_json(*std::find_if(std::begin(kinds), std::end(kinds),
                                              [&](const Kind& kind) { return std::string_view(kind.name) == name; }));
  json["money"] = true;
  return json;
}

detail::Json output_json(const Parameter& p) {
  if (p.unit.starts_with("money")) return money_json(p);
  detail::Json json;
  for (const auto& [style, unit] : {std::pair{"metric", p.metric}, std::pair{"inch_pound", p.inch_pound}}) {
    const double zero = to_unit(si_of_json(p, 0.0), unit), one = to_unit(si_of_json(p, 1.0), unit);
    json[style] = {
        {"unit", detail::printed_unit(" " + std::string(unit)).substr(1)}, {"factor", one - zero}, {"offset", zero}};
  }
  return json;
}

}  // namespace

std::string detail::printed_unit(std::string text) {
  for (const auto& [plain, print] : {std::pair{" um", " \u00b5m"}, {" degC", " \u00b0C"}, {" degF", " \u00b0F"}})
    for (std::size_t at = text.find(plain); at != std::string::npos; at = text.find(plain, at + 1))
      text.replace(at, std::string_view(plain).size(), print);
  return text;
}

detail::Json detail::report_outputs() {
  Json json = Json::object();
  for (const Parameter& p : parameters(ParameterRoom::output)) {
    if (p.label.empty()) continue;
    std::string place = json_key(p);
    std::replace(place.begin(), place.end(), '.', '/');
    json[place] = output_json(p);
    json[place]["label"] = p.label;
  }
  return json;
}

detail::Json detail::report_kinds() {
  Json json = Json::object();
  for (const Kind& kind : kinds) json[kind.name] = kind_json(kind);
  return json;
}

}  // namespace hoopfield
