// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/moments.hpp"

#include <algorithm>

namespace hoopfield::words {

bool is_weaker_in_storage(const Result& r, std::size_t station) {
  const double ends = std::min(r.end.stations[station].hoop_tension, r.after_storage.stations[station].hoop_tension);
  return r.weakest.stations[station].hoop_tension < (1.0 - weaker_share) * ends;
}

bool is_weaker_in_storage(const Result& r) {
  for (std::size_t i = 0; i < r.weakest.stations.size(); ++i)
    if (is_weaker_in_storage(r, i)) return true;
  return false;
}

std::string moment_words(const std::string& moment) {
  if (moment == "end") return "at the end of wrapping";
  return moment == "weakest" ? "at its weakest in storage" : "after storage";
}

std::string when_weakest(const StationResult& station, const DisplayUnits& units) {
  const std::string when =
      station.time > 0.0 ? "after " + duration(station.time) : std::string("as soon as storage begins");
  return when + ", at " + quantity(station.temperature, units.temperature);
}

}  // namespace hoopfield::words
