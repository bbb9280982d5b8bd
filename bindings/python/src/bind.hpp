// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The parts of the extension module, one function per area.
#pragma once

#include <pybind11/pybind11.h>

namespace hoopfield::python {

void bind_errors(pybind11::module_& m);
void bind_parameters(pybind11::module_& m);
void bind_scenario(pybind11::module_& m);
void bind_result(pybind11::module_& m);
void bind_film(pybind11::module_& m);
void bind_film_fit(pybind11::module_& m);
void bind_lab_curve(pybind11::module_& m);
void bind_stages(pybind11::module_& m);
void bind_sweep(pybind11::module_& m);
void bind_sweep_blocks(pybind11::module_& m);
void bind_calibrate(pybind11::module_& m);
void bind_transit(pybind11::module_& m);
void bind_compare(pybind11::module_& m);
void bind_report(pybind11::module_& m);

}  // namespace hoopfield::python
