// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Virtual tests of a film to HDF5.
#pragma once

#include "sim/film_lab/film_test.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// The finished file: group `test_1`, `test_2`, ... per test, dimension `time` (s), variables `stretch` (strain),
/// `stress` (Pa), `temperature` (K); settings as attributes. Throws IoError.
[[nodiscard]] std::string film_tests_hdf5(const FilmDescription& film, const std::vector<TestedFilm>& series);

}  // namespace hoopfield
