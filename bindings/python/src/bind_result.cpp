// SPDX-License-Identifier: BSD-3-Clause
// Predictions and their results.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/observer.hpp"
#include "bindings/python/src/result_archive.hpp"
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/io/csv_writer.hpp"
#include "sim/io/hdf5_writer.hpp"
#include "sim/io/json_writer.hpp"
#include "sim/predict.hpp"

#include <pybind11/stl.h>
#include <pybind11/stl/filesystem.h>

#include <filesystem>
#include <memory>
#include <string>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

/// Property that shows a row of numbers without copying it.
template <typename Owner, typename Class>
void rows(Class& c, const char* name, std::vector<double> Owner::*member, const char* doc) {
  c.def_property_readonly(name, [member](const py::object& self) { return view(self.cast<const Owner&>().*member, self); },
                          doc);
}

template <typename Class>
void field(Class& c, const char* name, Field Result::*member, std::size_t rank, const char* doc) {
  c.def_property_readonly(
      name, [member, rank](const py::object& self) { return view(self.cast<const Result&>().*member, rank, self); }, doc);
}

/// Stretch in strain, as users say it.
template <typename Class>
void strain(Class& c, const char* name, double FilmPathResult::*member, const char* doc) {
  c.def_property_readonly(name, [member](const FilmPathResult& r) { return r.*member - 1.0; }, doc);
}

template <typename Names>
std::size_t index_of(const std::string& name, const Names& names) {
  for (std::size_t i = 0; i < names.size(); ++i)
    if (name == names[i]) return i;
  throw py::key_error(name);
}

Result compute(const Scenario& scenario, py::object progress, bool complete) {
  PythonObserver observer(std::move(progress));
  return observer.run([&] {
    observer.section(0.0, complete ? 0.05 : 1.0);
    Result result = predict(scenario, &observer);
    if (complete) {
      observer.section(0.05, 0.1);
      add_sensitivity(scenario, result, &observer);
      observer.section(0.1, 1.0);
      rank_unknowns(scenario, result, &observer);
    }
    return result;
  });
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

void bind_film_path(py::module_& m) {
  using R = FilmPathResult;
  py::class_<R> c(m, "FilmPathResult", "From the roll to the load.");
  c.def_readonly("prestretch_force", &R::prestretch_force, "N, constant along the gap")
      .def_readonly("prestretch_power", &R::prestretch_power, "W, put into the film in the gap")
      .def_readonly("draw_temperature_rise", &R::draw_temperature_rise, "K at the end of the gap, adiabatic")
      .def_readonly("film_temperature", &R::film_temperature, "K at the end of the gap")
      .def_readonly("roller_speed_1", &R::roller_speed_1, "m/s")
      .def_readonly("roller_speed_2", &R::roller_speed_2, "m/s")
      .def_readonly("dwell_time", &R::dwell_time, "s on roller 2")
      .def_readonly("residence_time", &R::residence_time, "s from roller 2 to the load")
      .def_readonly("laid_width", &R::laid_width, "m")
      .def_readonly("laid_thickness", &R::laid_thickness, "m")
      .def_readonly("stiffness_over_force", &R::stiffness_over_force, "d ln force / d ln stretch ratio of the laid film")
      .def_readonly("gap_sharpness", &R::gap_sharpness, "least length of the draw over the roll thickness");
  strain(c, "stretch_in_gap", &R::stretch_in_gap, "strain at the end of the gap");
  strain(c, "stretch_on_load", &R::stretch_on_load, "strain of the film as it lies on the load");
  rows(c, "gap_position", &R::gap_position, "m, profile along the gap");
  c.def_property_readonly("gap_stretch",
                          [](const R& r) {
                            std::vector<double> strains = r.gap_stretch;
                            for (double& s : strains) s -= 1.0;
                            return copy_out(strains);
                          },
                          "strain along the gap");
  rows(c, "gap_temperature", &R::gap_temperature, "K along the gap");
}

void bind_span(py::module_& m) {
  using R = SpanResult;
  py::class_<R> c(m, "SpanResult", "Force in the span over one settled turn, and what each face received.");
  c.def_readonly("force_set", &R::force_set, "N")
      .def_readonly("force_mean", &R::force_mean, "N")
      .def_readonly("force_min", &R::force_min, "N")
      .def_readonly("force_max", &R::force_max, "N")
      .def_readonly("laid_fraction", &R::laid_fraction, "mean force kept at the end of wrapping over the set force");
  rows(c, "angle", &R::angle, "rad");
  rows(c, "force", &R::force, "N over angle");
  rows(c, "take_up_speed", &R::take_up_speed, "m/s over angle");
  rows(c, "face_turn", &R::face_turn, "per face laid: turns since the start");
  rows(c, "face_force", &R::face_force, "per face laid: force that face keeps, N");
  c.def_property_readonly("face",
                          [](const R& r) {
                            std::vector<std::string> names;
                            for (const std::size_t f : r.face) names.emplace_back(face_names.at(f));
                            return names;
                          },
                          "per face laid: its name");
}

void bind_station(py::module_& m) {
  using F = StationFace;
  py::class_<F>(m, "StationFace", "What one face shows at a station.")
      .def_readonly("hoop_tension", &F::hoop_tension, "N/m, mean over the band")
      .def_readonly("film_layers", &F::film_layers)
      .def_readonly("strand_force", &F::strand_force, "N, pull test without tent factor")
      .def_readonly("pull_force", &F::pull_force, "N, with tent factor");
  using S = StationResult;
  py::class_<S> c(m, "StationResult", "What a person would measure at one height.");
  c.def_readonly("height", &S::height, "m")
      .def_readonly("hoop_tension", &S::hoop_tension, "N/m, mean of faces")
      .def_readonly("band_tension", &S::band_tension, "N, hoop tension times band height")
      .def_readonly("pull_force", &S::pull_force, "N, least over faces")
      .def_readonly("strand_force", &S::strand_force, "N, of the face with the least pull force")
      .def_readonly("pull_force_film_stretch_share", &S::pull_force_film_stretch_share)
      .def_readonly("tent_factor", &S::tent_factor, "of that face")
      .def_readonly("film_layers", &S::film_layers, "mean of faces")
      .def_readonly("film_layers_min", &S::film_layers_min, "over the start of the climb")
      .def_readonly("film_layers_max", &S::film_layers_max, "over the start of the climb");
  for (std::size_t i = 0; i < face_count; ++i)
    c.def_property_readonly(face_names[i], [i](const S& s) -> const F& { return s.faces[i]; },
                            py::return_value_policy::reference_internal);
  c.def("__getitem__", [](const S& s, const std::string& name) -> const F& { return s.faces[index_of(name, face_names)]; },
        py::arg("face"), py::return_value_policy::reference_internal);
}

void bind_containment(py::module_& m) {
  using C = ContainmentResult;
  py::class_<C> c(m, "ContainmentResult", "Containment at the stations at one moment.");
  c.def_readonly("least_hoop_tension", &C::least_hoop_tension, "N/m, least over height and faces where film is laid")
      .def_readonly("least_height", &C::least_height, "m")
      .def_property_readonly("least_face", [](const C& v) { return std::string(face_names.at(v.least_face)); });
  for (std::size_t i = 0; i < station_names.size(); ++i)
    c.def_property_readonly(station_names[i], [i](const C& v) -> const StationResult& { return v.stations[i]; },
                            py::return_value_policy::reference_internal);
  c.def("__getitem__",
        [](const C& v, const std::string& name) -> const StationResult& {
          return v.stations[index_of(name, station_names)];
        },
        py::arg("station"), py::return_value_policy::reference_internal);
}

void bind_small_parts(py::module_& m) {
  using P = PatternResult;
  py::class_<P>(m, "PatternResult", "The wrap pattern.")
      .def_readonly("turns", &P::turns)
      .def_readonly("pitch", &P::pitch, "m per turn")
      .def_readonly("overlap", &P::overlap, "fraction of the laid width")
      .def_readonly("gap", &P::gap, "m, greatest bare height between turns; 0 when closed")
      .def_readonly("speed_up", &P::speed_up, "m/s of the carriage")
      .def_readonly("speed_down", &P::speed_down, "m/s of the carriage")
      .def_readonly("cycle_time", &P::cycle_time, "s of rotation")
      .def_readonly("uncovered_top", &P::uncovered_top, "m without film")
      .def_readonly("uncovered_bottom", &P::uncovered_bottom, "m without film");
  py::class_<LoadResult>(m, "LoadResult", "What the film does to the load, at the end of wrapping.")
      .def_readonly("closing_along_length", &LoadResult::closing_along_length, "m, greatest over the height")
      .def_readonly("closing_along_width", &LoadResult::closing_along_width, "m, greatest over the height")
      .def_readonly("corner_force", &LoadResult::corner_force, "N/m, greatest line force on an edge")
      .def_readonly("corner_pressure", &LoadResult::corner_pressure, "Pa, over the arc of the corner radius");
  py::class_<FilmUse>(m, "FilmUse", "Film drawn from the roll.")
      .def_readonly("length_on_roll", &FilmUse::length_on_roll, "m")
      .def_readonly("mass", &FilmUse::mass, "kg");
  py::class_<Sensitivity>(m, "Sensitivity", "d ln(containment) / d ln(force)")
      .def_readonly("end", &Sensitivity::end)
      .def_readonly("after_storage", &Sensitivity::after_storage);
  using U = UnknownInput;
  py::class_<U>(m, "UnknownInput", "An assumed input and what its stated range does to containment.")
      .def_readonly("key", &U::key)
      .def_readonly("value_text", &U::value_text)
      .def_readonly("low_text", &U::low_text)
      .def_readonly("high_text", &U::high_text)
      .def_readonly("containment_low", &U::containment_low, "N/m at the low end")
      .def_readonly("containment_high", &U::containment_high, "N/m at the high end")
      .def_readonly("effect", &U::effect, "(greatest - least) / nominal")
      .def_readonly("how_to_measure", &U::how_to_measure)
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
      .def_readonly("met", &T::met);
  using W = Warning;
  py::class_<W>(m, "Warning", "What a person must know before using the numbers.")
      .def_readonly("code", &W::code)
      .def_readonly("severity", &W::severity, "\"note\", \"caution\" or \"danger\"")
      .def_readonly("key", &W::key)
      .def_readonly("text", &W::text)
      .def("__repr__", [](const W& w) { return "<hoopfield.Warning " + w.severity + ": " + w.text + ">"; });
  using N = SolverCounters;
  py::class_<N>(m, "SolverCounters")
      .def_readonly("steps", &N::steps)
      .def_readonly("rejected", &N::rejected)
      .def_readonly("iterations", &N::iterations)
      .def_readonly("branch_updates", &N::branch_updates)
      .def_readonly("corner_slips", &N::corner_slips, "times that film slipped round corners after lay-down");
}

void bind_whole(py::module_& m) {
  using R = Result;
  py::class_<R> c(m, "Result", "One prediction: plain arrays and numbers in SI units.");
  rows(c, "time", &R::time, "s, 0 = end of wrapping");
  rows(c, "height", &R::height, "m, slice centres");
  rows(c, "turn", &R::turn, "1, 2, ... finished turns");
  rows(c, "temperature", &R::temperature, "K at each time");
  field(c, "hoop_tension", &R::hoop_tension, 3, "(time, face, height) N/m");
  field(c, "film_layers", &R::film_layers, 2, "(face, height)");
  field(c, "hoop_tension_buildup", &R::hoop_tension_buildup, 3, "(turn, face, height) N/m");
  field(c, "layer_tension", &R::layer_tension, 3, "(film_layer, face, height) N/m at time 0");
  field(c, "closing_along_length", &R::closing_along_length, 2, "(time, height) m");
  field(c, "closing_along_width", &R::closing_along_width, 2, "(time, height) m");
  c.def_readonly("version", &R::version)
      .def_readonly("end", &R::end)
      .def_readonly("after_storage", &R::after_storage)
      .def_readonly("film_path", &R::film_path)
      .def_readonly("span", &R::span)
      .def_readonly("pattern", &R::pattern)
      .def_readonly("load", &R::load)
      .def_readonly("film", &R::film)
      .def_readonly("sensitivity", &R::sensitivity, "None until it is asked for")
      .def_readonly("assumed", &R::assumed, "ranked, largest effect first; empty until ranked")
      .def_readonly("targets", &R::targets)
      .def_readonly("warnings", &R::warnings)
      .def_readonly("force_balance_error", &R::force_balance_error)
      .def_readonly("counters", &R::counters)
      .def(py::pickle(
          [](const R& r) {
            R copy = r;
            Saver saver;
            members(saver, copy);
            return saver.take();
          },
          [](const py::tuple& state) {
            R r;
            Loader loader(state);
            members(loader, r);
            return r;
          }));
}

}  // namespace

void bind_result(py::module_& m) {
  bind_film_path(m);
  bind_span(m);
  bind_station(m);
  bind_containment(m);
  bind_small_parts(m);
  bind_whole(m);
  m.def("predict", &compute, py::arg("scenario"), py::arg("progress"), py::arg("complete"),
        "Predicts one wrap; `complete` adds sensitivity and ranked unknowns, as the command does.");
  m.def("with_sensitivity",
        [](const Scenario& s, const Result& r, py::object progress) {
          return extend(s, r, std::move(progress), add_sensitivity);
        },
        py::arg("scenario"), py::arg("result"), py::arg("progress"), "A copy of the result with its sensitivity.");
  m.def("with_ranking",
        [](const Scenario& s, const Result& r, py::object progress) {
          return extend(s, r, std::move(progress), rank_unknowns);
        },
        py::arg("scenario"), py::arg("result"), py::arg("progress"), "A copy of the result with ranked unknowns.");
  m.def("summary_json", [](const Scenario& s, const Result& r) { return summary_json(s, r); }, py::arg("scenario"),
        py::arg("result"), "The summary as the command prints it with --json, without run_info.");
  m.def("hdf5_bytes",
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
