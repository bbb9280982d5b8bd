// SPDX-License-Identifier: BSD-3-Clause
// What a declaration says with the help of another: "As load.mass, ..." is followed to load.mass.
#include "models/parameter.hpp"

namespace hoopfield {
namespace {

constexpr int most_steps = 4;  // a circle of references ends here

/// The declaration that a text refers to at its start ("As KEY", "See KEY"), or null.
const Parameter* referred(std::string_view text, const Parameter& from) {
  for (const std::string_view word : {"As ", "See "}) {
    if (!text.starts_with(word)) continue;
    text.remove_prefix(word.size());
    text = text.substr(0, text.find_first_of(" ,;:"));
    if (text.ends_with('.')) text.remove_suffix(1);
    for (const ParameterRoom room :
         {from.room, ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::output})
      if (const Parameter* found = find_parameter(room, text); found != nullptr && found != &from) return found;
  }
  return nullptr;
}

std::string followed(std::string_view text, const Parameter* other, const std::string& said_there) {
  if (other == nullptr || said_there.empty()) return std::string(text);
  return std::string(text) + " For " + std::string(other->key) + ": " + said_there;
}

std::string measured_as(const Parameter& p, int steps) {
  const Parameter* other = steps > 0 ? referred(p.measure.text, p) : nullptr;
  return followed(p.measure.text, other, other == nullptr ? "" : measured_as(*other, steps - 1));
}

std::string stated_as(const Parameter& p, int steps) {
  const Parameter* other = steps > 0 ? referred(p.reference, p) : nullptr;
  return followed(p.reference, other, other == nullptr ? "" : stated_as(*other, steps - 1));
}

Hazard hazards_of(const Parameter& p, int steps) {
  const Parameter* other = steps > 0 ? referred(p.measure.text, p) : nullptr;
  return other == nullptr ? p.measure.hazards : p.measure.hazards | hazards_of(*other, steps - 1);
}

}  // namespace

std::string how_to_measure(const Parameter& parameter) { return measured_as(parameter, most_steps); }

std::string reference_text(const Parameter& parameter) { return stated_as(parameter, most_steps); }

std::string caution_text(const Parameter& parameter) { return caution_text(hazards_of(parameter, most_steps)); }

}  // namespace hoopfield
