// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The object of a report on its way to the page and the tables. Private to sim.
#pragma once

#include "models/parameter.hpp"
#include "sim/io/text/detail/json_parts.hpp"
#include "sim/io/text/report_data.hpp"

#include <cmath>
#include <string>
#include <vector>

namespace hoopfield::detail {

/// What report_json() prints, as an object.
[[nodiscard]] Json report_object(const ReportInput& input);

/// The numbers of the pictures, of the drawing and of the sentences about one prediction (key "detail").
[[nodiscard]] Json detail_object(const Scenario& scenario, const Result& result);

/// What the page draws of the load in transit, at its least hoop tension: `missing` keys, or the direction and level
/// with the least margin, accelerations by interface, and one ride there: displacements over time and the tiers when
/// the load leans most (key "detail.transit").
[[nodiscard]] Json transit_picture(const Scenario& scenario, const Result& result);

/// The declaration of an input of a scenario or a film file; null where there is none.
[[nodiscard]] const Parameter* declaration(const std::string& key);
/// Files that inputs come from.
[[nodiscard]] Json file_list(const Scenario& scenario);
/// Every input as people write it, in both unit styles, with origin and source.
[[nodiscard]] Json input_list(const Scenario& scenario);
/// What each input of any side means and how it is measured, once.
[[nodiscard]] Json declaration_list(const std::vector<ReportSide>& sides);
/// What an input is called on the settings card.
[[nodiscard]] Json input_labels();

/// Texts of a report that hold a quantity, with the same in inch-pound units, and texts that name a key, in plain
/// words.
[[nodiscard]] Json inch_pound_texts(const Json& report);
[[nodiscard]] Json plain_texts(const Json& report);

/// Whether two sides are predicted and the first is one of them.
[[nodiscard]] bool is_pair(const std::vector<ReportSide>& sides);
/// The comparison without what the sides hold already; null for a prediction.
[[nodiscard]] Json comparison_part(const ReportInput& input);

/// UTF-8 without line breaks; text that is not UTF-8 has its bad bytes replaced.
[[nodiscard]] std::string report_text(const Json& object);

/// The content of a report's object as headings and tables, in the same order as the page, without pictures.
/// \param with_inputs every input of every side too
[[nodiscard]] std::string plain_tables(const Json& report, bool with_inputs);

/// Label and amount of everything the object `cost` of a summary holds, money with its currency.
[[nodiscard]] std::vector<std::vector<std::string>> cost_rows(const Json& summary, bool inch_pound);

/// How numbers of each kind that the page tells apart are shown in metric and inch-pound units, by the table of units:
/// `{"tension": {"metric": {"unit", "factor", "offset"}, "inch_pound": {...}}}`, shown = number * factor + offset.
[[nodiscard]] Json report_kinds();

/// What the outputs are called and the units they are shown in, by their place below `summary` ("film/mass_kg") without
/// its moments and stations ("containment/hoop_tension_N_per_m"):
/// `{"label", "metric": {"unit", "factor", "offset"}, "inch_pound": {...}}`. An amount of money has `money` besides,
/// and as its unit what it is per ("per kg").
[[nodiscard]] Json report_outputs();

/// The number, or null where it is not finite.
[[nodiscard]] inline Json number(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

/// Five digits: more than any picture shows, a third of the bytes of a double written in full.
inline constexpr int picture_digits = 5;
[[nodiscard]] double rounded(double value, int digits = picture_digits);

/// Candidate minus present of what the pictures draw, from the objects `detail` of the two sides: `over_height`
/// {height_m, end_N_per_m/mean, after_storage_N_per_m/mean, film_layers/mean}, `over_time` {time_s, STATION_N_per_m},
/// `span` {angle_deg, force_N} (units as in the keys, at the heights, times and angles of the candidate; the present
/// between its points by a straight line, null beyond them), `face_means_N_per_m` by face, `zones` [{name, present_kg,
/// candidate_kg, mass_kg}].
[[nodiscard]] Json picture_differences(const Json& present, const Json& candidate);

/// What the object `against_present` of a compared side says, by the name of the number: `difference` and its `size`
/// without sign, `low` and `high` between which it lies nine times in ten; the same as shares of the present number,
/// `change`, `low_change` and `high_change` (null where there is no ratio or where no draws were made); with draws
/// `words` ("more", "less", "not distinguishable").
/// \param only the name of the one number that is kept, or null for all
[[nodiscard]] Json shown_differences(const Json& against_present, const Json& only);

/// A unit in the letters of print: "\u00b0C" for "degC".
[[nodiscard]] std::string printed_unit(std::string text);

}  // namespace hoopfield::detail
