// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What the JSON objects of a prediction and of a comparison share. Private to sim.
#pragma once

#include "sim/base/warning.hpp"
#include "sim/compare/compare.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/outputs/economics.hpp"
#include "sim/transit/scenario_stack.hpp"

#include <nlohmann/json.hpp>

#include <string>

namespace hoopfield::detail {

using Json = nlohmann::ordered_json;

/// What summary_json() prints, as an object.
[[nodiscard]] Json summary_object(const Scenario& scenario, const Result& result,
                                  const std::optional<RunInfo>& run_info = {});

/// What comparison_json() prints, as an object.
[[nodiscard]] Json comparison_object(const Comparison& comparison, const std::optional<RunInfo>& run_info = {});

/// Unit of a target and of what unknowns are ranked by: "N/m", "N", or nothing for a margin in transit.
[[nodiscard]] const char* unit_of_quantity(const std::string& quantity);

[[nodiscard]] Json warning_json(const Warning& warning);

/// The chain from loads to CO2e; the part of one year as its own object "year".
[[nodiscard]] Json economics_json(const Economics& economics);

/// Bands, ranked unknowns and Sobol' indices of a prediction. What could not be computed is null.
[[nodiscard]] Json band_json(const BandResult& band);
[[nodiscard]] Json ranking_json(const std::vector<UnknownInput>& unknowns);
[[nodiscard]] Json indices_json(const std::vector<UnknownIndex>& indices);

/// What `predict` says of the load in transit. \param result with the bands, where there are any
[[nodiscard]] Json transit_statics_json(const Scenario& scenario, const TransitStatics& statics,
                                        const Result* result = nullptr);

/// Numbers that are not finite become null, each with a warning that names its place.
void replace_not_finite(Json& json, const std::string& place, Json& warnings);

/// UTF-8, two-space indent; text that is not UTF-8 has its bad bytes replaced.
[[nodiscard]] std::string json_text(const Json& json);

}  // namespace hoopfield::detail
