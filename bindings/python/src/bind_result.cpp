// SPDX-License-Identifier: BSD-3-Clause
// Predictions and their results.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/expose.hpp"
#include "bindings/python/src/observer.hpp"
#include "bindings/python/src/result_archive.hpp"
#include "models/error.hpp"
#include "models/output_names.hpp"
#include "models/units.hpp"
#include "sim/bands/bands.hpp"
#include "sim/bands/indices.hpp"
#include "sim/bands/rank_unknowns.hpp"
#include "sim/base/build_info.hpp"
#include "sim/io/hdf5/hdf5_writer.hpp"
#include "sim/io/text/csv_writer.hpp"
#include "sim/io/text/json_writer.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/wrap/predict.hpp"

#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>
#include <map>
#include <stdexcept>

#include <filesystem>
#include <memory>
#include <string>

namespace hoopfield::python {

std::string member_doc(const std::string& key) {
  const Parameter* p = find_parameter(ParameterRoom::output, key);
  if (p == nullptr) return {};
  const std::string unit = p->metric == "%" && p->json_unit == "%" ? "strain" : std::string(p->unit);
  return std::string(p->sentence) + (unit.empty() ? "" : " (" + unit + ")");
}

std::size_t member_rank(const std::string& key) {
  const Parameter* p = find_parameter(ParameterRoom::output, key);
  return p == nullptr ? 0 : axis_list(*p).size();
}

namespace {

namespace py = pybind11;

template <typename Names>
std::size_t index_of(const std::string& name, const Names& names) {
  for (std::size_t i = 0; i < names.size(); ++i)
    if (name == names[i]) return i;
  throw py::key_error(name);
}

BandOptions bands_of(const Scenario& scenario, std::optional<std::size_t> samples) {
  BandOptions options = band_options(scenario);
  if (samples) options.samples = *samples;
  check_band_samples(options.samples);
  return options;
}

Result compute(const Scenario& scenario, py::object progress, bool complete, std::optional<std::size_t> samples) {
  const BandOptions bands = bands_of(scenario, samples);
  PythonObserver observer(std::move(progress));
  return observer.run([&] {
    const double end = bands.samples == 0 ? 0.05 : 0.7;
    observer.section(0.0, bands.samples == 0 && !complete ? 1.0 : 0.03);
    Result result = predict(scenario, &observer);
    if (complete) {
      observer.section(0.03, 0.05);
      add_sensitivity(scenario, result, &observer);
    }
    if (bands.samples > 0) {
      observer.section(0.05, complete ? end : 1.0);
      add_bands(scenario, result, bands, &observer);
    }
    if (complete) {
      observer.section(end, 1.0);
      rank_unknowns(scenario, result, bands, 0, &observer);
    }
    return result;
  });
}

py::array_t<double> table_of(const std::vector<double>& numbers, std::size_t rows) {
  const auto columns = rows == 0 ? 0 : numbers.size() / rows;
  py::array_t<double> array({static_cast<py::ssize_t>(rows), static_cast<py::ssize_t>(columns)});
  std::copy(numbers.begin(), numbers.end(), array.mutable_data());
  return array;
}

void bind_bands(py::module_& m) {
  py::class_<Band>(m, "Band", "5 %, 50 % and 95 % quantile over the draws, SI.")
      .def_readonly("low", &Band::low)
      .def_readonly("median", &Band::median)
      .def_readonly("high", &Band::high)
      .def("__repr__", [](const Band& b) {
        return "<hoopfield.Band " + short_number(b.low) + " to " + short_number(b.high) + ", median " +
               short_number(b.median) + ">";
      });
  using D = DrawnInput;
  py::class_<D>(m, "DrawnInput", "An input that was drawn, with its distribution; SI.")
      .def_readonly("key", &D::key)
      .def_readonly("origin", &D::origin)
      .def_readonly("unit", &D::unit)
      .def_readonly("low", &D::low, "5 % quantile")
      .def_readonly("value", &D::value, "median: the value in use")
      .def_readonly("high", &D::high, "95 % quantile")
      .def_readonly("scale_below", &D::below)
      .def_readonly("scale_above", &D::above)
      .def_readonly("formula_share", &D::formula_share);
  using B = BandResult;
  py::class_<B>(m, "BandResult", "The draws behind the bands of a prediction.")
      .def_property_readonly("samples", &B::draws)
      .def_property_readonly("failed", [](const B& b) { return static_cast<std::size_t>(b.failed_draws()); })
      .def_property_readonly("failed_because",
                             [](const B& b) {
                               py::dict reasons;
                               for (const FailedDraws& f : b.failed)
                                 reasons[py::str(f.code)] = static_cast<std::size_t>(f.count);
                               return reasons;
                             })
      .def_property_readonly("redrawn", [](const B& b) { return static_cast<std::size_t>(b.redrawn); })
      .def_readonly("message", &B::message, "why there is no band; empty when there is one")
      .def_readonly("names", &B::names, "names of the numbers that have a band")
      .def_readonly("unknowns", &B::unknowns, "what was drawn")
      .def_property_readonly(
          "inputs", [](const B& b) { return table_of(b.inputs, b.draws()); }, "(draw, unknown), SI")
      .def_property_readonly(
          "numbers", [](const B& b) { return table_of(b.numbers, b.draws()); }, "(draw, name), SI")
      .def_property_readonly(
          "status", [](const B& b) { return table_of(b.status, b.draws()).squeeze(); },
          "(draw): 0 done, 1 film broke or ran away, 2 no solution")
      .def("get", &B::band, py::arg("name"), "The band of a number, or None.");
  using I = UnknownIndex;
  py::class_<I>(m, "UnknownIndex", "First-order and total Sobol' index of an unknown.")
      .def_readonly("key", &I::key)
      .def_property_readonly("first", [](const I& i) { return i.index.first; })
      .def_property_readonly("total", [](const I& i) { return i.index.total; })
      .def_property_readonly("first_error", [](const I& i) { return i.index.first_error; })
      .def_property_readonly("total_error", [](const I& i) { return i.index.total_error; });
  m.def(
      "sobol_index",
      [](const std::vector<double>& a, const std::vector<double>& b, const std::vector<double>& ab) {
        return UnknownIndex{"", sobol_index(a, b, ab)};
      },
      py::arg("a"), py::arg("b"), py::arg("ab"), "Indices of one input from rows of a model.");
  m.def("band_of_draws", &band_of_draws, py::arg("values"),
        "Band of numbers by rank p (n + 1); None for fewer than 16.");
}

// Results are values: the one in hand stays as it is.
template <typename Work>
Result extend(const Scenario& scenario, const Result& result, py::object progress, Work work) {
  PythonObserver observer(std::move(progress));
  return observer.run([&] {
    Result copy = result;
    work(scenario, copy, &observer);
    return copy;
  });
}

void bind_station(py::module_& m) {
  expose<StationFace>(m, "StationFace", "What one face shows at a station.", "containment.faces.");
  auto c = expose<StationResult>(m, "StationResult", "What a person would measure at one height.", "containment.");
  using S = StationResult;
  for (std::size_t i = 0; i < face_count; ++i)
    c.def_property_readonly(
        face_names[i], [i](const S& s) -> const StationFace& { return s.faces[i]; },
        py::return_value_policy::reference_internal);
  c.def(
      "__getitem__",
      [](const S& s, const std::string& name) -> const StationFace& { return s.faces[index_of(name, face_names)]; },
      py::arg("face"), py::return_value_policy::reference_internal);
}

void bind_containment(py::module_& m) {
  auto c =
      expose<ContainmentResult>(m, "ContainmentResult", "Containment at the stations at one moment.", "containment.");
  using C = ContainmentResult;
  for (std::size_t i = 0; i < station_names.size(); ++i)
    c.def_property_readonly(
        station_names[i], [i](const C& v) -> const StationResult& { return v.stations[i]; },
        py::return_value_policy::reference_internal);
  c.def(
      "__getitem__",
      [](const C& v, const std::string& name) -> const StationResult& {
        return v.stations[index_of(name, station_names)];
      },
      py::arg("station"), py::return_value_policy::reference_internal);
}

void bind_small_parts(py::module_& m) {
  expose<FilmPathResult>(m, "FilmPathResult", "From the roll to the load.", "film.");
  expose<SpanResult>(m, "SpanResult", "Force in the span over one settled turn, and what each face received.", "span.");
  expose<PatternResult>(m, "PatternResult", "The wrap pattern.", "pattern.");
  expose<LoadResult>(m, "LoadResult", "What the film does to the load, at the end of wrapping.", "load.");
  expose<FilmUse>(m, "FilmUse", "Film drawn from the roll.", "film.");
  expose<Sensitivity>(m, "Sensitivity", "d ln(containment) / d ln(force)", "sensitivity.");
  expose<SolverCounters>(m, "SolverCounters", "How much was computed; counts of work, not of time.", "counters.");
  bind_bands(m);
  using U = UnknownInput;
  py::class_<U>(m, "UnknownInput", "An unknown input and what its range does to containment and to the target.")
      .def_readonly("key", &U::key)
      .def_readonly("origin", &U::origin)
      .def_readonly("group", &U::group, "several numbers moved together")
      .def_readonly("quantity", &U::quantity, "quantity by which unknowns are ranked: that of the target")
      .def_readonly("at", &U::at, "its moment")
      .def_readonly("station", &U::station, "its station; empty for the least of the three")
      .def_readonly("low", &U::low, "that quantity at the 5 % quantile of the input, SI")
      .def_readonly("high", &U::high, "that quantity at the 95 % quantile of the input, SI")
      .def_readonly("share", &U::share,
                    "share of the band's variance by regression; None where that explains too little")
      .def_readonly("r_squared", &U::r_squared, "adjusted R squared of the regression")
      .def_readonly("known_low", &U::known_low, "lower end of the band if this input were known, SI")
      .def_readonly("known_high", &U::known_high, "upper end of the band if this input were known, SI")
      .def_readonly("value_text", &U::value_text)
      .def_readonly("low_text", &U::low_text)
      .def_readonly("high_text", &U::high_text)
      .def_readonly("containment_low", &U::containment_low, "N/m at the low end")
      .def_readonly("containment_high", &U::containment_high, "N/m at the high end")
      .def_readonly("effect", &U::effect, "(greatest - least) / nominal")
      .def_readonly("how_to_measure", &U::how_to_measure)
      .def_readonly("caution", &U::caution, "what can hurt whoever measures it so; may be empty")
      .def_readonly("failed", &U::failed, "an end of the range could not be computed")
      .def_readonly("message", &U::message)
      .def("__repr__", [](const U& u) {
        return "<hoopfield.UnknownInput " + u.key + " " + u.low_text + " to " + u.high_text + ", effect " +
               short_number(u.effect) + ">";
      });
  using T = TargetResult;
  py::class_<T>(m, "TargetResult", "One target, met or missed.")
      .def_readonly("station", &T::station)
      .def_readonly("quantity", &T::quantity)
      .def_readonly("at", &T::at)
      .def_readonly("wanted", &T::wanted, "N/m or N")
      .def_readonly("predicted", &T::predicted, "N/m or N")
      .def_readonly("met", &T::met, "by probability where there is one")
      .def_readonly("probability", &T::probability, "share of draws that reach it; None without draws")
      .def_readonly("probability_error", &T::probability_error, "standard error of that share");
  using W = Warning;
  py::class_<W>(m, "Warning", "What a person must know before using the numbers.")
      .def_readonly("code", &W::code)
      .def_readonly("severity", &W::severity, "\"note\", \"caution\" or \"danger\"")
      .def_readonly("key", &W::key)
      .def_readonly("text", &W::text)
      .def("__repr__", [](const W& w) { return "<hoopfield.Warning " + w.severity + ": " + w.text + ">"; });
}

/// Every number and field by its declaration: (group of the result file, name there, dimensions, values or words, unit,
/// label). Numbers are copies.
py::list labelled(const Result& result) {
  py::list rows;
  visit_outputs(result, [&](const OutputValue& output) {
    const Parameter& p = *output.declaration;
    py::object values;
    if (output.words.empty()) {
      py::array_t<double> array(std::vector<py::ssize_t>(output.shape.begin(), output.shape.end()));
      std::copy(output.numbers.begin(), output.numbers.end(), array.mutable_data());
      values = std::move(array);
    } else {
      values = py::cast(output.words);
    }
    rows.append(py::make_tuple(file_group(p), p.file.empty() ? std::string() : file_name(p), axis_list(p), values,
                               file_unit(p), std::string(p.label)));
  });
  return rows;
}

py::tuple pickled(const Result& r) {
  Saver saver;
  Result::members(r, saver);
  return py::make_tuple(pickle_layout, build_version(), saver.take());
}

/// Numbers along one axis are as many in every output, and four along the faces.
void check_lengths(const Result& result) {
  const auto refuse = [] { throw InputError("this pickled result holds arrays whose lengths do not fit together"); };
  std::map<std::string, std::size_t> lengths = {{"face", 4}};
  try {
    visit_outputs(result, [&](const OutputValue& output) {
      std::size_t size = 1;
      for (const std::size_t length : output.shape) size *= length;
      const std::vector<std::string> axes = axis_list(*output.declaration);
      if (output.shape.size() != axes.size() || size != std::max(output.numbers.size(), output.words.size())) refuse();
      for (std::size_t d = 0; d < axes.size(); ++d)
        if (size > 0 && lengths.emplace(axes[d], output.shape[d]).first->second != output.shape[d]) refuse();
    });
  } catch (const std::logic_error&) {
    refuse();
  }
}

Result unpickled(const py::tuple& state) {
  if (state.size() != 3 || !py::isinstance<py::int_>(state[0]) || state[0].cast<int>() != pickle_layout)
    throw InputError("this pickled result was written by another version of hoopfield" +
                     (state.size() == 3 && py::isinstance<py::str>(state[1]) ? " (" + state[1].cast<std::string>() + ")"
                                                                             : std::string()) +
                     "; predict it again, or keep results in files (Result.save)");
  if (!py::isinstance<py::dict>(state[2])) throw InputError("this is no pickled result");
  Result r;
  Loader loader(state[2].cast<py::dict>());
  Result::members(r, loader);
  check_lengths(r);
  return r;
}

void bind_whole(py::module_& m) {
  auto c = expose<Result>(m, "Result", "One prediction: plain arrays and numbers in SI units.", "");
  c.def("__reduce__", [m](const Result& r) -> py::tuple {
    return py::make_tuple(py::object(m.attr("_result_of")), py::make_tuple(pickled(r)));
  });
  m.def("_result_of", &unpickled, py::arg("state"), "A pickled result.");
  m.def("labelled", &labelled, py::arg("result"), "Every number and field with its declaration.");
}

}  // namespace

void bind_result(py::module_& m) {
  bind_station(m);
  bind_containment(m);
  bind_small_parts(m);
  bind_whole(m);
  m.def("predict", &compute, py::arg("scenario"), py::arg("progress"), py::arg("complete"), py::arg("band_samples"),
        "Predicts one wrap with its bands; `complete` adds sensitivity and ranked unknowns, as the command does.");
  m.def(
      "indices",
      [](const Scenario& s, const Result& r, std::optional<std::size_t> samples, py::object progress) {
        const BandOptions options = bands_of(s, samples);
        PythonObserver observer(std::move(progress));
        return observer.run([&] { return unknown_indices(s, r, options, &observer); });
      },
      py::arg("scenario"), py::arg("result"), py::arg("band_samples"), py::arg("progress"),
      "Sobol' indices of the unknowns.");
  m.def(
      "with_sensitivity",
      [](const Scenario& s, const Result& r, py::object progress) {
        return extend(s, r, std::move(progress), add_sensitivity);
      },
      py::arg("scenario"), py::arg("result"), py::arg("progress"), "A copy of the result with its sensitivity.");
  m.def(
      "with_ranking",
      [](const Scenario& s, const Result& r, py::object progress, std::size_t known_for) {
        return extend(s, r, std::move(progress), [&](const Scenario& scenario, Result& result, Observer* observer) {
          rank_unknowns(scenario, result, band_options(scenario), known_for, observer);
        });
      },
      py::arg("scenario"), py::arg("result"), py::arg("progress"), py::arg("known_for"),
      "A copy of the result with ranked unknowns.");
  m.def(
      "summary_json", [](const Scenario& s, const Result& r) { return summary_json(s, r); }, py::arg("scenario"),
      py::arg("result"), "The summary as the command prints it with --json, without run_info.");
  m.def(
      "hdf5_bytes",
      [](const Scenario& s, const Result& r) {
        std::string bytes;
        {
          const py::gil_scoped_release release;
          bytes = hdf5_bytes(s, r);
        }
        return py::bytes(bytes);
      },
      py::arg("scenario"), py::arg("result"), "The result file as bytes.");
  m.def("write_hdf5", &write_hdf5, py::arg("path"), py::arg("scenario"), py::arg("result"), py::arg("overwrite"),
        py::call_guard<py::gil_scoped_release>(), "Writes the result file.");
  m.def("write_csv", &write_csv, py::arg("folder"), py::arg("scenario"), py::arg("result"), py::arg("overwrite"),
        py::call_guard<py::gil_scoped_release>(), "Writes the tables.");
}

}  // namespace hoopfield::python
