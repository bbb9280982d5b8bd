// SPDX-License-Identifier: BSD-3-Clause
// Every compare_inputs/bad_NAME.toml must be refused with exactly the message of bad_NAME.expected; the good ones are
// accepted. Paths are shown as given.
#include "models/error.hpp"
#include "sim/io/text/compare_reader.hpp"
#include "sim/io/text/readings_reader.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <random>

namespace fs = std::filesystem;
using namespace hoopfield;

namespace {

const fs::path folder = fs::path(HOOPFIELD_SOURCE_DIR) / "tests/robustness/compare_inputs";

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The message without the folder the test runs from.
std::string refusal(const fs::path& path) {
  try {
    (void)read_side(path.string());
  } catch (const InputError& error) {
    std::string message = error.what();
    const std::string prefix = folder.string() + "/";
    for (auto at = message.find(prefix); at != std::string::npos; at = message.find(prefix))
      message.erase(at, prefix.size());
    return message + "\n";
  }
  return "accepted\n";
}

}  // namespace

TEST_CASE("every bad measured side is refused with its exact message", "[robustness][compare]") {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(folder))
    if (entry.path().extension() == ".toml" && entry.path().filename().string().starts_with("bad_"))
      paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  REQUIRE(paths.size() >= 40);
  for (fs::path path : paths) {
    const std::string got = refusal(path);
    path.replace_extension(".expected");
    if (std::getenv("HOOPFIELD_WRITE_EXPECTED") != nullptr) std::ofstream(path, std::ios::binary) << got;
    INFO(path.filename().string());
    CHECK(got != "accepted\n");
    CHECK(got == slurp(path));
  }
}

TEST_CASE("readings as spreadsheets write them are accepted", "[robustness][compare]") {
  CHECK(refusal(folder / "good.toml") == "accepted\n");
  const CompareSide side = read_side((folder / "good_odd.toml").string());
  const auto& measured = std::get<MeasuredSide>(side.content);
  REQUIRE(measured.end.size() == 2);
  CHECK(measured.end[0].load_id == "A, \"first\"");
  CHECK(measured.end[0].height == 0.75);
  CHECK(measured.end[0].line == 2);
  CHECK(measured.end[1].quantity == "turns");
}

TEST_CASE("readings mutated at random are read or refused, never worse", "[robustness][compare]") {
  std::string good = slurp(folder / "good.csv");
  good.erase(good.find('\n', 400) + 1);
  REQUIRE_FALSE(read_readings_text({"good.csv", good}).empty());
  std::mt19937 random(7);
  std::size_t refused = 0;
  for (int round = 0; round < 3000; ++round) {
    std::string text = good;
    for (int change = 0; change < 3; ++change) {
      const std::size_t at = random() % text.size();
      if (random() % 2 == 0)
        text[at] = static_cast<char>(random() % 256);
      else
        text.erase(at, 1 + random() % 5);
    }
    try {
      for (const Reading& r : read_readings_text({"mutated.csv", text})) CHECK(r.value >= 0.0);
    } catch (const InputError& error) {
      ++refused;
      CHECK(std::string(error.what()).starts_with("mutated.csv:"));
    }
  }
  CHECK(refused > 1000);
  CHECK(refused < 3000);
}
