// SPDX-License-Identifier: BSD-3-Clause
// Errors cross into Python as classes of hoopfield.errors, with their attributes.
#include "bindings/python/src/bind.hpp"
#include "models/error.hpp"

#include <cctype>
#include <exception>
#include <string>
#include <string_view>
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

bool is_of_option(char c) { return std::islower(static_cast<unsigned char>(c)) != 0 || c == '-'; }

/// Options of the command as arguments of Python: "pass --overwrite" as "pass overwrite=True", "--model-error" as
/// "model_error".
std::string in_python_words(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const bool begins = text.substr(i, 2) == "--" && i + 2 < text.size() && is_of_option(text[i + 2]) &&
                        text[i + 2] != '-' && (i == 0 || text[i - 1] == ' ' || text[i - 1] == '`');
    if (!begins) {
      out += text[i++];
      continue;
    }
    std::string word;
    for (i += 2; i < text.size() && is_of_option(text[i]); ++i) word += text[i] == '-' ? '_' : text[i];
    out += word == "overwrite" || word == "resume" ? word + "=True" : word;
  }
  return out;
}

// By value, as pybind11 calls it.
void translate(std::exception_ptr pointer) {  // NOLINT(performance-unnecessary-value-param)
  try {
    if (pointer) std::rethrow_exception(pointer);
  } catch (const OutOfRange& e) {
    set_error("OutOfRange", in_python_words(e.what()), e.file, e.line, e.column, e.key);
  } catch (const InputError& e) {
    set_error("InputError", in_python_words(e.what()), e.file, e.line, e.column, e.key);
  } catch (const SolverError& e) {
    set_error("SolverError", in_python_words(e.what()), e.time, e.turn, e.height, e.hint);
  } catch (const IoError& e) {
    set_error("IoError", in_python_words(e.what()), e.file);
  } catch (const Error& e) {
    set_error("Error", in_python_words(e.what()));
  }
}

}  // namespace

void bind_errors(py::module_&) { py::register_exception_translator(translate); }

}  // namespace hoopfield::python
