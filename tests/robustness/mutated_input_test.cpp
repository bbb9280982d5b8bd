// SPDX-License-Identifier: BSD-3-Clause
// Texts made from valid files by random damage either read to values that keep every promise, or are refused by an
// InputError; nothing else may come out. Seeded, so a failure repeats.
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "tests/support/catch.hpp"

#include <array>
#include <cmath>
#include <fstream>
#include <random>
#include <sstream>

using namespace hoopfield;

namespace {

const std::string root = HOOPFIELD_SOURCE_DIR;

std::string slurp(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

class Damage {
 public:
  explicit Damage(unsigned seed) : random_(seed) {}

  std::string operator()(std::string text) {
    for (std::size_t n = 1 + pick(3); n > 0 && !text.empty(); --n) once(text);
    return text;
  }

 private:
  std::size_t pick(std::size_t below) { return std::uniform_int_distribution<std::size_t>(0, below - 1)(random_); }

  void once(std::string& text) {
    static const std::array<std::string, 24> tokens = {"\"",
                                                       "=",
                                                       "[",
                                                       "]",
                                                       "{",
                                                       "}",
                                                       "\n",
                                                       "-",
                                                       "nan",
                                                       "inf",
                                                       "1e999",
                                                       "0",
                                                       " N",
                                                       " mm",
                                                       "%",
                                                       "[film]\n",
                                                       "[[branch]]\n",
                                                       "value = 1\n",
                                                       "\xff",
                                                       std::string(1, '\0'),
                                                       "\xc2\xb5",
                                                       "9223372036854775807",
                                                       "true",
                                                       "2024-01-01"};
    const std::size_t at = pick(text.size()), length = std::min<std::size_t>(1 + pick(12), text.size() - at);
    switch (pick(5)) {
      case 0: text[at] = static_cast<char>(pick(256)); break;
      case 1: text.erase(at, length); break;
      case 2: text.insert(at, tokens[pick(tokens.size())]); break;
      case 3: text.insert(pick(text.size()), text.substr(at, length)); break;
      default: text.replace(at, length, tokens[pick(tokens.size())]); break;
    }
  }

  std::mt19937 random_;
};

void check_promises(const Scenario& s) {
  for (const ResolvedValue& value : resolved_values(s)) {
    if (!value.number) continue;
    INFO(value.key);
    const bool may_be_infinite = value.key.starts_with("load.stiffness_along");
    CHECK((std::isfinite(*value.number) || (may_be_infinite && s.load.kind == LoadKind::rigid)));
    if (value.unit == value.parameter->unit) CHECK(within_bounds(*value.parameter, *value.number));
  }
  Scenario again = s;
  CHECK_NOTHROW(resolve_scenario(again));
}

}  // namespace

TEST_CASE("damaged scenarios are read or refused, never worse", "[robustness]") {
  const std::string good = slurp(root + "/examples/01_first_prediction/scenario.toml");
  Damage damage(7);
  std::size_t read = 0, refused = 0;
  for (int i = 0; i < 4000; ++i) {
    const std::string text = damage(good);
    try {
      check_promises(read_scenario_text(text, "damaged.toml", root + "/examples/01_first_prediction"));
      ++read;
    } catch (const InputError& error) {
      CHECK(std::string(error.what()).starts_with("damaged.toml:"));
      ++refused;
    }
  }
  // Both outcomes must be common, or the damage tests nothing.
  CHECK(read > 50);
  CHECK(refused > 1000);
}

TEST_CASE("damaged film files are read or refused, never worse", "[robustness]") {
  const std::string good = slurp(root + "/models/parameters/films/general-film.toml");
  Damage damage(8);
  std::size_t read = 0, refused = 0;
  for (int i = 0; i < 4000; ++i) {
    const std::string text = damage(good);
    try {
      const FilmDescription film = read_film_text({"damaged.toml", text});
      CHECK(film.branches.size() <= 8);
      for (const BranchParameters& branch : film.branches)
        CHECK((branch["modulus"] > 0.0 && std::isfinite(branch["modulus"])));
      ++read;
    } catch (const InputError& error) {
      CHECK(std::string(error.what()).starts_with("damaged.toml:"));
      ++refused;
    }
  }
  CHECK(read > 50);
  CHECK(refused > 1000);
}

TEST_CASE("any text set by a program is taken or refused, never worse", "[robustness]") {
  const Scenario good = read_scenario(root + "/examples/01_first_prediction/scenario.toml");
  const std::array<std::string, 20> texts = {"",       " ",
                                             "0",      "-1",
                                             "nan",    "1e999",
                                             "12 rpm", "70 N",
                                             "5 %",    "3 m",
                                             "true",   "stuck",
                                             "[",      "[[\"0 h\", \"20 degC\"]]",
                                             "[[]]",   "\"",
                                             "1\n2",   std::string(1, '\0'),
                                             "\xff",   "1e-300 m"};
  for (const Parameter& p : parameters(ParameterRoom::scenario)) {
    for (const std::string& text : texts) {
      INFO(p.key << " <- " << text);
      Scenario s = good;
      try {
        set_value(s, p.key, text);
        check_promises(s);
      } catch (const InputError& error) {
        CHECK_FALSE(std::string(error.what()).empty());
      }
      for (const double number : {0.0, -1.0, 1.0, 1e300, std::nan(""), HUGE_VAL}) {
        Scenario t = good;
        try {
          set_number(t, p.key, number);
          check_promises(t);
        } catch (const InputError& error) {
          CHECK_FALSE(std::string(error.what()).empty());
        }
      }
    }
  }
}
