// SPDX-License-Identifier: BSD-3-Clause
// Face tensions against reference_winding.py (an independent implementation that follows hundreds of film parcels; its
// own step error is below 0.15 %). The difference is the lumping of the span into a few bodies of film.
#include "tests/support/catch.hpp"
#include "tests/support/winding_cases.hpp"

#include <cstdlib>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

using namespace hoopfield;
using namespace hoopfield::testing;

namespace {

struct Row {
  double force = 0.0, force_at_event = 0.0, stretch = 0.0;
};

std::map<std::string, std::vector<Row>> read_reference() {
  std::map<std::string, std::vector<Row>> out;
  std::ifstream file(std::string(HOOPFIELD_SOURCE_DIR) + "/tests/consistency/data/winding_reference.csv");
  std::string line;
  while (std::getline(file, line)) {
    if (line.empty() || line[0] == '#' || line.rfind("scenario", 0) == 0) continue;
    std::istringstream fields(line);
    std::string name, cell;
    std::getline(fields, name, ',');
    std::vector<double> values;
    while (std::getline(fields, cell, ',')) values.push_back(std::strtod(cell.c_str(), nullptr));
    out[name].push_back({values.at(1), values.at(2), values.at(3)});
  }
  return out;
}

/// Both end at the last face event: what slips afterwards is not compared.
void compare(WindingInput in, const std::vector<Row>& reference) {
  in.turns = in.turns - 1.0 + TakeUp(in.plan).events()[3].angle / (2.0 * std::numbers::pi) + 1e-12;
  const WindingResult r = wind(in);
  REQUIRE(r.faces.size() == reference.size());
  for (std::size_t i = 0; i < reference.size(); ++i) {
    INFO("face " << i);
    CHECK(r.faces[i].force == Approx(reference[i].force).epsilon(5e-3));
    CHECK(r.faces[i].force_at_event == Approx(reference[i].force_at_event).epsilon(5e-3));
    // The first turn still lays film that stood in the span at the start, which the lumped span mixes with fresh film.
    const double allowed = i < 4 ? 8e-3 : (i < 8 ? 2.5e-3 : 1e-3);
    CHECK(r.faces[i].film.stretch == Approx(reference[i].stretch).epsilon(allowed));
  }
}

WindingInput common() {
  WindingInput in = reference_winding();
  in.tolerance = 1e-4;
  in.repeat_settled = false;
  in.ramp_turns = 0.0;
  in.turns = 4.0;
  in.film_on_load.reset();
  return in;
}

}  // namespace

TEST_CASE("winding against an independent implementation with film parcels", "[winding]") {
  const auto reference = read_reference();
  REQUIRE(reference.size() == 3);
  SECTION("follow") { compare(common(), reference.at("follow")); }
  SECTION("fixed length, off-centre load, ramp") {
    WindingInput in = common();
    in.plan.axis_offset = 0.1;
    in.plan.corner_radius = 0.0;
    in.ramp_turns = 1.0;
    in.control.kind = WindingControl::Kind::fixed_length;
    in.control.length_per_turn = 1.0 / 3.22;
    compare(in, reference.at("fixed_length"));
  }
  SECTION("follow with film slipping round the corners") {
    WindingInput in = common();
    in.plan.width = 0.8;
    in.plan.corner_radius = 0.0;
    in.speed = 15.0 * std::numbers::pi / 30.0;
    in.turns = 3.0;
    in.film_on_load = 0.06;
    in.film_on_film = 0.06;
    compare(in, reference.at("slip"));
  }
}
