// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// From a value as written to a field: unit, type, choice and bound, each with its own complaint.
#pragma once

#include "models/parameter.hpp"
#include "sim/base/raw_node.hpp"
#include "sim/inputs/inputs.hpp"

#include <limits>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

namespace hoopfield {

/// Converts one written value under its declaration; every failure throws with the place in `input`.
class Assigner {
 public:
  /// \param key as shown in messages; may carry an index ("branch[2].modulus")
  Assigner(const InputText& input, const Parameter& parameter, std::string key)
      : input_(input), parameter_(parameter), key_(std::move(key)) {}

  void operator()(const RawNode& node, double& field) const { field = number(node); }
  void operator()(const RawNode& node, std::optional<double>& field) const { field = number(node); }
  void operator()(const RawNode& node, int& field) const { field = whole_number(node); }
  void operator()(const RawNode& node, std::optional<int>& field) const { field = whole_number(node); }
  void operator()(const RawNode& node, bool& field) const;
  void operator()(const RawNode& node, std::string& field) const;
  void operator()(const RawNode& node, StuckOr<std::optional<double>> field) const;
  void operator()(const RawNode& node, Pairs<std::vector<std::pair<double, double>>> field) const;
  void operator()(const RawNode& node, Spreads<SpreadMap> field) const;
  void operator()(const RawNode& node, Tiers<std::vector<TierInput>> field) const;
  void operator()(const RawNode& node, Calibrated<CalibrationTable> field) const;
  template <typename Enum>
  requires std::is_enum_v<Enum>
  void operator()(const RawNode& node, Enum& field) const { field = static_cast<Enum>(choice(node)); }

  [[nodiscard]] double number(const RawNode& node) const;
  [[nodiscard]] std::vector<double> numbers(const RawNode& node) const;  ///< a list under one unit
  [[nodiscard]] int whole_number(const RawNode& node) const;
  [[nodiscard]] std::size_t choice(const RawNode& node) const;
  void check_bounds(double value, Position at, const std::string& written) const;

  /// "a force (N, kN or lbf), more than 0 N" and the like.
  [[nodiscard]] std::string expectation() const;

 private:
  [[nodiscard]] double quantity(const RawNode& node, std::string_view si_unit, bool unit_due) const;
  [[nodiscard]] std::string with_customary_unit(const std::string& number, std::string_view si_unit) const;
  [[noreturn]] void wrong_type(const RawNode& node) const;
  [[noreturn]] void complain(Position at, const Complaint& complaint) const;

  const InputText& input_;
  const Parameter& parameter_;
  std::string key_;
};

}  // namespace hoopfield
