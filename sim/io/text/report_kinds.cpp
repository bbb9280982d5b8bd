// SPDX-License-Identifier: BSD-3-Clause
#include "models/units.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/words/display_units.hpp"

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
    {"fine", "kg"},
    {"price", "/kg", "/kg", "/lb", "per kg", "per lb"},
    {"km", "km", "km", words::long_length},
    {"energyfactor", "MJ/kg"},
    {"minutes", "min"},
    {"seconds", "s"},
    {"hours", "h"},
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
    {"energy", "MJ"},
    {"stress", "MPa"},
    {"footprint", "kg", "kg", "lb", "kg CO2e", "lb CO2e"},
};

detail::Json shown(std::string_view data, std::string_view unit, std::string_view word) {
  const Unit from = *find_unit(data), to = *find_unit(unit);
  return {{"unit", word}, {"factor", from.factor / to.factor}, {"offset", (from.offset - to.offset) / to.factor}};
}

}  // namespace

detail::Json detail::report_kinds() {
  Json json = Json::object();
  for (const Kind& kind : kinds) {
    json[kind.name]["metric"] = shown(kind.data, kind.metric, kind.metric_word);
    json[kind.name]["inch_pound"] =
        kind.inch_pound.empty() ? json[kind.name]["metric"] : shown(kind.data, kind.inch_pound, kind.inch_pound_word);
  }
  return json;
}

}  // namespace hoopfield
