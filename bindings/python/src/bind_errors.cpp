// SPDX-License-Identifier: BSD-3-Clause
// Errors cross into Python as classes of hoopfield.errors, with their attributes.
#include "bindings/python/src/bind.hpp"
#include "models/error.hpp"

#include <exception>
#include <utility>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

template <typename... Arguments>
void set_error(const char* name, Arguments&&... arguments) {
  const py::object type = py::module_::import("hoopfield.errors").attr(name);
  const py::object error = type(std::forward<Arguments>(arguments)...);
  PyErr_SetObject(type.ptr(), error.ptr());
}

// By value, as pybind11 calls it.
void translate(std::exception_ptr pointer) {  // NOLINT(performance-unnecessary-value-param)
  try {
    if (pointer) std::rethrow_exception(pointer);
  } catch (const OutOfRange& e) {
    set_error("OutOfRange", e.what(), e.file, e.line, e.column, e.key);
  } catch (const InputError& e) {
    set_error("InputError", e.what(), e.file, e.line, e.column, e.key);
  } catch (const SolverError& e) {
    set_error("SolverError", e.what(), e.time, e.turn, e.height, e.hint);
  } catch (const IoError& e) {
    set_error("IoError", e.what(), e.file);
  } catch (const Error& e) {
    set_error("Error", e.what());
  }
}

}  // namespace

void bind_errors(py::module_&) { py::register_exception_translator(translate); }

}  // namespace hoopfield::python
