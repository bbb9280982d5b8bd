// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/assign.hpp"
#include "sim/inputs/calibration_table.hpp"

#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/inputs/spreads.hpp"
#include "sim/inputs/text_form.hpp"
#include "sim/inputs/tiers.hpp"

#include <cctype>
#include <cmath>

namespace hoopfield {
namespace {

std::string choice_text(const Parameter& parameter) {
  std::string text;
  for (const std::string_view word : choice_list(parameter)) text += (text.empty() ? "" : ", ") + in_quotes(word);
  return text;
}

std::string nearest_choice(const Parameter& parameter, const std::string& text) {
  const auto list = choice_list(parameter);
  return nearest_key(text, list);
}

std::string as_written(const RawNode& node) {
  return node.kind == RawNode::Kind::text ? in_quotes(node.text) : node.text;
}

}  // namespace

void Assigner::complain(Position at, const Complaint& complaint) const { fail_input(input_, at, key_, complaint); }

std::string Assigner::expectation() const {
  std::string text;
  switch (parameter_.kind) {
    case ParameterKind::integer: text = "a whole number"; break;
    case ParameterKind::flag: return "true or false";
    case ParameterKind::text: text = "a text in quotes"; break;
    case ParameterKind::choice: return "one of " + choice_text(parameter_);
    case ParameterKind::number:
    case ParameterKind::table:
      if (!parameter_.unit.empty()) {
        text = dimension_word(parameter_.unit) + " (" + accepted_units(parameter_.unit) + ")";
      } else if (parameter_.unit_due) {
        text = "a percentage in quotes";
      } else {
        text = parameter_.metric == "%" ? "a number or a percentage" : "a number";
      }
  }
  if (const std::string bounds = bounds_text(parameter_); !bounds.empty()) text += ", " + bounds;
  if (!parameter_.choices.empty()) text += ", or " + choice_text(parameter_);
  return text;
}

void Assigner::wrong_type(const RawNode& node) const {
  const bool bare_date = parameter_.text_form == TextForm::date && node.kind == RawNode::Kind::date;
  complain(node.value_at, {"is " + kind_word(node), expectation(), bare_date ? in_quotes("2026-11-27") : ""});
}

double Assigner::quantity(const RawNode& node, std::string_view si_unit, bool unit_due) const {
  if (node.kind == RawNode::Kind::text) {
    UnitProblem problem;
    const auto value = read_quantity(node.text, si_unit, problem);
    if (!value) {
      const bool bare = problem.what.ends_with("has no unit");
      complain(node.value_at,
               {problem.what, expectation(), bare ? with_customary_unit(node.text, si_unit) : problem.hint});
    }
    // A strain is due in percent; "m/m" says the same openly and keeps every bit of a number that percent would round.
    const bool bare =
        unit_due && node.text.find('%') == std::string::npos && node.text.find("m/m") == std::string::npos;
    if (si_unit.empty() && bare) {
      complain(node.value_at, {in_quotes(node.text) + " has no unit", expectation(), in_quotes(node.text + " %")});
    }
    return *value;
  }
  if (node.kind != RawNode::Kind::integer && node.kind != RawNode::Kind::number) wrong_type(node);
  if (!std::isfinite(node.number)) {
    complain(node.value_at, {node.text + " is not a finite number", expectation(), {}});
  }
  if (!si_unit.empty() || unit_due) {
    complain(node.value_at,
             {"the bare number " + node.text + " has no unit", expectation(), with_customary_unit(node.text, si_unit)});
  }
  return node.number;
}

std::string Assigner::with_customary_unit(const std::string& number, std::string_view si_unit) const {
  const std::string unit(parameter_.kind == ParameterKind::table && si_unit == "s" ? "h" : parameter_.metric);
  return in_quotes(number + (unit.empty() ? "" : " " + unit));
}

void Assigner::check_bounds(double value, Position at, const std::string& written) const {
  if (within_bounds(parameter_, value)) return;
  fail_range(input_, at, key_, {written + " is outside the physical bounds", bounds_text(parameter_), {}});
}

double Assigner::number(const RawNode& node) const {
  const double value = quantity(node, parameter_.unit, parameter_.unit_due);
  check_bounds(value, node.value_at, as_written(node));
  return value;
}

std::vector<double> Assigner::numbers(const RawNode& node) const {
  if (node.kind != RawNode::Kind::array) {
    complain(node.value_at, {"is " + kind_word(node), "a list, each " + expectation(), {}});
  }
  std::vector<double> values;
  for (const RawNode& item : node.children) values.push_back(number(item));
  return values;
}

int Assigner::whole_number(const RawNode& node) const {
  if (node.kind != RawNode::Kind::integer) wrong_type(node);
  check_bounds(node.number, node.value_at, node.text);
  if (std::abs(node.number) > static_cast<double>(std::numeric_limits<int>::max())) {
    fail_range(input_, node.value_at, key_, {node.text + " is too large", "a whole number below 2147483648", {}});
  }
  return static_cast<int>(node.integer);
}

std::size_t Assigner::choice(const RawNode& node) const {
  if (node.kind != RawNode::Kind::text) wrong_type(node);
  const auto list = choice_list(parameter_);
  for (std::size_t i = 0; i < list.size(); ++i) {
    if (list[i] == node.text) return i;
  }
  const std::string near = nearest_choice(parameter_, node.text);
  complain(node.value_at,
           {in_quotes(node.text) + " is not a choice", expectation(), near.empty() ? std::string{} : in_quotes(near)});
}

void Assigner::operator()(const RawNode& node, bool& field) const {
  if (node.kind != RawNode::Kind::flag) wrong_type(node);
  field = node.flag;
}

void Assigner::operator()(const RawNode& node, std::string& field) const {
  if (node.kind != RawNode::Kind::text) wrong_type(node);
  if (parameter_.kind == ParameterKind::choice) {
    field = std::string(choice_list(parameter_)[choice(node)]);
    return;
  }
  if (parameter_.required && node.text.empty()) complain(node.value_at, {"is empty", expectation(), {}});
  if (const auto problem = text_problem(parameter_, node.text)) {
    complain(node.value_at, {problem->what, expectation(), problem->hint});
  }
  field = node.text;
}

void Assigner::operator()(const RawNode& node, StuckOr<std::optional<double>> field) const {
  if (node.kind == RawNode::Kind::text && node.text == "stuck") {
    field.value.reset();
    return;
  }
  const bool word = node.kind == RawNode::Kind::text && !node.text.empty() &&
                    std::isalpha(static_cast<unsigned char>(node.text[0])) != 0;
  if (word) {
    const std::string near = nearest_choice(parameter_, node.text);
    complain(node.value_at,
             {in_quotes(node.text) + " is not a number", expectation(), near.empty() ? near : in_quotes(near)});
  }
  field.value = number(node);
}

void Assigner::operator()(const RawNode& node, Pairs<std::vector<std::pair<double, double>>> field) const {
  std::vector<std::pair<double, double>> pairs;
  if (node.kind != RawNode::Kind::array) {
    if (!field.lone_allowed) wrong_type(node);
    field.value = {{0.0, number(node)}};
    return;
  }
  if (node.children.empty()) complain(node.value_at, {"is an empty list", "at least one pair", {}});
  for (const RawNode& item : node.children) {
    if (item.kind != RawNode::Kind::array || item.children.size() != 2) {
      complain(item.value_at, {"is not a pair", field.first_unit == "s" ? "[time, temperature]" : "[dial, force]", {}});
    }
    const Parameter first_declaration{.key = parameter_.key,
                                      .unit = field.first_unit,
                                      .metric = field.first_unit == "s" ? "h" : "",
                                      .inch_pound = field.first_unit,
                                      .lower = Bound{0.0, true}};
    const Parameter second_declaration{.key = parameter_.key,
                                       .unit = field.second_unit,
                                       .metric = field.second_unit == "N" ? "N" : parameter_.metric,
                                       .inch_pound = parameter_.inch_pound,
                                       .lower = field.second_unit == "N" ? Bound{0.0, false} : parameter_.lower,
                                       .upper = parameter_.upper};
    const double first = Assigner(input_, first_declaration, key_).number(item.children[0]);
    const double second = Assigner(input_, second_declaration, key_).number(item.children[1]);
    if (!pairs.empty() && !(first > pairs.back().first)) {
      complain(item.value_at, {as_written(item.children[0]) + " does not come after the pair before it",
                               field.first_unit == "s" ? "times that rise" : "dial settings that rise",
                               {}});
    }
    pairs.emplace_back(first, second);
  }
  field.value = std::move(pairs);
}

void Assigner::operator()(const RawNode& node, Spreads<SpreadMap> field) const {
  detail::read_spreads(input_, node, field.value);
}

void Assigner::operator()(const RawNode& node, Tiers<std::vector<TierInput>> field) const {
  field.value = read_tiers(input_, node);
}

void Assigner::operator()(const RawNode& node, Calibrated<CalibrationTable> field) const {
  field.value = read_calibration(input_, node);
}

}  // namespace hoopfield
