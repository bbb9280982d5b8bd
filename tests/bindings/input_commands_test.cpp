// SPDX-License-Identifier: BSD-3-Clause
// check, explain and new: what they print fits 80 columns, what they write reads back.
#include "bindings/cli/check_command.hpp"
#include "bindings/cli/explain_command.hpp"
#include "bindings/cli/new_command.hpp"
#include "models/error.hpp"
#include "models/parameter.hpp"
#include "models/reading_quantity.hpp"
#include "sim/inputs/film_library.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/words/explain.hpp"
#include "sim/words/text_layout.hpp"
#include "tests/support/catch.hpp"

#include <filesystem>
#include <fstream>
#include <sstream>

#include <unistd.h>

using namespace hoopfield;
using namespace hoopfield::cli;
using namespace hoopfield::words;

namespace {

namespace fs = std::filesystem;

std::size_t widest(const std::string& page) {
  std::istringstream in(page);
  std::size_t width = 0;
  for (std::string line; std::getline(in, line);) width = std::max(width, display_width(line));
  return width;
}

class TemporaryFolder {
 public:
  TemporaryFolder() {
    std::string name = (fs::temp_directory_path() / "hoopfield_new_XXXXXX").string();
    REQUIRE(::mkdtemp(name.data()) != nullptr);
    path_ = name;
  }
  ~TemporaryFolder() {
    std::error_code ignored;
    fs::remove_all(path_, ignored);
  }
  TemporaryFolder(const TemporaryFolder&) = delete;
  TemporaryFolder& operator=(const TemporaryFolder&) = delete;
  [[nodiscard]] std::string in(const std::string& name) const { return (path_ / name).string(); }

 private:
  fs::path path_;
};

const StarterAnswers sizes = {{"load.length", "1.2 m"}, {"load.width", "40 in"}, {"load.height", "1.5 m"}};

}  // namespace

TEST_CASE("every declaration explains itself in 80 columns", "[explain]") {
  for (const ParameterRoom room : {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::output}) {
    for (const Parameter& p : parameters(room)) {
      for (const UnitStyle units : {UnitStyle::metric, UnitStyle::inch_pound}) {
        const std::string page = explain_page(p, units);
        INFO(page);
        CHECK(widest(page) <= 80);
        CHECK(page.starts_with(p.key));
      }
    }
  }
  CHECK(widest(explain_text("", UnitStyle::metric)) <= 80);
  CHECK(explain_text("load", UnitStyle::metric).find("load.tiers") != std::string::npos);
  CHECK(explain_text("prestretch", UnitStyle::metric).starts_with("delivery.prestretch"));
  CHECK(explain_text("delivery.roller_gap", UnitStyle::inch_pound).find("1.969 in (assumed)") != std::string::npos);
}

TEST_CASE("the page of all keys is not stale", "[explain]") {
  std::ifstream in(std::string(HOOPFIELD_SOURCE_DIR) + "/models/parameters/KEYS.md", std::ios::binary);
  REQUIRE(in);
  std::ostringstream page;
  page << in.rdbuf();
  // Else: hoopfield explain --markdown > models/parameters/KEYS.md
  CHECK((page.str() == explain_markdown()));
}

TEST_CASE("the measuring guide is not stale and speaks of every quantity", "[explain]") {
  std::ifstream in(std::string(HOOPFIELD_SOURCE_DIR) + "/models/parameters/MEASURING.md", std::ios::binary);
  REQUIRE(in);
  std::ostringstream page;
  page << in.rdbuf();
  // Else: hoopfield explain --guide > models/parameters/MEASURING.md
  CHECK((page.str() == measuring_guide()));
  for (const ReadingQuantity& q : reading_quantities())
    CHECK_THAT(page.str(), ContainsSubstring("(`" + std::string(q.name) + "`)"));
}

TEST_CASE("a key nobody declared gets the nearest ones", "[explain]") {
  CHECK_THROWS_WITH(explain_text("delivery.prestrech", UnitStyle::metric),
                    ContainsSubstring("\"delivery.prestrech\" is neither an input nor an output; did you mean "
                                      "delivery.prestretch"));
  CHECK_THROWS_AS(explain_text("zzzzzzzzzzzzzzzzzzzzzzzzz", UnitStyle::metric), InputError);
}

TEST_CASE("a word is searched for in keys and sentences", "[explain]") {
  const auto finds = [](const std::string& word, const std::vector<std::string>& keys) {
    const std::string page = explain_text(word, UnitStyle::metric);
    INFO(page);
    CHECK(widest(page) <= 80);
    for (const std::string& key : keys) CHECK(page.find("  " + key) != std::string::npos);
    return page;
  };
  const std::string tension = finds("tension", {"delivery.tension.force", "delivery.tension.dial_table",
                                                "containment.hoop_tension", "film_numbers.kept_24_h"});
  CHECK(tension.find("Keys with \"tension\"") < tension.find("Descriptions with \"tension\""));
  // A mistyped word finds what the word of nearest spelling finds.
  const std::string mistyped = finds("strech", {"film.stretch_on_load", "break.stretch", "delivery.prestretch"});
  CHECK(mistyped.starts_with("Nothing has \"strech\"; this is what \"stretch\" finds."));
  // The last part of a key gives its page, and the other keys that have it.
  const std::string right = finds("stretch", {"film.stretch_on_load", "delivery.prestretch"});
  CHECK(right.find("film file input") != std::string::npos);
  CHECK(right.find("Other keys with \"stretch\"") != std::string::npos);
  // Case and the joint of words do not count; a word only sentences have is found, too.
  finds("Hoop Tension", {"containment.hoop_tension"});
  finds("perimeter", {"load.settling"});
}

TEST_CASE("a list never cuts a description", "[explain]") {
  const auto flat = [](const std::string& page) {
    std::string text;
    for (const char c : page)
      if (c != ' ' && c != '\n') text += c;
    return text;
  };
  const std::string all = flat(explain_text("", UnitStyle::metric));
  for (const ParameterRoom room : {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::measured_file,
                                   ParameterRoom::output, ParameterRoom::film_number})
    for (const Parameter& p : parameters(room)) {
      INFO(p.key);
      CHECK(all.find(flat(std::string(p.sentence))) != std::string::npos);
    }
}

TEST_CASE("a page follows the key it refers to", "[explain]") {
  const std::string page = explain_text("load.stiffness_along_width", UnitStyle::metric);
  CHECK(page.find("For load.stiffness_along_length:") != std::string::npos);
  CHECK(page.find("angle boards") != std::string::npos);
  CHECK(page.find("no published in-plane stiffness") != std::string::npos);
}

TEST_CASE("check shows every input and counts the assumed ones", "[check]") {
  const Scenario s = read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
  for (const UnitStyle units : {UnitStyle::metric, UnitStyle::inch_pound}) {
    const std::string page = check_page(s, units);
    // The first line holds the path as the user wrote it.
    CHECK(widest(page.substr(page.find('\n'))) <= 80);
    std::size_t marked = 0;
    for (const ResolvedValue& value : resolved_values(s)) {
      INFO(value.key);
      CHECK(page.find(" " + value.key + " ") != std::string::npos);
      if (value.source.origin == Origin::assumed) ++marked;
    }
    CHECK(page.find("assumed: " + std::to_string(marked) + " of ") != std::string::npos);
  }
  CHECK(check_page(s, UnitStyle::inch_pound).find("15.74 ") != std::string::npos);
  CHECK(check_page(s, std::nullopt).find("branch[3].flow_stress") != std::string::npos);
}

TEST_CASE("a starter reads back and keeps what was answered", "[new]") {
  const TemporaryFolder folder;
  NewOptions options{folder.in("load"), "general-film", sizes};
  options.answers["load.mass"] = "1500 lb";
  options.answers["scenario.title"] = "say \"hello\" \\ \n";
  for (const UnitStyle units : {UnitStyle::metric, UnitStyle::inch_pound}) {
    CommonOptions common{units, {}, true};
    std::ostringstream out;
    CHECK(write_starter(options, common, out) == exit_done);
    const Scenario s = read_scenario(folder.in("load/scenario.toml"));
    CHECK(s.load.width == Approx(1.016));
    CHECK(s.load.mass == Approx(680.388555));
    CHECK(s.sources.at("load.mass").origin == Origin::given);
    CHECK(s.sources.at("delivery.tension.force").origin == Origin::assumed);
    CHECK(s.sources.at("film.width").origin == Origin::assumed);
    CHECK(s.title == "say \"hello\" \\  ");
    CHECK(s.film_text == library_film("general-film"));
    CHECK(out.str().find("inputs are assumed") != std::string::npos);
    CHECK(s.text.find("# Measure: Tie the film tail to a spring balance") != std::string::npos);
  }
}

TEST_CASE("every library film makes a starter", "[new]") {
  const TemporaryFolder folder;
  for (const std::string& film : library_films()) {
    std::ostringstream out;
    CHECK(write_starter({folder.in(film), film, sizes}, {}, out) == exit_done);
  }
  CHECK_THROWS_WITH(library_film("general-flim"), ContainsSubstring("did you mean general-film?"));
}

TEST_CASE("a large load gets an outlet far enough out", "[new]") {
  const TemporaryFolder folder;
  StarterAnswers answers = sizes;
  answers["load.length"] = "3.5 m";
  std::ostringstream out;
  CHECK(write_starter({folder.in("large"), "general-film", answers}, {}, out) == exit_done);
  CHECK(read_scenario(folder.in("large/scenario.toml")).delivery.distance > 1.75);
}

TEST_CASE("new replaces nothing unasked and leaves nothing behind", "[new]") {
  const TemporaryFolder folder;
  std::ostringstream out;
  const NewOptions options{folder.in("load"), "general-film", sizes};
  CHECK(write_starter(options, {}, out) == exit_done);
  CHECK_THROWS_AS(write_starter(options, {}, out), IoError);
  NewOptions bad{folder.in("bad"), "general-film", sizes};
  bad.answers["load.height"] = "1.5";
  CHECK_THROWS_WITH(write_starter(bad, {}, out), ContainsSubstring("--height: \"1.5\" has no unit"));
  bad.answers["load.height"] = "1.5 m";
  bad.answers["pattern.pitch"] = "0.2 m";
  bad.answers["pattern.overlap"] = "40 %";
  CHECK_THROWS_WITH(write_starter(bad, {}, out), "--overlap: cannot be combined with --pitch; expected one of the two");
  CHECK_FALSE(fs::exists(folder.in("bad")));
  std::ofstream(folder.in("file")) << "in the way";
  CHECK_THROWS_AS(write_starter({folder.in("file"), "general-film", sizes}, {}, out), IoError);
  CHECK_THROWS_AS(write_starter({folder.in("none"), folder.in("none.toml"), sizes}, {}, out), IoError);
}

TEST_CASE("questions are asked again until the answer can be used", "[new]") {
  const StarterFilm film = starter_film("general-film");
  std::istringstream in("My load\n1.2\n1.2 m\n1 m\n1.5 m\n\n6\nboxed\ncased\n\n\n\n\n\n\n190 mm\n\n\n\n");
  std::ostringstream out;
  const StarterAnswers answers = ask_questions(in, out, film, UnitStyle::metric);
  const StarterAnswers wanted = {{"scenario.title", "My load"}, {"load.length", "1.2 m"}, {"load.width", "1 m"},
                                 {"load.height", "1.5 m"},      {"load.tiers", "6"},      {"load.kind", "cased"},
                                 {"pattern.pitch", "190 mm"}};
  CHECK(answers == wanted);
  CHECK(out.str().find("--length: \"1.2\" has no unit") != std::string::npos);
  std::istringstream ended("My load\n");
  CHECK_THROWS_AS(ask_questions(ended, out, film, UnitStyle::metric), InputError);
}
