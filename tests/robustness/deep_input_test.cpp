// SPDX-License-Identifier: BSD-3-Clause
// Texts that nest without end are refused by every reader before the parser follows them down.
#include "models/error.hpp"
#include "sim/base/raw_node.hpp"
#include "sim/film_lab/datasheet.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/compare_reader.hpp"
#include "sim/sweep/plan.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sweep_cases.hpp"

#include <fstream>

using namespace hoopfield;
using hoopfield::testing::TemporaryFolder;

namespace {

std::string repeated(const std::string& text, std::size_t count) {
  std::string out;
  for (std::size_t i = 0; i < count; ++i) out += text;
  return out;
}

std::vector<std::string> deep_texts() {
  constexpr std::size_t n = 20000;
  return {"[load]\n" + repeated("a.", n) + "b = 1\n",
          "[" + repeated("a.", n) + "b]\n",
          "[[" + repeated("a . ", n) + "b]]\n",
          repeated("\"a\".", n) + "b = 1\n",
          repeated("'.'.", n) + "b = 1\n",
          "x = " + repeated("[", n) + repeated("]", n) + "\n",
          "x = " + repeated("{a=", n) + "1" + repeated("}", n) + "\n",
          "x = { " + repeated("a.", n) + "b = 1 }\n"};
}

}  // namespace

TEST_CASE("texts that nest without end are refused by every reader", "[robustness]") {
  const TemporaryFolder folder;
  const std::string path = (folder / "deep.toml").string();
  for (const std::string& text : deep_texts()) {
    INFO(text.substr(0, 60));
    std::ofstream(path, std::ios::binary) << text;
    CHECK_THROWS_WITH(read_scenario(path),
                      Catch::Matchers::StartsWith(path + ":") && ContainsSubstring("expected at most 32 levels"));
    CHECK_THROWS_AS(read_film(path), InputError);
    CHECK_THROWS_AS(read_sweep(path), InputError);
    CHECK_THROWS_AS(read_side(path), InputError);
    CHECK_THROWS_AS(read_film_sheet(path), InputError);
  }
  CHECK_THROWS_AS(parse_toml_value(repeated("[", 20000), "storage.temperature"), InputError);
}

TEST_CASE("the place of a text that nests too deep is shown", "[robustness]") {
  CHECK_THROWS_WITH(
      parse_toml({"deep.toml", "x = 1\n" + repeated("a.", 33) + "b = 1"}),
      Catch::Matchers::StartsWith("deep.toml:2:64: the key has too many parts; expected at most 32 levels\n"));
  CHECK_THROWS_WITH(
      parse_toml({"deep.toml", "x = 'a.b'\ny = " + repeated("[", 33)}),
      Catch::Matchers::StartsWith("deep.toml:2:37: brackets nest too deep; expected at most 32 levels\n"));
}

TEST_CASE("dots and brackets in texts and remarks nest nothing", "[robustness]") {
  const std::string many = repeated(".[{", 100);
  CHECK_NOTHROW(parse_toml({"a", "# " + many + "\nx = \"" + many + "\\\"" + many + "\"\ny = '" + many + "'\n"}));
  CHECK_NOTHROW(
      parse_toml({"a", "x = \"\"\"\n" + many + "\\\"\"\"" + many + "\"\"\"\"\"\ny = '''\n" + many + "''''\n"}));
  CHECK_NOTHROW(parse_toml({"a", "x = [" + repeated("1.5, ", 1000) + "]\n" + repeated("[[t]]\na.b.c = 1.5\n", 1000)}));
  CHECK_NOTHROW(parse_toml({"a", repeated("a.", 31) + "b = 1"}));
}
