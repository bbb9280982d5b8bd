// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/scenario_writer.hpp"

#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/base/toml_text.hpp"
#include "sim/inputs/calibration_table.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/reader_support.hpp"
#include "sim/inputs/tiers.hpp"

#include <cmath>
#include <type_traits>
#include <vector>

namespace hoopfield {
namespace {

// Not every double is a whole number of hundredths of another: then the strain is written as length over length.
std::string strain_text(double value) {
  const std::string percent = shortest(value * 100.0) + " %";
  return parse_quantity(percent, "") == value ? percent : shortest(value) + " m/m";
}

// In the customary unit when that is exact, in SI otherwise.
std::string quantity_text(double value, std::string_view unit, std::string_view customary, bool unit_due) {
  if (unit.empty()) return unit_due ? strain_text(value) : shortest(value);
  if (!customary.empty()) {
    // A few digits suffice for what a person wrote; rounding noise of the conversion falls away.
    std::string text = format_quantity(value, customary, 12);
    if (parse_quantity(text, unit) == value) return text;
  }
  return shortest(value) + " " + std::string(unit);
}

/// Right-hand side of one key.
class ValueWriter {
 public:
  explicit ValueWriter(const Parameter& parameter) : parameter_(parameter) {}
  [[nodiscard]] std::string operator()(const std::string& field) const { return toml_text(field); }
  [[nodiscard]] std::string operator()(bool field) const { return field ? "true" : "false"; }
  [[nodiscard]] std::string operator()(int field) const { return std::to_string(field); }
  [[nodiscard]] std::string operator()(double field) const {
    return number(field, parameter_.unit, parameter_.metric, parameter_.unit_due);
  }
  template <typename Number>
  [[nodiscard]] std::string operator()(const std::optional<Number>& field) const {
    return field ? (*this)(*field) : std::string();
  }
  [[nodiscard]] std::string operator()(const StuckOr<const std::optional<double>>& field) const {
    return field.value ? (*this)(*field.value) : toml_text("stuck");
  }
  template <typename Pair>
  [[nodiscard]] std::string operator()(const Pairs<const std::vector<Pair>>& field) const {
    std::string text;
    for (const auto& [first, second] : field.value)
      text += (text.empty() ? "[" : ", [") + number(first, field.first_unit, {}, false) + ", " +
              number(second, field.second_unit, {}, false) + "]";
    return text.empty() ? text : "[" + text + "]";
  }
  [[nodiscard]] std::string operator()(const Spreads<const SpreadMap>& field) const {
    std::string text;
    for (const auto& [key, spread] : field.value)
      text += (text.empty() ? "" : "\n") + toml_text(key) + " = " + spread.text;
    return text;
  }
  [[nodiscard]] std::string operator()(const Calibrated<const CalibrationTable>& field) const {
    return field.value ? calibration_text(*field.value) : std::string();
  }
  [[nodiscard]] std::string operator()(const Tiers<const std::vector<TierInput>>& field) const {
    return field.value.empty() ? std::string() : tiers_text(field.value);
  }
  template <typename Enum>
  requires std::is_enum_v<Enum>
  [[nodiscard]] std::string operator()(Enum field) const {
    return toml_text(choice_list(parameter_)[static_cast<std::size_t>(field)]);
  }

 private:
  static std::string number(double value, std::string_view unit, std::string_view customary, bool unit_due) {
    const std::string text = quantity_text(value, unit, customary, unit_due);
    return unit.empty() && !unit_due ? text : toml_text(text);
  }
  const Parameter& parameter_;
};

}  // namespace

std::string scenario_text(const Scenario& scenario) {
  std::string text, table;
  visit_inputs(scenario, [&](std::string_view key, const auto& field) {
    if (!detail::is_written(scenario, key)) return;
    const Parameter declaration = detail::declaration_for(scenario, key);
    std::string value = ValueWriter(declaration)(field);
    if (value.empty()) return;
    if (key == "uncertainty" || key == "calibration") {
      text += (text.empty() ? "[" : "\n[") + std::string(key) + "]\n" + value + "\n";
      return;
    }
    const Origin origin = scenario.sources.at(std::string(key)).origin;
    if (origin != Origin::given) value = "{ value = " + value + ", origin = " + toml_text(origin_word(origin)) + " }";
    const auto dot = key.rfind('.');
    if (const std::string_view at = key.substr(0, dot); at != table) {
      table = at;
      text += (text.empty() ? "[" : "\n[") + table + "]\n";
    }
    text += std::string(key.substr(dot + 1)) + " = " + value + "\n";
  });
  return text;
}

}  // namespace hoopfield
