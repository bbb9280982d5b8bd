// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/detail/report_parts.hpp"

#include "sim/words/answer_text.hpp"
#include "sim/words/inch_pound.hpp"

#include <set>

namespace hoopfield::detail {

namespace {

/// Every text of the object that has a quantity in metric units, with the same text in inch-pound units.
void collect_texts(const Json& json, Json& list, std::set<std::string>& seen) {
  if (json.is_structured()) {
    for (const Json& child : json) collect_texts(child, list, seen);
    return;
  }
  if (!json.is_string()) return;
  const std::string text = json.get<std::string>();
  const std::string other = words::in_inch_pound(text);
  if (other != text && seen.insert(text).second) list.push_back({{"metric", text}, {"inch_pound", other}});
}

}  // namespace

Json inch_pound_texts(const Json& report) {
  Json list = Json::array();
  std::set<std::string> seen;
  for (const Json& side : report.at("sides")) {
    collect_texts(side.at("message"), list, seen);
    if (!side.contains("summary")) continue;
    for (const char* part : {"warnings", "assumed"}) collect_texts(side.at("summary").at(part), list, seen);
    if (side.contains("detail")) collect_texts(side.at("detail").at("findings"), list, seen);
  }
  collect_texts(report.at("declarations"), list, seen);
  collect_texts(report.at("plain_texts"), list, seen);
  if (report.at("comparison").is_null()) return list;
  collect_texts(report.at("comparison").at("warnings"), list, seen);
  collect_texts(report.at("comparison").at("differences"), list, seen);
  for (const Json& side : report.at("comparison").at("sides")) {
    for (const char* part : {"warnings", "sentence", "film_sentence", "trial_sentence", "savings_sentence"})
      collect_texts(side.at(part), list, seen);
    for (const Json& adjustment : side.at("adjustments")) collect_texts(adjustment.at("why"), list, seen);
  }
  return list;
}

Json plain_texts(const Json& report) {
  Json list = Json::array();
  std::set<std::string> seen;
  const auto add = [&](const std::string& text) {
    const std::string plain = words::without_keys(text);
    if (plain != text && seen.insert(text).second) list.push_back({{"text", text}, {"plain", plain}});
  };
  const auto collect = [&](const Json& warnings) {
    for (const Json& warning : warnings) add(warning.at("text"));
  };
  for (const Json& side : report.at("sides")) {
    add(side.at("message"));
    if (side.contains("summary")) collect(side.at("summary").at("warnings"));
  }
  if (report.at("comparison").is_null()) return list;
  collect(report.at("comparison").at("warnings"));
  for (const Json& side : report.at("comparison").at("sides")) collect(side.at("warnings"));
  return list;
}

}  // namespace hoopfield::detail
