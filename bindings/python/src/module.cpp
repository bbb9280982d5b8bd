// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/python/src/bind.hpp"
#include "sim/base/build_info.hpp"

#include <string>

namespace {

// Older pybind11 takes NumPy 2 for NumPy 1 and reads its arrays wrongly, without a word.
void refuse_numpy_it_cannot_read() {
#if PYBIND11_VERSION_HEX < 0x020C0000
  const auto version = pybind11::module_::import("numpy").attr("__version__").cast<std::string>();
  if (std::stoi(version) >= 2)
    throw pybind11::import_error("hoopfield was built with a pybind11 before 2.12, which reads arrays of NumPy " +
                                 version + " wrongly; hint: build it with pybind11 2.12 or later, or use NumPy 1");
#endif
}

}  // namespace

PYBIND11_MODULE(_core, m) {
  using namespace hoopfield::python;
  refuse_numpy_it_cannot_read();
  m.doc() = "Compiled part of hoopfield. Numbers are SI; stretch is strain (2.5 = film 3.5 times as long).";
  m.attr("__version__") = hoopfield::build_version();
  bind_errors(m);
  bind_parameters(m);
  bind_film(m);
  bind_film_fit(m);
  bind_scenario(m);
  bind_result(m);
  bind_stages(m);
  bind_sweep(m);
  bind_compare(m);
  bind_report(m);
}
