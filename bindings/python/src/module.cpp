// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/python/src/bind.hpp"
#include "sim/base/build_info.hpp"

#include <string>
#include <string_view>

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

/// Objects come from functions of the module and from pickles, which call one; an object that holds nothing yet would
/// be read as if it did.
PyObject* refuse_new(PyTypeObject* type, PyObject*, PyObject*) {
  PyErr_Format(PyExc_TypeError, "%s: an empty object cannot be made", type->tp_name);
  return nullptr;
}

newfunc make_instance = nullptr;

/// Classes that Python code makes get their contents at once, from arguments.
PyObject* refuse_empty(PyTypeObject* type, PyObject* arguments, PyObject* names) {
  const bool empty = PyTuple_GET_SIZE(arguments) == 0 && (names == nullptr || PyDict_GET_SIZE(names) == 0);
  return empty ? refuse_new(type, arguments, names) : make_instance(type, arguments, names);
}

void refuse_empty_objects(const pybind11::module_& m) {
  for (const auto& [name, item] : m.attr("__dict__").cast<pybind11::dict>()) {
    if (!PyType_Check(item.ptr()) || !pybind11::hasattr(item, "__dict__")) continue;
    auto* type = reinterpret_cast<PyTypeObject*>(item.ptr());
    if (PyType_IsSubtype(type, reinterpret_cast<PyTypeObject*>(PyExc_BaseException)) != 0) continue;
    if (std::string_view(Py_TYPE(item.ptr())->tp_name) != "pybind11_type") continue;
    if (item.attr("__dict__").contains("__init__")) {
      make_instance = type->tp_new;
      type->tp_new = refuse_empty;
    } else {
      type->tp_new = refuse_new;
    }
  }
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
  bind_lab_curve(m);
  bind_film_fit(m);
  bind_scenario(m);
  bind_result(m);
  bind_stages(m);
  bind_sweep(m);
  bind_sweep_blocks(m);
  bind_transit(m);
  bind_calibrate(m);
  bind_compare(m);
  bind_report(m);
  refuse_empty_objects(m);
}
