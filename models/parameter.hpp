// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// One declaration per input and output: what it is, its unit, bounds and default, and how to measure it at the line.
/// This one table drives the readers, `check`, `explain`, the ranking of unknowns and the generated references.
#pragma once

#include "models/caution.hpp"

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

/// `measured_file` lists its own keys and those it shares with the scenario, which keep the room `scenario`.
/// `film_number` is the glossary of numbers read off virtual tests.
enum class ParameterRoom { scenario, film_file, measured_file, output, film_number };
enum class ParameterKind { number, integer, flag, text, choice, table };
/// What a text may hold: anything, one line of at most `longest_line` characters, or a calendar date.
enum class TextForm { any, line, date };
inline constexpr std::size_t longest_line = 200;  ///< characters, not bytes

/// One end of the physical range, SI.
struct Bound {
  double value = 0.0;
  bool inclusive = true;
};

/// Declaration of one key. Texts are static; numbers are SI unless they stand in a text.
struct Parameter {
  std::string_view key = {};
  ParameterRoom room = ParameterRoom::scenario;
  ParameterKind kind = ParameterKind::number;
  std::string_view unit = {};        ///< SI unit; empty for pure numbers and for kinds without one
  std::string_view metric = {};      ///< unit people write, metric
  std::string_view inch_pound = {};  ///< unit people write, inch-pound
  bool unit_due = false;             ///< a bare number is refused although the value is a pure number (percent)
  bool required = false;
  std::string_view default_text = {};  ///< as a user would write it; empty = absent
  std::optional<Bound> lower = {};     ///< physical bound: leaving it is an error
  std::optional<Bound> upper = {};
  std::optional<double> valid_low = {};  ///< range the models are meant for: leaving it is a warning
  std::optional<double> valid_high = {};
  TextForm text_form = TextForm::any;  ///< for kind text
  std::string_view choices = {};       ///< "a|b|c" for kind choice; also words a number may be replaced by
  std::string_view range_low = {};     ///< range over which an unknown is ranked, as a user would write it
  std::string_view range_high = {};
  bool range_is_factor = false;  ///< the range multiplies the value in use
  std::string_view error =
      {};  ///< of a given value: half of its central 90 %, as a share or with a unit; empty = exact
  std::string_view sentence = {};   ///< what it means
  Measure measure = {};             ///< how to measure it at the line, and what can hurt who does
  std::string_view reference = {};  ///< where default, range or definition come from
  // For outputs; see models/output_names.hpp for what follows from them.
  std::string_view label = {};  ///< a few words for a table, axis or card ("film per load"); some inputs have it too
  std::string_view axes = {};   ///< "moment,station,face"; empty for one number
  std::string_view json_unit = {};  ///< unit of the number in JSON, which ends its name there; empty for pure numbers
  std::string_view file = {};       ///< group and name in a result file: "stations/hoop_tension"; empty = not there
  bool in_summary = false;          ///< one of the numbers of the JSON object and of a sweep's summary
};

/// All declarations of a room, in the order of the reference.
[[nodiscard]] std::span<const Parameter> parameters(ParameterRoom room);

/// The declaration of a key in a room, or null.
[[nodiscard]] const Parameter* find_parameter(ParameterRoom room, std::string_view key);

/// Every declaration a user may mean by `text`: the key itself in any room, or the last part of a key
/// ("pitch" finds pattern.pitch; "containment.end.top.film_layers" finds containment.film_layers).
[[nodiscard]] std::vector<const Parameter*> find_parameters(std::string_view text);

/// The valid key nearest to a mistyped one among `keys`, or nothing when none is near enough to be meant.
[[nodiscard]] std::string nearest_key(std::string_view text, std::span<const std::string_view> keys);

/// Up to `count` keys of all rooms, nearest first, for "did you mean".
[[nodiscard]] std::vector<std::string> nearest_keys(std::string_view text, std::size_t count);

/// Bounds in the metric customary unit: "0 % to 500 %", "more than 0 mm"; of a text what it may hold; empty when there
/// are none.
[[nodiscard]] std::string bounds_text(const Parameter& parameter, bool inch_pound = false);

/// True when the value keeps the physical bounds.
[[nodiscard]] bool within_bounds(const Parameter& parameter, double in_si);

/// The way of measuring; where it begins with the way of another key ("As load.mass, ..."), that way follows.
[[nodiscard]] std::string how_to_measure(const Parameter& parameter);

/// Where default, range or definition come from; what it says of another key ("As load.mass.") follows.
[[nodiscard]] std::string reference_text(const Parameter& parameter);

/// The hazards of the way of measuring in words, those of a key it refers to included; empty for none.
[[nodiscard]] std::string caution_text(const Parameter& parameter);

/// Choices of a declaration, in order.
[[nodiscard]] std::vector<std::string_view> choice_list(const Parameter& parameter);

namespace detail {
// The table is kept in one source per room so that no file grows long.
[[nodiscard]] std::span<const Parameter> delivery_declarations();
[[nodiscard]] std::span<const Parameter> load_declarations();
[[nodiscard]] std::span<const Parameter> transit_declarations();
[[nodiscard]] std::span<const Parameter> result_place_declarations();
[[nodiscard]] std::span<const Parameter> film_file_declarations();
[[nodiscard]] std::span<const Parameter> measured_file_declarations();   ///< own keys only
[[nodiscard]] std::span<const Parameter> output_declarations();          ///< numbers and fields of a prediction
[[nodiscard]] std::span<const Parameter> cost_output_declarations();     ///< the chain from loads to CO2e
[[nodiscard]] std::span<const Parameter> transit_output_declarations();  ///< numbers and lists of the load in transit
[[nodiscard]] std::span<const Parameter> record_declarations();          ///< lists and facts beside the numbers
[[nodiscard]] std::span<const Parameter> film_number_declarations();
}  // namespace detail

}  // namespace hoopfield
