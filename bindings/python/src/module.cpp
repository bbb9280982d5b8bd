// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/python/src/bind.hpp"
#include "sim/build_info.hpp"

PYBIND11_MODULE(_core, m) {
  using namespace hoopfield::python;
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
