// SPDX-License-Identifier: BSD-3-Clause
#include "models/reading_quantity.hpp"

#include <algorithm>
#include <array>

namespace hoopfield {
namespace {

using enum Hazard;

// clang-format off
constexpr std::array<ReadingQuantity, 14> quantities = {{
    {.name = "pull_force", .unit = "N", .metric = "N", .label = "pull force", .error = 0.08, .common_error = 0.04,
     .minutes = 2.0, .zero_allowed = true, .needs_height = true, .is_of_wrap = true,
     .measure = {"Pull the film off the load at mid-face with a plate on a balance, by the distance and at the rate of "
                 "[stations], and read the greatest force. Note height, face and minutes since wrapping.",
                 pulled_film | falling_goods}},
    {.name = "band_tension", .unit = "N", .metric = "N", .label = "slit-band tension", .error = 0.05,
     .common_error = 0.03, .minutes = 10.0, .needs_height = true, .is_of_wrap = true,
     .measure = {"Lock the machine out. Slit the film round the whole load at both edges of a band as high as "
                 "stations.band_height, cut the band through at mid-face and hold its ends together with a strap and a "
                 "balance until they meet again: that force is the reading. Nobody faces the band while it is cut, and "
                 "the load is roped, for goods may fall.",
                 stopped_machine | cut_film | strap | falling_goods}},
    {.name = "span_force", .unit = "N", .metric = "N", .label = "force in the span", .error = 0.05,
     .common_error = 0.03, .minutes = 5.0,
     .measure = {"With the machine locked out, lead the film from the outlet to a balance on a fixed point. Then let "
                 "it feed slowly, as its manual allows, and read the steady force from outside of its reach.",
                 running_machine | pulled_film}},
    {.name = "prestretch_force", .unit = "N", .metric = "N", .label = "force between the rollers", .error = 0.1,
     .common_error = 0.05, .minutes = 20.0,
     .measure = {"From the torque of the second roller where the drive shows it, less its torque without film, over "
                 "the radius of the roller.", running_machine}},
    {.name = "film_mass", .unit = "kg", .metric = "g", .label = "film mass of a load", .error = 0.02,
     .common_error = 0.01, .minutes = 5.0,
     .measure = {"Cut all film off the load and weigh it, or weigh the roll before and after some loads.",
                 cut_film | falling_goods}},
    {.name = "stretch_on_load", .unit = "", .metric = "%", .label = "stretch on the load", .error = 0.05,
     .common_error = 0.03, .error_is_share = false, .minutes = 10.0, .percent_due = true, .zero_allowed = true,
     .measure = {"Mark two lines a known distance apart on the film of the roll, wrap, and measure their distance on "
                 "the load.", running_machine | stopped_machine}},
    {.name = "laid_width", .unit = "m", .metric = "mm", .label = "width on the load", .error = 0.015,
     .common_error = 0.005, .minutes = 2.0,
     .measure = {"Measure the width of one turn of film on a face with a tape.", falling_goods}},
    {.name = "girth_before", .unit = "m", .metric = "m", .label = "girth before wrapping", .error = 0.006,
     .common_error = 0.003, .error_is_share = false, .minutes = 3.0,
     .measure = {"Lay a tape round the load before it is wrapped, at a height that is noted.", falling_goods}},
    {.name = "girth_after", .unit = "m", .metric = "m", .label = "girth after wrapping", .error = 0.006,
     .common_error = 0.003, .error_is_share = false, .minutes = 3.0,
     .measure = {"Lay the same tape round the wrapped load at the same height.", falling_goods}},
    {.name = "closing_along_length", .unit = "m", .metric = "mm", .label = "closing along the length", .error = 0.003,
     .common_error = 0.002, .error_is_share = false, .minutes = 4.0, .zero_allowed = true, .needs_height = true,
     .measure = {"Measure the length of the load at one height before and after wrapping, and take the difference.",
                 falling_goods}},
    {.name = "closing_along_width", .unit = "m", .metric = "mm", .label = "closing along the width", .error = 0.003,
     .common_error = 0.002, .error_is_share = false, .minutes = 4.0, .zero_allowed = true, .needs_height = true,
     .measure = {"Measure the width of the load at one height before and after wrapping, and take the difference.",
                 falling_goods}},
    {.name = "temperature", .unit = "K", .metric = "degC", .label = "temperature of the film", .error = 1.5,
     .common_error = 1.0, .error_is_share = false, .minutes = 2.0,
     .measure = {"Hold a contact thermometer to the film on the roll before the loads of the trial are wrapped.",
                 stopped_machine}},
    {.name = "turns", .unit = "", .metric = "", .label = "turns", .error = 0.0, .common_error = 0.0,
     .error_is_share = false, .minutes = 1.0,
     .measure = {"Count the times one corner of the load passes the film, from outside of the fence.",
                 running_machine}},
    {.name = "rebound", .unit = "", .metric = "%", .label = "rebound behind the rollers", .error = 0.02,
     .common_error = 0.01, .error_is_share = false, .minutes = 10.0, .percent_due = true, .zero_allowed = true,
     .measure = {"Mark two lines on film between the rollers, let it through to the load, and measure the share of "
                 "their distance that is lost. Machine locked out while hands are at the film.",
                 stopped_machine | running_machine}},
}};
// clang-format on

}  // namespace

std::span<const ReadingQuantity> reading_quantities() { return quantities; }

const ReadingQuantity* find_reading_quantity(std::string_view name) {
  const auto found =
      std::find_if(quantities.begin(), quantities.end(), [&](const ReadingQuantity& q) { return q.name == name; });
  return found == quantities.end() ? nullptr : &*found;
}

}  // namespace hoopfield
