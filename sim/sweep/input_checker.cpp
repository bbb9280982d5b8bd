// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/input_checker.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/scenario_reader.hpp"

#include <filesystem>

namespace hoopfield {

InputChecker::InputChecker(const Scenario& scenario, std::string key, bool outside)
    : scratch_(scenario),
      base_(scenario),
      key_(std::move(key)),
      parameter_(detail::declaration_for(scenario, key_)),
      outside_(outside) {
  unit_ = key_ == "storage.temperature" ? "K" : std::string(parameter_.unit);
}

InputValue InputChecker::number_or(const std::string& text) const {
  if (const auto number = get_number(scratch_, key_)) return *number;
  const auto& history = scratch_.storage.temperature;
  if (key_ == "storage.temperature" && history.size() == 1 && history[0].first == 0.0) return history[0].second;
  return text;
}

void InputChecker::check_film(const std::string& text, const InputText& input, Position at) const {
  Scenario trial = base_;
  trial.film.file = text;
  try {
    read_film_of(trial, std::filesystem::path(trial.path).parent_path().string());
  } catch (const InputError& error) {
    if (error.key != key_) throw;  // something inside the film file, with its own place
    fail_input(input, at, key_,
               {"\"" + text + "\" cannot be read", "a film file, relative to the scenario's folder", {}});
  }
}

InputValue InputChecker::operator()(const RawNode& node, const InputText& input) {
  // A list in a sweep file would be a table such as dial settings; those are written as a text.
  const bool table =
      parameter_.kind == ParameterKind::table && node.kind == RawNode::Kind::text && node.text.starts_with("[");
  if (table) return (*this)(node.text, input, node.value_at);
  if (outside_) return checked(node, input);
  detail::put(scratch_, key_, node, input);
  if (key_ == "film.file") check_film(node.text, input, node.value_at);
  return number_or(node.text);
}

InputValue InputChecker::outside_number(const std::string& text) const {
  UnitProblem problem;
  const auto number = read_quantity(text, parameter_.unit, problem);
  if (!number) throw;
  return *number;
}

InputValue InputChecker::checked(const RawNode& node, const InputText& input) {
  try {
    detail::put(scratch_, key_, node, input);
  } catch (const OutOfRange&) {
    if (node.kind == RawNode::Kind::text) return outside_number(node.text);
    return node.kind == RawNode::Kind::integer ? static_cast<double>(node.integer) : node.number;
  }
  if (key_ == "film.file") check_film(node.text, input, node.value_at);
  return number_or(node.text);
}

InputValue InputChecker::operator()(const std::string& text, const InputText& input, Position at) {
  RawNode node = detail::node_from_text(parameter_, key_, text);
  const auto place = [at](auto& self, RawNode& n) -> void {
    n.key_at = n.value_at = at;
    for (RawNode& child : n.children) self(self, child);
  };
  place(place, node);
  if (outside_ && node.kind == RawNode::Kind::text) return checked(node, input);
  detail::put(scratch_, key_, node, input);
  if (key_ == "film.file") check_film(text, input, at);
  return number_or(text);
}

InputValue InputChecker::operator()(const InputValue& value) {
  if (const auto* text = std::get_if<std::string>(&value)) return (*this)(*text, {}, {});
  try {
    detail::put_number(scratch_, key_, std::get<double>(value));
  } catch (const OutOfRange&) {
    if (!outside_) throw;
  }
  return value;
}

std::string InputChecker::expectation() const { return Assigner({}, parameter_, key_).expectation(); }

}  // namespace hoopfield
