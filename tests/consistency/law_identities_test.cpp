// SPDX-License-Identifier: BSD-3-Clause
// Identities every film law must keep, run against every law and every film file of models/parameters/films.
// Failures that are known stand in data/law_identities_known.txt, one a line: identity | film | reason.
#include "models/film/film_law.hpp"
#include "sim/inputs/film_reader.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <map>
#include <optional>
#include <set>

using namespace hoopfield;
using test::room;

namespace {

namespace fs = std::filesystem;
const std::string root = HOOPFIELD_SOURCE_DIR;

struct Film {
  std::string name;
  FilmDescription description;
};

std::vector<Film> films() {
  std::vector<Film> list;
  for (const auto& entry : fs::directory_iterator(root + "/models/parameters/films"))
    if (entry.path().extension() == ".toml")
      list.push_back({entry.path().filename().string(), read_film(entry.path().string())});
  REQUIRE(list.size() >= 2);
  std::sort(list.begin(), list.end(), [](const Film& a, const Film& b) { return a.name < b.name; });
  list.push_back({"check values R1", test::r1()});
  FilmDescription maxwell = test::general_film();
  maxwell.law = "maxwell";
  maxwell.viscous_share = 0.0;
  maxwell.branches = {test::maxwell_branch(50e6, 2.0), test::maxwell_branch(20e6, 1e4), test::maxwell_branch(5e6, 1e8)};
  list.push_back({"maxwell", maxwell});
  FilmDescription curve;
  curve.law = "elastic-curve";
  curve.density = 920.0;
  curve.curve = {{1.0, 0.0}, {1.1, 6e6}, {2.0, 7e6}, {3.5, 9e6}, {4.5, 13e6}};
  list.push_back({"elastic curve", curve});
  return list;
}

using Law = std::shared_ptr<const FilmLaw>;
const std::vector<WidthMode> modes = {WidthMode::free(), WidthMode::free(1.2), WidthMode::power(0.0),
                                      WidthMode::power(0.2)};

FilmStress move(const FilmLaw& law, FilmState& state, double to, double dt, const WidthMode& mode) {
  return law.step(state, to, dt, mode, room, room);
}

FilmState loaded(const FilmLaw& law, double stretch, double time, const WidthMode& mode) {
  FilmState state;
  advance_controlled(law, state, stretch, time, mode, room, 1e-8);
  return state;
}

/// The film with branches that differ: rates (or times) and moduli by a factor.
FilmDescription changed(FilmDescription film, double rate_factor, double modulus_factor) {
  for (BranchParameters& branch : film.branches) {
    branch["reference_rate"] *= rate_factor;
    branch["relaxation_time"] /= rate_factor;
    branch["modulus"] *= modulus_factor;
    branch["flow_stress"] *= modulus_factor;
  }
  film.network.modulus *= modulus_factor;
  for (CurvePoint& point : film.curve) point.nominal_stress *= modulus_factor;
  return film;
}

/// Equilibrium part alone: every branch at rest.
double equilibrium(const FilmLaw& law, double stretch, const WidthMode& mode) {
  FilmState state;
  state.stretch = stretch;
  return law.stress(state, mode, room).nominal;
}

// Each identity returns its worst miss, already divided by what is allowed: kept when at most 1.
using Identity = double (*)(const FilmDescription&, const FilmLaw&, const WidthMode&);

double zero_history(const FilmDescription&, const FilmLaw& law, const WidthMode& mode) {
  FilmState state;
  double worst = 0.0;
  // Film released from a draw with another width than its own is not at rest at l = 1.
  if (mode.shape == 1.0) worst = std::abs(move(law, state, 1.0, 3600.0, mode).nominal) / 1e-3;  // Pa
  state = loaded(law, 2.0, 1.0, mode);
  const FilmState before = state;
  const double stress = law.stress(state, mode, room).nominal;
  worst = std::max(worst, std::abs(move(law, state, 2.0, 0.0, mode).nominal / stress - 1.0) / 1e-14);
  for (std::size_t k = 0; k < law.branch_count(); ++k)
    if (state.strain[k] != before.strain[k]) worst = 1e9;
  return worst;
}

double tangent(const FilmDescription&, const FilmLaw& law, const WidthMode& mode) {
  double worst = 0.0;
  for (const double dt : {0.0, 1e-3, 1.0, 1e4})
    for (const double move_by : {-0.01, -1e-4, 1e-4, 0.01}) {
      const FilmState start = loaded(law, 2.2, 2.0, mode);
      const auto stress = [&](double log_move) {
        FilmState state = start;
        return move(law, state, start.stretch * std::exp(log_move), dt, mode);
      };
      const double h = 1e-6;
      const double difference = (stress(move_by + h).nominal - stress(move_by - h).nominal) / (2.0 * h);
      // The moving flow stress within a step is followed to first order in the slope, so 1 % of the elastic slope.
      const double scale = std::abs(law.stress(start, mode, room).slope);
      worst = std::max(worst, std::abs(stress(move_by).slope - difference) / (0.01 * scale));
    }
  return worst;
}

double two_halves(const FilmDescription& film, const FilmLaw& law, const WidthMode& mode) {
  const FilmState start = loaded(law, 2.0, 2.0, mode);
  const auto run = [&](int steps) {
    FilmState state = start;
    double stress = 0.0;
    for (int i = 1; i <= steps; ++i)
      stress = move(law, state, 2.0 * std::exp(0.05 * i / steps), 1.0 / steps, mode).nominal;
    return stress;
  };
  if (film.viscous_share == 0.0 || film.branches.empty()) return std::abs(run(2) / run(1) - 1.0) / 1e-12;
  const double exact = run(4096), coarse = std::abs(run(32) - exact), fine = std::abs(run(64) - exact);
  return std::abs(coarse / fine - 4.0) / 0.5;
}

double hold(const FilmDescription&, const FilmLaw& law, const WidthMode& mode) {
  FilmState state = loaded(law, 3.0, 2.0, mode);
  double before = law.stress(state, mode, room).nominal, worst = 0.0, time = 1e-3;
  const double start = before;
  while (time < 1e40) {
    const double now = move(law, state, 3.0, time, mode).nominal;
    worst = std::max(worst, (now - before) / (1e-13 * start));
    before = now;
    time *= 3.0;
  }
  return std::max(worst, std::abs(before / equilibrium(law, 3.0, mode) - 1.0) / 1e-9);
}

double cycle(const FilmDescription&, const FilmLaw& law, const WidthMode& mode) {
  double worst = -1e300;
  for (const double rate : {1e-6, 1e-2, 1.0, 100.0}) {
    FilmState state;
    double work = 0.0, spent = 0.0, before = 0.0;
    const int steps = 4000;
    for (int i = 1; i <= 2 * steps; ++i) {
      const double log_stretch = std::log(2.5) * (i <= steps ? i : 2 * steps - i) / steps;
      const double from = state.stretch, to = std::exp(log_stretch);
      const double now = move(law, state, to, std::abs(std::log(to / from)) / rate, mode).nominal;
      work += 0.5 * (before + now) * (to - from);
      spent += std::abs(0.5 * (before + now) * (to - from));
      before = now;
    }
    worst = std::max(worst, -work / (1e-6 * spent));  // the trapezoidal rule is good to 1e-6
  }
  return worst;
}

double limits(const FilmDescription& film, const FilmLaw& law, const WidthMode& mode) {
  double worst = 0.0;
  for (const double stretch : {1.01, 1.5, 2.5}) {
    FilmState jumped, fast, slow;
    const double instantaneous = move(law, jumped, stretch, 0.0, mode).nominal;
    // Rates scaled instead of times, so that |y| in the hundreds cannot catch up.
    const Law frozen = make_film_law(changed(film, 1e-300, 1.0));
    const Law liquid = make_film_law(changed(film, 1e12, 1.0));
    const double quick = advance_controlled(*frozen, fast, stretch, 1e-9, mode, room, 1e-9).nominal;
    const double lazy = move(*liquid, slow, stretch, 1e30, mode).nominal;
    worst = std::max(worst, std::abs(quick / instantaneous - 1.0) / 1e-6);
    worst = std::max(worst, std::abs(lazy - equilibrium(law, stretch, mode)) / (1e-6 * instantaneous));
  }
  return worst;
}

double scaling(const FilmDescription& film, const FilmLaw& law, const WidthMode& mode) {
  const double factor = 2.7;
  const Law scaled = make_film_law(changed(film, 1.0, factor));
  double worst = 0.0;
  for (const double time : {1e-3, 1.0, 1e5}) {
    FilmState a, b;
    const double plain = move(law, a, 2.5, time, mode).nominal;
    worst = std::max(worst, std::abs(move(*scaled, b, 2.5, time, mode).nominal / (factor * plain) - 1.0) / 1e-12);
  }
  return worst;
}

double elastic_choice(const FilmDescription& film, const FilmLaw& law, const WidthMode& mode) {
  const Law frozen = make_film_law(changed(film, 1e-300, 1.0));
  FilmState there, direct;
  // There and back, slowly and fast: only the stretch counts.
  advance_controlled(*frozen, there, 1.2, 10.0, mode, room, 1e-9);
  advance_controlled(*frozen, there, 1.05, 1e-3, mode, room, 1e-9);
  const double after = advance_controlled(*frozen, there, 1.1, 1.0, mode, room, 1e-9).nominal;
  return std::abs(after / move(law, direct, 1.1, 0.0, mode).nominal - 1.0) / 1e-6;
}

double relaxation_formula(const FilmDescription& film, const FilmLaw& law, const WidthMode& mode) {
  const FilmState start = loaded(law, 2.5, 2.0, mode);
  const double chi = 1.0 + film.viscous_share * (mode.invariant(2.5) - 3.0);
  double worst = 0.0;
  for (const double t : {1e-3, 1.0, 100.0, 1e5, 1e9}) {
    FilmState state = start;
    for (int i = 0; i < 7; ++i) move(law, state, 2.5, t / 7.0, mode);
    for (std::size_t k = 0; k < law.branch_count(); ++k) {
      const BranchParameters& b = film.branches[k];
      double expected = start.strain[k] * std::exp(-t / b["relaxation_time"]);
      if (film.law == "eyring-network") {
        const double gain = b["modulus"] * mode.c / (b["flow_stress"] * chi);
        const double x = b["modulus"] * b["reference_rate"] * t / (b["flow_stress"] * chi);
        // tanh(y/2) = tanh(y0/2) exp(-x), through 1 - tanh(y/2) because y may be large
        const double g = std::exp(-gain * start.strain[k]);
        const double q = -std::expm1(-x) + std::exp(-x) * 2.0 * g / (1.0 + g);
        expected = std::log((2.0 - q) / q) / gain;
      }
      worst = std::max(worst, std::abs(state.strain[k] - expected) / (1e-7 * law.strain_scale(k)));
    }
    if (law.branch_count() == 0)
      worst =
          std::max(worst, std::abs(law.stress(state, mode, room).nominal / equilibrium(law, 2.5, mode) - 1.0) / 1e-14);
  }
  return worst;
}

const std::vector<std::pair<std::string, Identity>> identities = {
    {"zero stretch history gives zero stress and dt = 0 changes nothing", zero_history},
    {"slope is the finite difference of the update", tangent},
    {"one step equals two halves, or their errors are as four to one", two_halves},
    {"stress at rest never rises and ends at the equilibrium curve", hold},
    {"a closed cycle from rest takes work", cycle},
    {"fast limit is instantaneous, slow limit is the equilibrium curve", limits},
    {"all stresses by a factor give force by that factor", scaling},
    {"film that does not flow is elastic", elastic_choice},
    {"the printed relaxation formula is the hold", relaxation_formula},
};

std::string trimmed(const std::string& text) {
  const auto first = text.find_first_not_of(" \t");
  return first == std::string::npos ? "" : text.substr(first, text.find_last_not_of(" \t") - first + 1);
}

/// (identity, film) -> reason
std::map<std::pair<std::string, std::string>, std::string> known_failures() {
  std::map<std::pair<std::string, std::string>, std::string> known;
  std::ifstream in(root + "/tests/consistency/data/law_identities_known.txt");
  REQUIRE(in);
  for (std::string line; std::getline(in, line);) {
    if (line.empty() || line[0] == '#') continue;
    const auto a = line.find('|'), b = line.find('|', a + 1);
    REQUIRE(b != std::string::npos);
    const std::string reason = trimmed(line.substr(b + 1));
    REQUIRE(reason.size() > 10);
    known[{trimmed(line.substr(0, a)), trimmed(line.substr(a + 1, b - a - 1))}] = reason;
  }
  return known;
}

}  // namespace

TEST_CASE("identities of the film laws, every law and every film file", "[film]") {
  auto known = known_failures();
  for (const auto& [name, identity] : identities)
    for (const Film& film : films()) {
      const Law law = make_film_law(film.description);
      double worst = 0.0;
      for (const WidthMode& mode : modes) worst = std::max(worst, identity(film.description, *law, mode));
      INFO(name << " | " << film.name << ": miss over what is allowed " << worst);
      const auto it = known.find({name, film.name});
      if (it == known.end()) {
        CHECK(worst <= 1.0);
      } else {
        // A known failure that no longer fails must leave the list.
        INFO("known: " << it->second);
        CHECK(worst > 1.0);
        known.erase(it);
      }
    }
  // What is left names an identity or a film that does not exist.
  for (const auto& [key, reason] : known) FAIL_CHECK("no such case: " << key.first << " | " << key.second);
}
