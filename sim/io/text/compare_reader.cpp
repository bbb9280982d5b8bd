// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/compare_reader.hpp"

#include "models/error.hpp"
#include "sim/base/raw_node.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/io/text/readings_reader.hpp"

#include <filesystem>

namespace hoopfield {

namespace {

enum class SideFile { scenario, measured, film };

/// What the file says it is. A file that is no TOML is left to the scenario reader to complain about.
SideFile kind_of_side(const std::string& path) {
  try {
    const RawNode root = parse_toml(read_input_text(path));
    if (root.find("kind") != nullptr || root.find("readings") != nullptr) return SideFile::measured;
    const bool film = root.find("branch") != nullptr || root.find("network") != nullptr;
    return film && root.find("load") == nullptr ? SideFile::film : SideFile::scenario;
  } catch (const InputError&) {
    return SideFile::scenario;
  }
}

void check_count(std::size_t count) {
  if (count >= 2 && count <= most_compared_sides) return;
  throw InputError("compare needs 2 to " + std::to_string(most_compared_sides) +
                   " files, the first being the present wrap; " + std::to_string(count) +
                   (count == 1 ? " is" : " are") + " given");
}

}  // namespace

std::vector<std::filesystem::path> files_of(const CompareSide& side) {
  std::vector<std::filesystem::path> files;
  if (const auto* scenario = std::get_if<Scenario>(&side.content)) {
    files = files_of(*scenario);
  } else {
    const MeasuredSide& measured = std::get<MeasuredSide>(side.content);
    files.assign(measured.files.begin(), measured.files.end());
  }
  files.emplace_back(side.file);
  return files;
}

CompareSide read_side(const std::string& path) {
  CompareSide side;
  side.file = path;
  switch (kind_of_side(path)) {
    case SideFile::film:
      throw InputError(path +
                           ": is a film file, and a film by itself contains nothing; expected a scenario, or films "
                           "with the scenario they are tried in: `hoopfield compare FILM.toml FILM.toml --in "
                           "SCENARIO.toml` (one film alone: `hoopfield film test FILM.toml --numbers`)",
                       path);
    case SideFile::measured: side.content = read_measured(path); break;
    case SideFile::scenario: side.content = read_scenario(path); break;
  }
  return side;
}

std::vector<CompareSide> read_sides(const std::vector<std::string>& paths) {
  check_count(paths.size());
  std::vector<CompareSide> sides;
  for (const std::string& path : paths) sides.push_back(read_side(path));
  return sides;
}

std::vector<CompareSide> read_film_sides(const std::vector<std::string>& film_paths, const std::string& scenario_path) {
  check_count(film_paths.size());
  const Scenario scenario = read_scenario(scenario_path);
  std::vector<CompareSide> sides;
  for (const std::string& path : film_paths) {
    Scenario with_film = scenario;
    const InputText film = read_input_text(path);
    with_film.film_description = read_film_text(film);
    with_film.film_text = film.text;
    with_film.film.file = path;
    with_film.sources["film.file"] = {Origin::given, {}, 0, 0};
    with_film.title = with_film.film_description.name;
    resolve_scenario(with_film);
    sides.push_back({std::filesystem::path(path).stem().string(), path, std::move(with_film)});
  }
  return sides;
}

}  // namespace hoopfield
