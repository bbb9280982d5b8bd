// SPDX-License-Identifier: BSD-3-Clause
// What every film law in the registry must keep, whatever it is.
#include "models/film/law_registry.hpp"
#include "models/error.hpp"
#include "models/film/film_law.hpp"
#include "models/units.hpp"
#include "sim/film_path/film_path_cache.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/io/text/film_writer.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <cmath>
#include <random>

using namespace hoopfield;
using test::room;

namespace {

/// Laws with branches, each with the numbers of a plausible film.
std::vector<FilmDescription> films_of_all_laws() {
  std::vector<FilmDescription> films;
  for (const FilmLawKind* law : film_laws()) {
    if (law->branch_parameters().empty()) continue;
    FilmDescription film = test::general_film();
    film.law = law->name;
    film.name = "film of law " + std::string(law->name);
    film.provenance.source = "illustrative";
    for (std::size_t k = 0; k < film.branches.size(); ++k) {
      film.branches[k]["relaxation_time"] = std::pow(10.0, 3.0 * static_cast<double>(k));
      film.branches[k]["rate_exponent"] = 3.0 + 4.0 * static_cast<double>(k);
    }
    if (law->name == "power-network")
      for (BranchParameters& branch : film.branches) branch["flow_stress"] *= 10.0, branch["reference_rate"] = 1e-2;
    films.push_back(film);
  }
  return films;
}

}  // namespace

TEST_CASE("film laws: a key that several laws declare is one declaration, and a film file knows it", "[film]") {
  for (const FilmLawKind* law : film_laws())
    for (const Parameter* p : law->parameters) {
      INFO(law->name << " " << p->key);
      const Parameter* known = find_parameter(ParameterRoom::film_file, p->key);
      REQUIRE(known != nullptr);
      CHECK(known->sentence == p->sentence);
      CHECK(known->unit == p->unit);
      CHECK(known->default_text == p->default_text);
      for (const FilmLawKind* other : film_laws())
        for (const Parameter* q : other->parameters)
          if (q->key == p->key) CHECK(q == p);
    }
  const Parameter* law = find_parameter(ParameterRoom::film_file, "law");
  REQUIRE(law != nullptr);
  CHECK(choice_list(*law).size() == film_laws().size());
}

TEST_CASE("film laws: what is written reads back, declared number by declared number", "[film]") {
  for (const FilmDescription& film : films_of_all_laws()) {
    const FilmDescription back = read_film_text({"film.toml", film_text(film)});
    CHECK(back.law == film.law);
    REQUIRE(back.branches.size() == film.branches.size());
    for (const Parameter* p : film_law_kind(film.law).branch_parameters())
      for (std::size_t k = 0; k < film.branches.size(); ++k) {
        INFO(film.law << " branch " << k << " " << p->key);
        CHECK(back.branches[k][branch_key(*p)] == Approx(film.branches[k][branch_key(*p)]).epsilon(1e-6));
      }
  }
}

TEST_CASE("film laws: a number outside its bounds, or of another law, is refused by name", "[film]") {
  for (const FilmDescription& good : films_of_all_laws()) {
    for (const Parameter* p : film_law_kind(good.law).branch_parameters()) {
      FilmDescription bad = good;
      bad.branches[1][branch_key(*p)] = -1.0;
      INFO(good.law << " " << p->key);
      CHECK_THROWS_WITH(make_film_law(bad), ContainsSubstring(std::string(p->key)));
    }
    for (const Parameter* p : film_law_parameters()) {
      if (!p->key.starts_with("branch.") || film_law_kind(good.law).uses(p->key)) continue;
      std::string text = film_text(good);
      text.insert(text.find("[[branch]]\n") + 11, std::string(branch_key(*p)) + " = 1\n");
      INFO(text);
      CHECK_THROWS_WITH(read_film_text({"film.toml", text}), ContainsSubstring("is not used by law"));
    }
  }
}

TEST_CASE("film laws: the film path cache tells films apart by every number their law declares", "[film]") {
  for (const FilmDescription& film : films_of_all_laws()) {
    FilmPathCache cache;
    FilmPathInput in;
    in.roll_width = 0.5;
    in.roll_thickness = 23e-6;
    in.density = 920.0;
    in.draw_ratio = 1.0;  // undrawn: the cheapest path there is
    in.span_force = 10.0;
    in.take_up_speed = 1.0;
    const auto solve = [&](const FilmDescription& f) {
      const auto law = make_film_law(f);
      in.law = law.get();
      (void)cache.solve(in, f);
    };
    solve(film);
    solve(film);
    CHECK(cache.hits() == 1);
    for (const Parameter* p : film_law_kind(film.law).branch_parameters()) {
      FilmDescription other = film;
      other.branches[2][branch_key(*p)] *= 1.0 + 1e-15;
      other.branches[2][branch_key(*p)] = std::nextafter(other.branches[2][branch_key(*p)], 1e300);
      INFO(film.law << " " << p->key);
      solve(other);
      CHECK(cache.hits() == 1);
    }
  }
}

TEST_CASE("film laws: a block steps as its elements do, and the slope is that of the stress", "[film]") {
  std::mt19937 random(5);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  for (const FilmDescription& film : films_of_all_laws()) {
    const auto law = make_film_law(film);
    const WidthMode mode = WidthMode::free(1.05);
    for (const double dt : {0.0, 1e-2, 10.0, 1e6}) {
      const std::size_t n = 11;
      FilmBlock begin, end;
      BlockStress stress;
      begin.allocate(n, law->branch_count());
      end.allocate(n, law->branch_count());
      stress.allocate(n, law->branch_count());
      begin.size = n;
      std::vector<double> to(n);
      for (std::size_t i = 0; i < n; ++i) {
        FilmState state;
        state.stretch = 2.0 + uniform(random);
        for (std::size_t k = 0; k < law->branch_count(); ++k)
          state.strain[k] = law->strain_scale(k) * (4.0 * uniform(random) - 1.0);
        begin.put_state(i, state, law->branch_count());
        to[i] = state.stretch * std::exp(0.01 * (uniform(random) - 0.5));
      }
      law->step_block(begin, end, to.data(), dt, mode, room, room, stress);
      for (std::size_t i = 0; i < n; ++i) {
        FilmState state = begin.state_of(i, law->branch_count());
        const FilmStress scalar = law->step(state, to[i], dt, mode, room, room);
        INFO(film.law << " dt " << dt << " element " << i);
        CHECK(stress.nominal[i] == Approx(scalar.nominal).epsilon(1e-11).margin(1e-4));
        const auto moved = [&](double by) {
          FilmState s = begin.state_of(i, law->branch_count());
          return law->step(s, to[i] * std::exp(by), dt, mode, room, room).nominal;
        };
        // As the slope of a step whose flow stress moves, it steers Newton's iterations only.
        CHECK(stress.slope[i] == Approx((moved(1e-6) - moved(-1e-6)) / 2e-6).epsilon(0.05).margin(2e4));
      }
    }
  }
}

TEST_CASE("film laws: paths cut into steps converge at the order stated", "[film]") {
  for (const FilmDescription& film : films_of_all_laws()) {
    const auto law = make_film_law(film);
    const auto run = [&](int steps) {
      FilmState s;
      s.stretch = 2.0;
      for (std::size_t k = 0; k < law->branch_count(); ++k) s.strain[k] = 0.8 * law->strain_scale(k);
      FilmStress end;
      for (int i = 1; i <= steps; ++i)
        end = law->step(s, 2.0 * std::exp(0.05 * i / steps), 2.0 / steps, WidthMode::free(), room, room);
      return end.nominal;
    };
    const double fine = run(2048), e8 = std::abs(run(8) - fine), e16 = std::abs(run(16) - fine);
    INFO(film.law << " " << e8 << " " << e16);
    CHECK((e8 < 1e-9 * fine || std::log2(e8 / e16) > law->step_order() - 0.2));
  }
}

TEST_CASE("film laws: stress stays as near to its tangent as the law states", "[film]") {
  std::mt19937 random(8);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  const WidthMode mode = WidthMode::free();
  for (FilmDescription film : films_of_all_laws()) {
    film.viscous_share = 0.0;
    film.network.modulus = 1e-3;  // the branches alone
    const auto law = make_film_law(film);
    for (int i = 0; i < 3000; ++i) {
      const double dt = std::pow(10.0, 9.0 * uniform(random) - 3.0);
      FilmState start;
      for (std::size_t k = 0; k < law->branch_count(); ++k)
        start.strain[k] = law->strain_scale(k) * 5.0 * uniform(random);
      const double at = 2e-3 * (uniform(random) - 0.5), move = at * 0.5 * uniform(random);  // not across rest
      const auto stress = [&](double log_stretch, double& slope) {
        FilmState s = start;
        const double l = std::exp(log_stretch);
        const FilmStress end = law->step(s, l, dt, mode, room, room);
        slope = end.slope * l + end.nominal * l;  // of the true stress
        return end.nominal * l;
      };
      double slope = 0.0, ignored = 0.0;
      const double here = stress(at, slope), there = stress(at + move, ignored);
      INFO(film.law << " dt " << dt << " from " << at << " by " << move);
      CHECK(std::abs(there - here - slope * move) <=
            law->curvature_bound(dt) * move * move + 0.01 * std::abs(slope * move) + 1.0);
    }
  }
}

TEST_CASE("film laws: with less than the least activation energy a branch flows more slowly when warm", "[film]") {
  for (FilmDescription film : films_of_all_laws()) {
    const FilmLawKind& kind = film_law_kind(film.law);
    if (kind.least_activation == nullptr) continue;
    if (film.law == "eyring-network") film.thermal.modulus_softening = 0.0;  // which the rule of that law leaves out
    for (std::size_t k = 0; k < film.branches.size(); ++k) {
      BranchParameters& branch = film.branches[k];
      const double least = kind.least_activation(film, k);
      // Eyring's rule is for flow at 100 1/s; a power of stress has the same for every rate.
      const double y = film.law == "eyring-network" ? std::asinh(100.0 / branch["reference_rate"]) : 0.7;
      const auto growth = [&](double activation) {
        branch["activation_energy"] = activation;
        const auto law = make_film_law(film);
        FilmState state;
        state.strain[k] = y * law->strain_scale(k);
        const FilmRates cold = law->rates(state, WidthMode::free(), room);
        const FilmRates warm = law->rates(state, WidthMode::free(), room + 0.1);
        return std::log(warm.flow[k] / cold.flow[k]) + warm.log_scale - cold.log_scale;
      };
      INFO(film.law << " branch " << k << ", least " << least);
      CHECK(growth(0.97 * least) < 0.0);
      CHECK(growth(1.03 * least) > 0.0);
    }
  }
}
