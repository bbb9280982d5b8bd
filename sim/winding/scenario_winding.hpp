// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Winding stage for a scenario: what goes in, and what the result keeps of it.
#pragma once

#include "sim/film_path/film_path.hpp"
#include "sim/inputs/resolved_scenario.hpp"
#include "sim/winding/span_result.hpp"
#include "sim/winding/winding.hpp"

#include <memory>

namespace hoopfield {

/// Load and outlet seen from above.
[[nodiscard]] TakeUpPlan take_up_plan(const Scenario& scenario);

/// Input of wind() for `turns` turns of a scenario whose film path is known. Lengths, friction, control and tolerance
/// come from the scenario; the force is the resolved `delivery.tension.force`. `rotation.kind` does not enter: only the
/// motion of outlet against load matters.
[[nodiscard]] WindingInput winding_input(const ResolvedScenario& scenario, std::shared_ptr<const FilmLaw> law,
                                         const FilmPath& film_path, double turns, double temperature);

/// Span part of a result; `laid_fraction` is left to the build-up.
[[nodiscard]] SpanResult span_result(const WindingResult& wound);

}  // namespace hoopfield
