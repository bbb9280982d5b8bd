// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/film_test_writer.hpp"

#include "models/error.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/hdf5/detail/hdf5_file.hpp"

#include <mutex>

namespace hoopfield {

namespace {

void write_test(hdf5::Node node, const TestedFilm& tested) {
  const FilmTest& test = tested.test;
  node.attribute("kind", film_test_name(test.kind));
  node.attribute("rate", shortest(test.rate) + " 1/s");
  node.attribute("temperature", shortest(test.temperature) + " K");
  node.attribute("width_exponent", shortest(test.width_exponent));
  std::vector<double> time, stretch, stress, temperature;
  for (const FilmCurvePoint& p : tested.curve.points) {
    time.push_back(p.time);
    stretch.push_back(p.stretch - 1.0);
    stress.push_back(p.stress);
    temperature.push_back(p.temperature);
  }
  node.dimension("time", time, "s", "time since the start of stretching");
  node.variable("stretch", {"time"}, stretch, "1", "strain of the strip");
  node.variable("stress", {"time"}, stress, "Pa", "force over section on the roll");
  node.variable("film_temperature", {"time"}, temperature, "K", "temperature of the film");
}

}  // namespace

std::string film_tests_hdf5(const FilmDescription& film, const std::vector<TestedFilm>& series) {
  const std::lock_guard lock(hdf5::library_mutex());
  H5::Exception::dontPrint();
  try {
    hdf5::MemoryFile file;
    {
      hdf5::Node root = file.root();
      root.attribute("title", "virtual tests of " + film.name);
      root.attribute("source", "hoopfield " + build_version());
      for (std::size_t i = 0; i < series.size(); ++i)
        write_test(root.child("test_" + std::to_string(i + 1)), series[i]);
    }
    return file.bytes();
  } catch (const H5::Exception& error) {
    throw IoError("HDF5 could not build the file of the tests: " + error.getDetailMsg());
  }
}

}  // namespace hoopfield
