// SPDX-License-Identifier: BSD-3-Clause
// Every sweep_inputs/bad_NAME.toml must be refused with exactly the message of bad_NAME.expected. Paths are shown as
// given.
#include "models/error.hpp"
#include "sim/sweep/plan.hpp"
#include "tests/support/catch.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace fs = std::filesystem;

namespace {

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The message without the folder the test runs from.
std::string refusal(const fs::path& path) {
  try {
    (void)hoopfield::read_sweep(path.string());
  } catch (const hoopfield::InputError& error) {
    std::string message = error.what();
    const std::string folder = path.parent_path().string() + "/";
    for (auto at = message.find(folder); at != std::string::npos; at = message.find(folder))
      message.erase(at, folder.size());
    return message + "\n";
  }
  return "accepted\n";
}

}  // namespace

TEST_CASE("every bad sweep file is refused with its exact message", "[robustness][sweep]") {
  std::vector<fs::path> paths;
  for (const auto& entry : fs::directory_iterator(fs::path(HOOPFIELD_SOURCE_DIR) / "tests/robustness/sweep_inputs"))
    if (entry.path().extension() == ".toml" && entry.path().filename() != "scenario.toml")
      paths.push_back(entry.path());
  std::sort(paths.begin(), paths.end());
  REQUIRE(paths.size() >= 50);
  for (fs::path path : paths) {
    const std::string got = refusal(path);
    const std::string expected = slurp(path.replace_extension(".expected"));
    INFO(path.filename().string());
    CHECK(got == expected);
  }
}
