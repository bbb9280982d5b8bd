// SPDX-License-Identifier: BSD-3-Clause
// Several files of one call: all or none, and never over an input or each other.
#include "sim/io/text/output_files.hpp"
#include "models/error.hpp"
#include "sim/base/new_file.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/sweep_cases.hpp"

#include <fstream>
#include <iterator>

using namespace hoopfield;
using hoopfield::testing::TemporaryFolder;
namespace fs = std::filesystem;

namespace {

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::size_t entries(const fs::path& folder) {
  return static_cast<std::size_t>(std::distance(fs::directory_iterator(folder), fs::directory_iterator()));
}

}  // namespace

TEST_CASE("a move that fails takes back the files already in place", "[robustness]") {
  const TemporaryFolder folder;
  const fs::path old = folder / "old", fresh = folder / "fresh", late = folder / "late";
  std::ofstream(old) << "before";
  {
    OutputFiles files(true);
    for (const fs::path& path : {old, fresh, late}) files.add("-o", path);
    files.check();
    for (const fs::path& path : {old, fresh, late}) files.write(path, "after");
    fs::create_directory(late);  // a folder in the way of the last move
    std::ofstream(late / "full") << "x";
    CHECK_THROWS_AS(files.commit(), IoError);
  }
  CHECK(slurp(old) == "before");
  CHECK_FALSE(fs::exists(fresh));
  CHECK(entries(folder / "") == 2);
}

TEST_CASE("files that are put in place stay", "[robustness]") {
  const TemporaryFolder folder;
  std::ofstream(folder / "old") << "before";
  {
    OutputFiles files(true);
    files.add("-o", folder / "old");
    files.add_folder("--csv", folder / "tables", {"a", "b"});
    files.check();
    files.write(folder / "old", "after");
    files.write(folder / "tables" / "a", "A");
    files.write(folder / "tables" / "b", "B");
    files.commit();
  }
  CHECK(slurp(folder / "old") == "after");
  CHECK(slurp(folder / "tables" / "b") == "B");
  CHECK(entries(folder / "") == 2);
}

TEST_CASE("a fresh file has a name of its own and leaves nothing", "[robustness]") {
  const TemporaryFolder folder;
  const fs::path target = folder / "x", longest = folder / std::string(255, 'n').c_str();
  const NewFile a = create_new_file(target), b = create_new_file(target), c = create_new_file(longest);
  CHECK(a.path != b.path);
  CHECK(is_new_file_of(a.path, target));
  CHECK_FALSE(is_new_file_of(a.path, folder / "y"));
  CHECK_FALSE(is_new_file_of(folder / "x.part", target));
  CHECK(entries(folder / "") == 3);
  remove_new_files();
  CHECK(entries(folder / "") == 0);
  for (const NewFile& file : {a, b, c}) remove_new_file(file.path);
}
