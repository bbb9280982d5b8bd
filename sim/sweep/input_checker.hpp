// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// One value of one input, checked alone: unit, type and physical bounds, with its own complaint.
#pragma once

#include "sim/base/raw_node.hpp"
#include "sim/inputs/inputs.hpp"

#include <string>

namespace hoopfield {

/// Checks values of one key and turns those that hold a number into SI.
class InputChecker {
 public:
  /// Throws InputError for a key that is not declared. \param outside numbers beyond the bounds pass, too
  InputChecker(const Scenario& scenario, std::string key, bool outside = false);

  /// A value as written in a file. Throws InputError or OutOfRange with the place in `input`.
  [[nodiscard]] InputValue operator()(const RawNode& node, const InputText& input);
  /// A text as a user writes it, standing at a place of a table.
  [[nodiscard]] InputValue operator()(const std::string& text, const InputText& input, Position at);
  /// A number in SI or a text. Throws without a place.
  [[nodiscard]] InputValue operator()(const InputValue& value);

  [[nodiscard]] bool whole() const { return parameter_.kind == ParameterKind::integer; }
  /// What the numbers are in; "K" for a temperature that stays.
  [[nodiscard]] const std::string& unit() const { return unit_; }
  /// "a force (N, kN or lbf), more than 0 N" and the like.
  [[nodiscard]] std::string expectation() const;

 private:
  [[nodiscard]] InputValue number_or(const std::string& text) const;
  /// The number in a text that is out of bounds; throws the error in hand where that is not to pass or none is there.
  [[nodiscard]] InputValue outside_number(const std::string& text) const;
  [[nodiscard]] InputValue checked(const RawNode& node, const InputText& input);
  void check_film(const std::string& text, const InputText& input, Position at) const;
  Scenario scratch_;
  Scenario base_;
  std::string key_, unit_;
  Parameter parameter_;
  bool outside_;
};

}  // namespace hoopfield
