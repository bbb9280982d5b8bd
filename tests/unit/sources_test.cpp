// SPDX-License-Identifier: BSD-3-Clause
// Every source that a declaration or a comment of the program names stands in validation/SOURCES.md, with what was
// read.
#include "models/parameter.hpp"
#include "sim/outputs/economics.hpp"
#include "tests/support/catch.hpp"

#include <filesystem>
#include <fstream>
#include <iterator>
#include <regex>
#include <set>
#include <sstream>

using namespace hoopfield;

namespace {

namespace fs = std::filesystem;

std::string text_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

fs::path root() { return HOOPFIELD_SOURCE_DIR; }

/// Comments and literals that go on in the next line, joined.
std::string joined(const std::string& source) {
  return std::regex_replace(source, std::regex("(\"\\s*\\n\\s*\")|(\\n\\s*//+\\s?)"), " ");
}

struct Citation {
  std::string name, year;
  bool operator<(const Citation& other) const { return std::tie(name, year) < std::tie(other.name, other.year); }
};

/// "Haward 1993", "Joe and Kuo, ... (2008)" is written "Kuo 2008" or found by its last name before the year.
std::set<Citation> citations(const std::string& text) {
  std::set<Citation> found;
  static const std::regex cited("\\b([A-Z][a-z]+),? \\(?((?:18|19|20)[0-9]{2})\\b(?!-)");
  for (auto it = std::sregex_iterator(text.begin(), text.end(), cited); it != std::sregex_iterator(); ++it)
    found.insert({(*it)[1], (*it)[2]});
  return found;
}

/// Lines of the table and of the lists in SOURCES.md, a list entry as one line.
std::vector<std::string> entries() {
  std::string text = text_of(root() / "validation" / "SOURCES.md");
  REQUIRE_FALSE(text.empty());
  text = std::regex_replace(text, std::regex("\\n  "), " ");
  std::vector<std::string> lines;
  std::istringstream in(text);
  for (std::string line; std::getline(in, line);) lines.push_back(line);
  return lines;
}

bool states_what_was_read(const std::string& line) {
  for (const char* words : {"read", "abstract", "from memory", "in full"})
    if (line.find(words) != std::string::npos) return true;
  return false;
}

void check_listed(const std::string& name, const std::string& year) {
  INFO(name << " " << year);
  bool listed = false;
  for (const std::string& line : entries())
    listed |=
        line.find(name) != std::string::npos && line.find(year) != std::string::npos && states_what_was_read(line);
  CHECK(listed);
}

std::string all_declarations() {
  std::string text;
  for (const ParameterRoom room : {ParameterRoom::scenario, ParameterRoom::film_file, ParameterRoom::measured_file,
                                   ParameterRoom::output, ParameterRoom::film_number})
    for (const Parameter& p : parameters(room))
      text += std::string(p.sentence) + "\n" + std::string(p.measure.text) + "\n" + std::string(p.reference) + "\n";
  return text;
}

}  // namespace

TEST_CASE("each source cited in a declaration stands in SOURCES.md with what was read of it", "[sources]") {
  const std::set<Citation> found = citations(all_declarations());
  CHECK(found.size() >= 3);
  for (const Citation& c : found) check_listed(c.name, c.year);
  // Documents that go by a name instead of an author and a year.
  for (const char* name : {"CTU Code", "EPA WARM"}) {
    CHECK(all_declarations().find(name) != std::string::npos);
    check_listed(name, "");
  }
}

TEST_CASE("each source cited in the sources of the program stands in SOURCES.md", "[sources]") {
  std::set<Citation> found;
  for (const char* folder : {"models", "sim", "bindings/cli"})
    for (const auto& entry : fs::recursive_directory_iterator(root() / folder)) {
      const std::string kind = entry.path().extension().string();
      if (kind == ".cpp" || kind == ".hpp") found.merge(citations(joined(text_of(entry.path()))));
    }
  CHECK(found.size() >= 8);
  for (const Citation& c : found) check_listed(c.name, c.year);
}

TEST_CASE("a number of a declaration without a source says that it is an own assumption", "[sources]") {
  // Defaults and ranges are numbers that somebody chose: the reference says who.
  for (const Parameter& p : parameters(ParameterRoom::scenario)) {
    const bool chosen = p.kind == ParameterKind::number && !p.default_text.empty() &&
                        std::string(p.default_text).find_first_of("123456789") != std::string::npos;
    if (!chosen && p.range_low.empty()) continue;
    const std::string said = reference_text(p);
    INFO(p.key << ": " << said);
    bool names = false;
    for (const char* words : {"wn assumption", "no source", "Definition", "CTU Code", "computation"})
      names |= said.find(words) != std::string::npos;
    CHECK(names);
  }
  const auto declared = [](std::string_view key) { return *find_parameter(ParameterRoom::scenario, key); };
  for (const char* key : {"stations.plate_diameter", "stations.pull_distance", "stations.pull_rate"})
    CHECK(declared(key).reference.find("wn assumption, no source") != std::string_view::npos);
  CHECK(declared("stations.pull_rate").measure.text.find("one second (own assumption, no source)") !=
        std::string_view::npos);
  CHECK(declared("load.stiffness_along_length").measure.text.find("three to five times (own assumption, no source)") !=
        std::string_view::npos);
  // One range of the density of polyethylene film, wherever it is told.
  const Parameter& density = *find_parameter(ParameterRoom::film_file, "density");
  CHECK(density.reference.find("910 to 940 kg/m^3") != std::string_view::npos);
  CHECK(reference_text(*find_parameter(ParameterRoom::measured_file, "film.density")).find(density.reference) !=
        std::string::npos);
}
