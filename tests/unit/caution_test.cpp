// SPDX-License-Identifier: BSD-3-Clause
// Whoever is told how to measure something is told what can hurt while doing so.
#include "models/parameter.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cctype>
#include <regex>
#include <set>

using namespace hoopfield;

namespace {

constexpr ParameterRoom rooms[] = {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::measured_file,
                                   ParameterRoom::output, ParameterRoom::film_number};

std::string lower(std::string text) {
  for (char& c : text) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return text;
}

/// Words that only a way of measuring at a machine or a load has, or a test of film under force.
const std::regex& at_work() {
  static const std::regex words(
      "roller|turntable|jog|carriage moving|machine stopped|strap|slit|cut (off|across|from)|cut the film|"
      "pull until|pull test|pull at|plate|with a tape|tape or caliper|"
      "girth|balance|load cell|tachometer|stop-watch|grip|tensile|hold tests|thermometer on the film|hang a|full roll|"
      "tilt|wrap (five|two)|corner of the goods");
  return words;
}

/// Looked at one by one: a tool or a specimen at rest, or a choice.
constexpr std::string_view at_rest[] = {"film.width", "stations.band_height", "stations.plate_diameter",
                                        "break.reference_area"};

}  // namespace

TEST_CASE("a way of measuring at a machine or a load carries its caution", "[caution]") {
  std::size_t dangerous = 0;
  for (const ParameterRoom room : rooms)
    for (const Parameter& p : parameters(room)) {
      if (p.room != room || !std::regex_search(lower(how_to_measure(p)), at_work())) continue;
      INFO(p.key << ": " << how_to_measure(p));
      if (std::find(std::begin(at_rest), std::end(at_rest), p.key) != std::end(at_rest)) continue;
      ++dangerous;
      CHECK(p.measure.hazards != Hazard::none);
      CHECK_FALSE(caution_text(p).empty());
    }
  CHECK(dangerous > 100);
}

TEST_CASE("the ways of measuring that hurt most name what hurts", "[caution]") {
  const auto carries = [](ParameterRoom room, std::string_view key, Hazard hazard) {
    INFO(key);
    const Parameter* p = find_parameter(room, key);
    REQUIRE(p != nullptr);
    CHECK((p->measure.hazards & hazard) == hazard);
  };
  using enum Hazard;
  for (const char* key :
       {"delivery.prestretch", "delivery.roller_gap", "delivery.roller_arc", "delivery.internal_path"})
    carries(ParameterRoom::scenario, key, stopped_machine);
  for (const char* key : {"delivery.tension.force", "delivery.tension.lag", "rotation.speed", "carriage.speed_up"})
    carries(ParameterRoom::scenario, key, running_machine);
  for (const char* key : {"load.stiffness_along_length", "load.edge_pressure_limit", "load.creep_per_decade"})
    carries(ParameterRoom::scenario, key, strap | falling_goods);
  carries(ParameterRoom::scenario, "stations.tent_factor", cut_film | pulled_film | falling_goods);
  carries(ParameterRoom::output, "containment.hoop_tension", cut_film | strap | falling_goods);
  carries(ParameterRoom::output, "film.mass", cut_film | falling_goods);
  carries(ParameterRoom::film_file, "break.stretch", test_machine);
}

TEST_CASE("each hazard has a sentence of its own", "[caution]") {
  CHECK(caution_text(Hazard::none).empty());
  std::set<std::string> told;
  for (unsigned bit = 1; bit <= static_cast<unsigned>(Hazard::heavy_roll); bit *= 2) {
    const std::string text = caution_text(static_cast<Hazard>(bit));
    INFO(text);
    CHECK(text.find("trained") != std::string::npos);
    CHECK(text.find("local safety rules") != std::string::npos);
    CHECK(std::count(text.begin(), text.end(), '.') == 2);
    CHECK(told.insert(text).second);
  }
  const std::string both = caution_text(Hazard::stopped_machine | Hazard::strap);
  CHECK(both.find("lock it out") != std::string::npos);
  CHECK(both.find("strap") != std::string::npos);
}

TEST_CASE("a way of measuring that is that of another key is followed there", "[caution]") {
  const Parameter& across = *find_parameter(ParameterRoom::scenario, "load.stiffness_along_width");
  const Parameter& along = *find_parameter(ParameterRoom::scenario, "load.stiffness_along_length");
  CHECK(how_to_measure(across).find(along.measure.text) != std::string::npos);
  CHECK(reference_text(across).find(along.reference) != std::string::npos);
  CHECK(how_to_measure(along) == along.measure.text);
  // What the other way needs is said here, too.
  const Parameter& table = *find_parameter(ParameterRoom::scenario, "delivery.tension.dial_table");
  CHECK(caution_text(table).find("turning circle") != std::string::npos);
  // An output that goes by the name of an input refers to the input.
  const Parameter& pitch = *find_parameter(ParameterRoom::output, "pattern.pitch");
  CHECK(how_to_measure(pitch).find(find_parameter(ParameterRoom::scenario, "pattern.pitch")->measure.text) !=
        std::string::npos);
}
