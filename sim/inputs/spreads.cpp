// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/spreads.hpp"

#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/inputs_detail.hpp"

#include <cmath>
#include <optional>
#include <string_view>

namespace hoopfield::detail {
namespace {

constexpr std::string_view table_name = "uncertainty";

std::string shown(const std::string& key) { return std::string(table_name) + ".\"" + key + "\""; }

bool in_percent(const Parameter& p) { return p.unit.empty() && p.metric == "%"; }

/// One entry of the table while it is read.
class SpreadReader {
 public:
  SpreadReader(const InputText& input, const std::string& key, const RawNode& node)
      : input_(input), key_(key), node_(node), parameter_(find_parameter(ParameterRoom::scenario, key)) {}

  InputSpread read() {
    if (parameter_ == nullptr || key_ == table_name) unknown_key();
    const bool film = key_ == "film.file";
    if (!film && parameter_->kind != ParameterKind::number)
      fail(node_.key_at.line > 0 ? node_.key_at : node_.value_at,
           {"does not hold a number", "a key with a number", {}});
    InputSpread spread;
    if (node_.kind == RawNode::Kind::array && !film) return range();
    if (node_.kind != RawNode::Kind::text) fail(node_.value_at, {"is " + kind_word(node_), expectation(), {}});
    spread.text = in_quotes(node_.text);
    if (node_.text == "exact") {
      spread.kind = InputSpread::Kind::exact;
    } else if (node_.text == (film ? "as fitted" : "as declared")) {
      spread.kind = InputSpread::Kind::as_declared;
    } else if (film) {
      fail(node_.value_at, {in_quotes(node_.text) + " is not a choice", expectation(), {}});
    } else {
      error(spread);
    }
    return spread;
  }

 private:
  [[noreturn]] void fail(Position at, const Complaint& complaint) const {
    fail_input(input_, at, shown(key_), complaint);
  }

  [[noreturn]] void unknown_key() const {
    std::vector<std::string_view> keys;
    for (const Parameter& p : parameters(ParameterRoom::scenario))
      if (p.kind == ParameterKind::number || p.key == "film.file") keys.push_back(p.key);
    fail(node_.key_at.line > 0 ? node_.key_at : node_.value_at,
         {"unknown key", "a scenario key with a number, in quotes, or \"film.file\"", nearest_key(key_, keys)});
  }

  [[nodiscard]] std::string expectation() const {
    if (key_ == "film.file") return "\"exact\" or \"as fitted\"";
    if (in_percent(*parameter_))
      return "an error in points (\"5 points\"), a range of two values, \"exact\" or \"as declared\"";
    const std::string unit(parameter_->metric);
    return "a share (\"3 %\"), an error" + (unit.empty() ? std::string(" (\"0.05\")") : " in " + unit) +
           ", a range of two values, \"exact\" or \"as declared\"";
  }

  /// "5 points" of a key in per cent, SI; nothing for other texts.
  [[nodiscard]] std::optional<double> points() const {
    constexpr std::string_view word = " points";
    if (!in_percent(*parameter_) || !node_.text.ends_with(word)) return std::nullopt;
    UnitProblem problem;
    const auto value =
        read_quantity(std::string_view(node_.text).substr(0, node_.text.size() - word.size()), "", problem);
    if (!value) fail(node_.value_at, {problem.what, expectation(), problem.hint});
    return *value / 100.0;
  }

  void error(InputSpread& spread) const {
    const bool share = node_.text.ends_with("%");
    if (in_percent(*parameter_) && share) {
      const std::string number = node_.text.substr(0, node_.text.find_last_not_of(" %") + 1);
      fail(node_.value_at, {in_quotes(node_.text) + " may mean points or a share of the value",
                            "points, or a range of two values", in_quotes(number + " points")});
    }
    spread.kind = share ? InputSpread::Kind::share : InputSpread::Kind::error;
    if (const auto in_points = points()) {
      spread.error = *in_points;
    } else {
      const std::string_view unit = share ? std::string_view{} : parameter_->unit;
      UnitProblem problem;
      const auto value = read_quantity(node_.text, unit, problem);
      if (!value) fail(node_.value_at, {problem.what, expectation(), problem.hint});
      // A difference of temperatures has no offset: "2 degC" means 2 K here.
      const bool offset = unit == "K" && node_.text.find("deg") != std::string::npos;
      const std::string zero = "0 " + node_.text.substr(std::min(node_.text.find("deg"), node_.text.size()));
      spread.error = *value - (offset ? parse_quantity(zero, unit) : 0.0);
    }
    if (!(spread.error >= 0.0)) fail(node_.value_at, {in_quotes(node_.text) + " is negative", expectation(), {}});
    if (share && !(spread.error < 1.0))
      fail(node_.value_at,
           {in_quotes(node_.text) + " is all of the value or more", "less than 100 %, or a range of two values", {}});
  }

  [[nodiscard]] InputSpread range() const {
    if (node_.children.size() != 2)
      fail(node_.value_at,
           {"is a list of " + std::to_string(node_.children.size()), "a range of two values, low and high", {}});
    const Assigner assign(input_, *parameter_, shown(key_));
    InputSpread spread;
    spread.kind = InputSpread::Kind::range;
    spread.low = assign.number(node_.children[0]);
    spread.high = assign.number(node_.children[1]);
    if (!(spread.high >= spread.low))
      fail(node_.value_at, {"has its ends in the wrong order", "the lower value first", {}});
    for (const RawNode& end : node_.children)
      spread.text +=
          (spread.text.empty() ? "[" : ", ") + (end.kind == RawNode::Kind::text ? in_quotes(end.text) : end.text);
    spread.text += "]";
    return spread;
  }

  const InputText& input_;
  const std::string& key_;
  const RawNode& node_;
  const Parameter* parameter_;
};

void read_level(const InputText& input, const RawNode& table, const std::string& path, SpreadMap& spreads) {
  for (const RawNode& child : table.children) {
    const std::string key = path.empty() ? child.key : path + "." + child.key;
    if (child.kind == RawNode::Kind::table) {
      read_level(input, child, key, spreads);
    } else {
      spreads[key] = read_spread(input, key, child);
    }
  }
}

}  // namespace

InputSpread read_spread(const InputText& input, const std::string& key, const RawNode& node) {
  return SpreadReader(input, key, node).read();
}

void read_spreads(const InputText& input, const RawNode& table, SpreadMap& spreads) {
  if (table.kind != RawNode::Kind::table)
    fail_input(input, table.value_at, std::string(table_name), {"is " + kind_word(table), "a table [uncertainty]", {}});
  spreads.clear();
  read_level(input, table, {}, spreads);
}

bool states_error(const InputSpread& spread) {
  return spread.kind != InputSpread::Kind::as_declared && spread.kind != InputSpread::Kind::exact;
}

void check_spreads(const Scenario& s) {
  for (const auto& [key, spread] : s.uncertainty) {
    if (!states_error(spread)) continue;
    const std::optional<double> value = get_number(s, key);
    if (!value)
      fail_at(s, table_name,
              {"\"" + key + "\" has no value here that could have an error", "a key that has a number", {}});
    const Parameter p = declaration_for(s, key);
    const bool inside = spread.kind != InputSpread::Kind::range || (spread.low <= *value && *value <= spread.high);
    if (!inside)
      fail_at(s, table_name,
              {"the value of \"" + key + "\" in use, " + format_quantity(*value, p.metric, 4) +
                   ", is not inside its range " + spread.text,
               "a range that holds the value, or another value of " + key,
               {}});
  }
}

}  // namespace hoopfield::detail
