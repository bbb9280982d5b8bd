// SPDX-License-Identifier: BSD-3-Clause
// Every file inputs/NAME.toml must be refused with exactly the message of inputs/NAME.expected, whose first line is the
// class of the error. Files film_file_*.toml are film files, all others scenarios. A line of an expected message may
// hold <parser> once: it stands for wording that belongs to the TOML library.
#include "models/error.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iostream>
#include <sstream>

namespace {

namespace fs = std::filesystem;
const fs::path folder = fs::path(HOOPFIELD_SOURCE_DIR) / "tests/robustness/inputs";

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream out;
  out << in.rdbuf();
  return out.str();
}

std::string read_and_catch(const fs::path& path) {
  const std::string name = path.filename().string();
  try {
    if (name.starts_with("film_file_")) {
      (void)hoopfield::read_film_text({name, slurp(path)});
    } else {
      (void)hoopfield::read_scenario_text(slurp(path), name, path.parent_path().string());
    }
  } catch (const hoopfield::OutOfRange& error) {
    return std::string("OutOfRange\n") + error.what() + "\n";
  } catch (const hoopfield::InputError& error) {
    return std::string("InputError\n") + error.what() + "\n";
  } catch (const hoopfield::IoError& error) {
    return std::string("IoError\n") + error.what() + "\n";
  }
  return "accepted\n";
}

bool matches(const std::string& expected, const std::string& got) {
  static const std::string wild = "<parser>";
  const auto at = expected.find(wild);
  if (at == std::string::npos) return expected == got;
  const std::string tail = expected.substr(at + wild.size());
  return got.size() >= at + tail.size() && got.starts_with(expected.substr(0, at)) && got.ends_with(tail);
}

std::vector<fs::path> cases() {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(folder)) {
    if (entry.path().extension() == ".toml") paths.push_back(entry.path());
  }
  std::sort(paths.begin(), paths.end());
  return paths;
}

}  // namespace

TEST_CASE("every bad input is refused with its exact message", "[robustness]") {
  const auto paths = cases();
  REQUIRE(paths.size() >= 100);
  for (const fs::path& path : paths) {
    fs::path expected = path;
    expected.replace_extension(".expected");
    const std::string got = read_and_catch(path);
    INFO("case " << path.filename().string() << "\ngot: " << got << "\nexpected: " << slurp(expected));
    CHECK(got != "accepted\n");
    CHECK(matches(slurp(expected), got));
  }
}

TEST_CASE("places of an error are in its members too", "[robustness]") {
  try {
    (void)hoopfield::read_scenario_text(slurp(folder / "negative_force.toml"), "a.toml", folder.string());
    FAIL("accepted");
  } catch (const hoopfield::OutOfRange& error) {
    CHECK(error.file == "a.toml");
    CHECK(error.line == 10);
    CHECK(error.column == 9);
    CHECK(error.key == "delivery.tension.force");
  }
}

TEST_CASE("files that are no text, too large or not there", "[robustness]") {
  const fs::path dir = fs::temp_directory_path() / ("hoopfield_bad_input_" + std::to_string(std::rand()));
  fs::create_directories(dir);
  const auto write = [&](const char* name, const std::string& text) {
    std::ofstream(dir / name, std::ios::binary) << text;
    return (dir / name).string();
  };
  using hoopfield::read_scenario;
  const std::string binary = write("binary.toml", std::string("\x7f"
                                                              "ELF\x02\x01\0\0",
                                                              8));
  CHECK_THROWS_WITH(read_scenario(binary),
                    binary + ":1:7: holds a NUL byte, so it is not a text file; expected a TOML text in UTF-8");
  const std::string large = write("large.toml", std::string(10u << 20u, '#'));
  CHECK_THROWS_WITH(read_scenario(large), large + ": is larger than 1 MB; expected a text file of a few kilobytes");
  const std::string none = (dir / "none.toml").string();
  CHECK_THROWS_AS(read_scenario(none), hoopfield::IoError);
  CHECK_THROWS_WITH(read_scenario(none), none + ": cannot be opened: No such file or directory");
  CHECK_THROWS_WITH(read_scenario(dir.string()), dir.string() + ": is a directory, not a file");
  fs::create_symlink("loop.toml", dir / "loop.toml");
  CHECK_THROWS_AS(read_scenario((dir / "loop.toml").string()), hoopfield::IoError);
  const std::string crlf_text = [&] {
    std::string text = slurp(folder / "negative_force.toml"), out;
    for (const char c : text) out += c == '\n' ? std::string("\r\n") : std::string(1, c);
    return out;
  }();
  CHECK_THROWS_WITH(hoopfield::read_scenario_text(crlf_text, "crlf.toml", folder.string()),
                    ContainsSubstring("crlf.toml:10:9: "));
  fs::remove_all(dir);
}
