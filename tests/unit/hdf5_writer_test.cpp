// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/hdf5_writer.hpp"
#include "models/error.hpp"
#include "sim/io/text/csv_writer.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/synthetic_result.hpp"

#include <H5Cpp.h>
#include <hdf5_hl.h>

#include <cmath>
#include <csignal>
#include <ctime>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <sys/resource.h>
#include <unistd.h>

using namespace hoopfield;
using hoopfield::testing::synthetic_result;
using hoopfield::testing::synthetic_scenario;
namespace fs = std::filesystem;

namespace {

/// A folder of its own for each test case, removed afterwards.
class Folder {
 public:
  Folder() {
    std::string name = (fs::temp_directory_path() / "hoopfield-test-XXXXXX").string();
    if (::mkdtemp(name.data()) == nullptr) throw std::runtime_error("no temporary folder");
    path_ = name;
  }
  ~Folder() { fs::remove_all(path_); }
  Folder(const Folder&) = delete;
  Folder& operator=(const Folder&) = delete;
  [[nodiscard]] fs::path operator/(const char* name) const { return path_ / name; }
  [[nodiscard]] std::size_t entries() const {
    return static_cast<std::size_t>(std::distance(fs::directory_iterator(path_), fs::directory_iterator{}));
  }

 private:
  fs::path path_;
};

/// Files of this process cannot grow beyond a size, as on a full disk, while this lives.
class SizeLimit {
 public:
  explicit SizeLimit(rlim_t bytes) {
    ::getrlimit(RLIMIT_FSIZE, &old_);
    old_signal_ = std::signal(SIGXFSZ, SIG_IGN);
    const rlimit limit{bytes, old_.rlim_max};
    ::setrlimit(RLIMIT_FSIZE, &limit);
  }
  ~SizeLimit() {
    ::setrlimit(RLIMIT_FSIZE, &old_);
    std::signal(SIGXFSZ, old_signal_);
  }
  SizeLimit(const SizeLimit&) = delete;
  SizeLimit& operator=(const SizeLimit&) = delete;

 private:
  rlimit old_{};
  void (*old_signal_)(int) = nullptr;
};

std::string read_all(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string scale_name(const H5::DataSet& data, unsigned axis) {
  std::string name;
  H5DSiterate_scales(
      data.getId(), axis, nullptr,
      [](hid_t, unsigned, hid_t scale, void* out) -> herr_t {
        char text[64] = {};
        H5DSget_scale_name(scale, text, sizeof text);
        *static_cast<std::string*>(out) = text;
        return 1;
      },
      &name);
  return name;
}

}  // namespace

TEST_CASE("the result file holds every field with a scale on each axis") {
  const Folder folder;
  const Result result = synthetic_result();
  write_hdf5(folder / "r.h5", synthetic_scenario(), result, false);
  CHECK(folder.entries() == 1);
  const H5::H5File file((folder / "r.h5").string(), H5F_ACC_RDONLY);
  const H5::DataSet data = file.openDataSet("hoop_tension");
  CHECK(scale_name(data, 0) == "time");
  CHECK(scale_name(data, 1) == "face");
  CHECK(scale_name(data, 2) == "height");
  std::vector<double> values(result.hoop_tension.data.size());
  data.read(values.data(), H5::PredType::NATIVE_DOUBLE);
  CHECK(values == result.hoop_tension.data);
  std::string units;
  const H5::Attribute attribute = data.openAttribute("units");
  attribute.read(attribute.getStrType(), units);
  CHECK(units == "N/m");
  const H5::DataSet layers = file.openDataSet("layer_tension");
  std::vector<double> tension(result.layer_tension.data.size());
  layers.read(tension.data(), H5::PredType::NATIVE_DOUBLE);
  CHECK(std::isnan(tension.back()));
  for (const char* name : {"summary", "span", "stations", "film_path", "inputs"}) CHECK(file.nameExists(name));
}

TEST_CASE("equal inputs give equal bytes, at any time") {
  const std::string first = hdf5_bytes(synthetic_scenario(), synthetic_result());
  const std::time_t made = std::time(nullptr);
  while (std::time(nullptr) == made) ::usleep(10000);  // a time stamp in the file would be of another second
  CHECK(first == hdf5_bytes(synthetic_scenario(), synthetic_result()));
}

TEST_CASE("a result without layers and turns still makes a file") {
  Result result = synthetic_result();
  result.layer_tension = {};
  result.hoop_tension_buildup = {};
  result.span = {};
  result.film_path.gap_position.clear();
  result.film_path.gap_stretch.clear();
  result.film_path.gap_temperature.clear();
  CHECK_FALSE(hdf5_bytes(synthetic_scenario(), result).empty());
}

TEST_CASE("a field that does not fit its axes is an error, not a wrong file") {
  Result result = synthetic_result();
  result.hoop_tension.data.pop_back();
  CHECK_THROWS_AS(hdf5_bytes(synthetic_scenario(), result), IoError);
  CHECK_THROWS_WITH(hdf5_bytes(synthetic_scenario(), result), ContainsSubstring("hoop_tension has 47 values"));
}

TEST_CASE("files that exist are replaced only when asked") {
  const Folder folder;
  const fs::path path = folder / "r.h5";
  std::ofstream(path) << "mine";
  CHECK_THROWS_WITH(write_hdf5(path, synthetic_scenario(), synthetic_result(), false),
                    ContainsSubstring("--overwrite"));
  CHECK(read_all(path) == "mine");
  write_hdf5(path, synthetic_scenario(), synthetic_result(), true);
  CHECK(read_all(path) != "mine");
  CHECK(folder.entries() == 1);
}

TEST_CASE("writing where one cannot write says why and leaves nothing") {
  const Folder folder;
  const auto attempt = [&](const fs::path& path) { write_hdf5(path, synthetic_scenario(), synthetic_result(), true); };
  CHECK_THROWS_WITH(attempt(folder / "none" / "r.h5"), ContainsSubstring("there is no folder"));
  CHECK_THROWS_WITH(attempt(folder / "."), ContainsSubstring("folder"));
  CHECK_THROWS_WITH(attempt("/dev/null"), ContainsSubstring("not an ordinary file"));
  CHECK_THROWS_AS(attempt(""), IoError);
  CHECK(folder.entries() == 0);
}

TEST_CASE("a disk that fills up half-way leaves the old file and no part") {
  const Folder folder;
  const fs::path path = folder / "r.h5";
  std::ofstream(path) << "mine";
  {
    const SizeLimit limit(2000);
    CHECK_THROWS_AS(write_hdf5(path, synthetic_scenario(), synthetic_result(), true), IoError);
    CHECK_THROWS_AS(write_csv(folder / "tables", synthetic_scenario(), synthetic_result(), true), IoError);
  }
  CHECK(read_all(path) == "mine");
  CHECK(folder.entries() == 1);
  write_hdf5(path, synthetic_scenario(), synthetic_result(), true);
  CHECK(read_all(path).size() > 10000);
}

TEST_CASE("tables carry units and every number") {
  const Folder folder;
  const Result result = synthetic_result();
  write_csv(folder / "tables", synthetic_scenario(), result, false);
  const std::string tension = read_all(folder / "tables" / "hoop_tension.csv");
  CHECK_THAT(tension, ContainsSubstring("time_s,face,height_m,hoop_tension_N_per_m"));
  CHECK(std::count(tension.begin(), tension.end(), '\n') == 1 + 4 * 4 * 3);
  CHECK_THAT(tension, ContainsSubstring("0,front,0.75,300.3333333333333,"));
  const std::string layers = read_all(folder / "tables" / "layers.csv");
  CHECK(std::count(layers.begin(), layers.end(), '\n') == 1 + 3 * 4 * 3 - 1);
  CHECK_THROWS_AS(write_csv(folder / "tables", synthetic_scenario(), result, false), IoError);
  CHECK(folder.entries() == 1);
}
