// SPDX-License-Identifier: BSD-3-Clause
// What is written in an input reaches a terminal as text, a spreadsheet as a word, and no message at all when it is
// none of the reader's business.
#include "sim/base/shown_text.hpp"
#include "models/error.hpp"
#include "sim/base/number_text.hpp"
#include "sim/base/raw_node.hpp"
#include "sim/film_lab/datasheet.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/reader_support.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/sweep/plan.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sweep_cases.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>

using namespace hoopfield;

TEST_CASE("what a terminal would obey is shown as an escape", "[robustness]") {
  CHECK(shown_text("a\x1b[31mb\n\tc\x7f\r") == "a\\x1B[31mb\n\tc\\x7F\\x0D");
  CHECK(shown_text("\xC2\x9B"
                   "31m \xE2\x80\xAE \xE2\x81\xA6") == "\\u009B31m \\u202E \\u2066");
  CHECK(shown_text("\xC3\xA9 \xE2\x80\x93 \xC2\xB0") == "\xC3\xA9 \xE2\x80\x93 \xC2\xB0");
  CHECK(shown_word("a\nb") == "a\\nb");
  CHECK(shown_word(std::string(1000, 'x')) == std::string(100, 'x') + "...");
}

TEST_CASE("no message holds an escape of its input", "[robustness]") {
  const RawNode root = parse_toml({"a.toml", "\"k\\u001b[31m\" = 1\n"});
  try {
    check_known_keys({"a\x1b.toml", "\"k\\u001b[31m\" = 1\n"}, root, ParameterRoom::scenario);
    FAIL("accepted");
  } catch (const InputError& error) {
    const std::string message = error.what();
    CHECK(message.find('\x1b') == std::string::npos);
    CHECK(message.starts_with("a\\x1B.toml:1:1: k\\x1B[31m: "));
  }
}

TEST_CASE("cells that a spreadsheet would compute are words", "[robustness]") {
  CHECK(csv_cell("=1+1") == "'=1+1");
  CHECK(csv_cell("@sum(A1)") == "'@sum(A1)");
  CHECK(csv_cell("-2+3,\"x\"") == "\"'-2+3,\"\"x\"\"\"");
  CHECK(csv_cell("+cmd") == "'+cmd");
  for (const char* plain : {"-2.5", "-1e-3", "", "film", "a=b"}) CHECK(csv_cell(plain) == plain);
}

TEST_CASE("a film file that is none is not quoted", "[robustness]") {
  for (const char* text :
       {"root:x:0:0:root:/root:/bin/bash\nsecret:x:1\n", "SECRET words\nand more\n", "#!/bin/sh\nexport secret=1;\n"}) {
    try {
      (void)read_film_text({"passwd", text});
      FAIL("accepted");
    } catch (const InputError& error) {
      CHECK_THAT(error.what(), Catch::Matchers::StartsWith("passwd:1:1: is not a film file"));
      CHECK(std::string(error.what()).find("ecret") == std::string::npos);
      CHECK(std::string(error.what()).find("root") == std::string::npos);
    }
  }
}

TEST_CASE("a scenario, a sweep and a data sheet that are none are not quoted", "[robustness]") {
  const std::string text = "root:x:0:0:root:/root:/bin/bash\nsecret:x:1\n";
  const auto message = [](const auto& read) {
    try {
      read();
    } catch (const InputError& error) {
      return std::string(error.what());
    }
    return std::string("accepted");
  };
  const std::filesystem::path file = std::filesystem::temp_directory_path() / "hoopfield_not_a_sweep";
  std::ofstream(file) << text;
  for (const std::string& got : {message([&] { (void)read_scenario_text(text, "passwd", "."); }), message([&] {
                                   (void)read_film_sheet_text({"passwd", text});
                                 }),
                                 message([&] { (void)read_sweep(file.string()); })}) {
    CHECK_THAT(got, ContainsSubstring(":1:1: is not a "));
    CHECK(got.find("secret") == std::string::npos);
    CHECK(got.find("root") == std::string::npos);
  }
  std::filesystem::remove(file);
}

TEST_CASE("what only the film path finds wrong has its line", "[robustness]") {
  const std::string folder = std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction";
  std::ifstream in(folder + "/scenario.toml");
  const std::string text{std::istreambuf_iterator<char>(in), {}}, gap = "roller_gap = \"50 mm\"";
  const auto with = [&](const std::string& line) {
    std::string changed = text;
    return read_scenario_text(changed.replace(changed.find(gap), gap.size(), line), "s.toml", folder);
  };
  CHECK_THROWS_WITH(predict(with("roller_gap = \"0 mm\"")),
                    Catch::Matchers::StartsWith("s.toml:12:14: delivery.roller_gap: 0 mm leaves no length"));
  CHECK_THROWS_WITH(predict(with(gap + "\nwidth_on_load = \"1 mm\"")),
                    Catch::Matchers::StartsWith("s.toml:13:17: delivery.width_on_load: 1 mm fits no width exponent"));
}
