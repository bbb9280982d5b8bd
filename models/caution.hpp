// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What can hurt whoever measures an input or output, declared with each way of measuring.
/// The cautions are common practice, no source; they do not replace the manual of a machine or local rules.
#pragma once

#include <string>
#include <string_view>

namespace hoopfield {

/// A set of hazards.
enum class Hazard : unsigned {
  none = 0,              ///< decided: nothing here that a general caution would help against
  stopped_machine = 1,   ///< hands at a machine, which must not start
  running_machine = 2,   ///< a machine that must move for the reading
  cut_film = 4,          ///< film is cut under tension
  pulled_film = 8,       ///< film is pulled, by hand or by the load
  strap = 16,            ///< a strap under tension
  falling_goods = 32,    ///< work at a wrapped, squeezed or unwrapped load
  at_height = 64,        ///< a reading above reach
  test_machine = 128,    ///< specimens between the grips of a testing machine
  hanging_weight = 256,  ///< a weight on film or on a pulley
  heavy_roll = 512       ///< a full roll of film is lifted
};

[[nodiscard]] constexpr Hazard operator|(Hazard a, Hazard b) {
  return static_cast<Hazard>(static_cast<unsigned>(a) | static_cast<unsigned>(b));
}
[[nodiscard]] constexpr Hazard operator&(Hazard a, Hazard b) {
  return static_cast<Hazard>(static_cast<unsigned>(a) & static_cast<unsigned>(b));
}

/// A way of measuring and its hazards: neither can be written without the other.
struct Measure {
  std::string_view text = {};
  Hazard hazards = Hazard::none;

  constexpr Measure() = default;
  constexpr Measure(std::string_view way, Hazard of_it) : text(way), hazards(of_it) {}
};

/// One sentence for each hazard of the set and who may do the work; empty for none.
[[nodiscard]] std::string caution_text(Hazard hazards);

/// What every prediction carries.
inline constexpr std::string_view short_caution =
    "A prediction is not a certificate. Wrapping machines and unstable loads hurt people: follow local rules, and let "
    "a qualified person decide whether a load may travel.";

}  // namespace hoopfield
