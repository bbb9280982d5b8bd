// SPDX-License-Identifier: BSD-3-Clause
// Stages by themselves: film path, take-up geometry, build-up and storage.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/film.hpp"
#include "bindings/python/src/observer.hpp"
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/wrap/plan.hpp"

#include <pybind11/stl.h>

#include <cmath>
#include <memory>
#include <numbers>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

/// A plan with the scenario it was made from, both kept for the build-up.
struct Plan {
  explicit Plan(const Scenario& s) : scenario(s), plan(plan_wrap(s)) {}
  Scenario scenario;
  WrapPlan plan;
};

FilmPathResult film_path(const Film& film, double width, double thickness, double prestretch, double force,
                         double take_up_speed, double roller_gap, double roller_arc, double internal_path,
                         double mean_span, std::optional<double> neck_in, std::optional<double> width_on_load,
                         std::optional<double> temperature) {
  const auto need = [](double value, const char* name, bool zero) {
    if (std::isfinite(value) && (value > 0.0 || (zero && value == 0.0))) return;
    throw OutOfRange(std::string(name) + ": expected a finite number " + (zero ? "of 0 or more" : "above 0"), {}, 0, 0,
                     name);
  };
  need(width, "width", false), need(thickness, "thickness", false), need(prestretch, "prestretch", true);
  need(force, "force", false), need(take_up_speed, "take_up_speed", false), need(roller_gap, "roller_gap", false);
  need(roller_arc, "roller_arc", true), need(internal_path, "internal_path", true), need(mean_span, "mean_span", true);
  FilmPathInput in;
  in.law = film.law.get();
  in.roll_width = width;
  in.roll_thickness = thickness;
  in.density = film.description.density;
  in.heat_capacity = film.description.thermal.heat_capacity;
  in.entropic_share = film.description.thermal.entropic_share;
  in.draw_ratio = 1.0 + prestretch;
  in.roller_gap = roller_gap;
  in.roller_arc = roller_arc;
  in.internal_path = internal_path;
  in.mean_span = mean_span;
  in.span_force = force;
  in.take_up_speed = take_up_speed;
  in.width_exponent = neck_in.value_or(film.description.neck_in);
  in.width_on_load = width_on_load;
  in.temperature = temperature.value_or(film.description.reference_temperature);
  need(in.temperature, "temperature", false);
  const py::gil_scoped_release release;
  return solve_film_path(in).result;
}

TakeUp make_take_up(double length, double width, double distance, double offset, double axis_offset,
                    double corner_radius) {
  TakeUpPlan plan;
  plan.length = length, plan.width = width, plan.distance = distance, plan.offset = offset;
  plan.axis_offset = axis_offset, plan.corner_radius = corner_radius;
  return TakeUp(plan);
}

py::dict take_up_at(const TakeUp& take_up, const py::object& angles) {
  const std::vector<double> angle = numbers_in(angles, "angle");
  std::vector<double> lever_arm, span, wrap_rate, normal_angle;
  py::array_t<int> corner(static_cast<py::ssize_t>(angle.size()));
  for (std::size_t i = 0; i < angle.size(); ++i) {
    const TakeUpPoint p = take_up.at(angle[i]);
    lever_arm.push_back(p.lever_arm);
    span.push_back(p.span);
    wrap_rate.push_back(p.wrap_rate);
    normal_angle.push_back(p.normal_angle);
    corner.mutable_data()[i] = static_cast<int>(p.corner);
  }
  py::dict out;
  out["lever_arm"] = copy_out(lever_arm);
  out["span"] = copy_out(span);
  out["wrap_rate"] = copy_out(wrap_rate);
  out["normal_angle"] = copy_out(normal_angle);
  out["corner"] = corner;
  return out;
}

py::list take_up_events(const TakeUp& take_up) {
  py::list list;
  for (const FaceEvent& e : take_up.events())
    list.append(py::make_tuple(e.angle, face_names.at(e.face), e.span_before, e.span_after));
  return list;
}

/// One number per patch.
template <typename Read>
py::array_t<double> per_patch(const Plan& p, Read read) {
  std::vector<double> values;
  for (const LaidPatch& patch : p.plan.patches) values.push_back(read(patch));
  return copy_out(values);
}

// The film of a patch is brought to another force by an elastic jump, as a slip of film would.
void set_forces(const Plan& p, const std::vector<double>& force, std::vector<LaidPatch>& patches) {
  for (std::size_t i = 0; i < patches.size(); ++i) {
    if (!(force[i] > 0.0))
      throw OutOfRange("face_force: value " + std::to_string(i) + " is not above 0 N", {}, 0, 0, "face_force");
    LaidPatch& patch = patches[i];
    if (force[i] == patch.force) continue;
    const double nominal = p.plan.law->stress(patch.state, p.plan.film_path.mode, p.plan.wrap_temperature).nominal;
    const double stretch = stretch_at_stress(*p.plan.law, patch.state, nominal * force[i] / patch.force,
                                             p.plan.film_path.mode, p.plan.wrap_temperature);
    (void)p.plan.law->step(patch.state, stretch, 0.0, p.plan.film_path.mode, p.plan.wrap_temperature,
                           p.plan.wrap_temperature);
    patch.force = force[i];
  }
}

std::vector<double> rising_times(const py::object& values, double duration) {
  std::vector<double> times = numbers_in(values, "time");
  if (times.front() != 0.0) throw InputError("time: must begin with 0, the end of wrapping", {}, 0, 0, "time");
  for (std::size_t i = 1; i < times.size(); ++i)
    if (!(times[i] > times[i - 1])) throw InputError("time: must rise", {}, 0, 0, "time");
  if (times.back() > duration * (1.0 + 1e-12))
    throw OutOfRange("time: runs beyond storage.duration (" + short_number(duration) + " s)", {}, 0, 0, "time");
  if (times.back() < duration) times.push_back(duration);  // the march ends there
  return times;
}

BuildUpResult run_build_up(const Plan& p, const py::object& face_force, const py::object& time, py::object progress) {
  BuildUpInput input = build_up_input(p.scenario, p.plan);
  if (!face_force.is_none()) set_forces(p, numbers_in(face_force, "face_force", input.patches.size()), input.patches);
  if (!time.is_none()) input.output_times = rising_times(time, p.scenario.storage.duration);
  PythonObserver observer(std::move(progress));
  input.keep_going = [&](double share) { return observer.progress(share, "winding and storage"); };
  return observer.run([&] { return build_up(input); });
}

void bind_plan(py::module_& m) {
  py::class_<Plan>(m, "Plan", "Everything known before film touches the load.")
      .def(py::init<const Scenario&>(), py::arg("scenario"), py::call_guard<py::gil_scoped_release>())
      .def_property_readonly(
          "film_path", [](const Plan& p) -> const FilmPathResult& { return p.plan.film_path.result; },
          py::return_value_policy::reference_internal)
      .def_property_readonly(
          "perimeter", [](const Plan& p) { return p.plan.perimeter; }, "m")
      .def_property_readonly(
          "rotation_time", [](const Plan& p) { return p.plan.rotation_time; }, "s of rotation")
      .def_property_readonly(
          "film_length_on_roll", [](const Plan& p) { return p.plan.film_length_on_roll; }, "m")
      .def_property_readonly(
          "output_times", [](const Plan& p) { return copy_out(build_up_input(p.scenario, p.plan).output_times); },
          "s, of the fields of a prediction")
      .def_property_readonly(
          "face",
          [](const Plan& p) {
            std::vector<std::string> names;
            for (const LaidPatch& l : p.plan.patches) names.emplace_back(face_names.at(l.patch.face));
            return names;
          },
          "face of each patch, in the order they are laid")
      .def_property_readonly(
          "turn", [](const Plan& p) { return per_patch(p, [](const auto& l) { return l.patch.angle; }); },
          "turns since the start when each patch is laid")
      .def_property_readonly(
          "time", [](const Plan& p) { return per_patch(p, [](const auto& l) { return l.time; }); },
          "s, 0 = end of wrapping")
      .def_property_readonly(
          "edge_begin", [](const Plan& p) { return per_patch(p, [](const auto& l) { return l.patch.edge_begin; }); },
          "lower edge at the corner laid first, m")
      .def_property_readonly(
          "edge_end", [](const Plan& p) { return per_patch(p, [](const auto& l) { return l.patch.edge_end; }); },
          "lower edge at the corner laid last, m")
      .def_property_readonly(
          "width", [](const Plan& p) { return per_patch(p, [](const auto& l) { return l.patch.width; }); }, "m")
      .def_property_readonly(
          "force", [](const Plan& p) { return per_patch(p, [](const auto& l) { return l.force; }); },
          "N over the whole film width")
      .def_property_readonly(
          "stretch", [](const Plan& p) { return per_patch(p, [](const auto& l) { return l.state.stretch - 1.0; }); },
          "strain of the film of each patch");
}

void bind_build_up(py::module_& m) {
  using B = BuildUpResult;
  py::class_<B> c(m, "Buildup", "Hoop tension and closing of the load, turn by turn and over storage.");
  const auto field = [&](const char* name, Field B::*member, std::size_t rank, const char* doc) {
    c.def_property_readonly(
        name, [member, rank](const py::object& self) { return view(self.cast<const B&>().*member, rank, self); }, doc);
  };
  field("hoop_tension", &B::hoop_tension, 3, "(time, face, height) N/m");
  field("film_layers", &B::film_layers, 2, "(face, height)");
  field("hoop_tension_buildup", &B::hoop_tension_buildup, 3, "(turn, face, height) N/m");
  field("layer_tension", &B::layer_tension, 3, "(film_layer, face, height) N/m at time 0");
  field("closing_along_length", &B::closing_along_length, 2, "(time, height) m");
  field("closing_along_width", &B::closing_along_width, 2, "(time, height) m");
  field("slip_tension", &B::slip_tension, 2,
        "(face, height) N/m: what slip round the corners after lay-down gave a face, summed over all slips");
  c.def_readonly("unsettled_slips", &B::unsettled_slips, "times that film found no rest when it should have slipped");
  c.def_readonly("residual", &B::residual, "greatest relative residual of the force balance");
  m.def("buildup", &run_build_up, py::arg("plan"), py::arg("face_force"), py::arg("time"), py::arg("progress"),
        "Winds the patches of a plan and stores the load.");
}

}  // namespace

void bind_stages(py::module_& m) {
  m.def("film_path", &film_path, py::arg("film"), py::arg("width"), py::arg("thickness"), py::arg("prestretch"),
        py::arg("force"), py::arg("take_up_speed"), py::arg("roller_gap"), py::arg("roller_arc"),
        py::arg("internal_path"), py::arg("mean_span"), py::arg("neck_in"), py::arg("width_on_load"),
        py::arg("temperature"), "From the roll to the load under a span force; SI, stretch as strain.");
  py::class_<TakeUp>(m, "TakeUp", "How fast a turning rectangle takes film up.")
      .def(py::init(&make_take_up), py::arg("length"), py::arg("width"), py::arg("distance"), py::arg("offset"),
           py::arg("axis_offset"), py::arg("corner_radius"), "All in m.")
      .def("at", &take_up_at, py::arg("angle"), "lever_arm, span, wrap_rate, normal_angle and corner per angle (rad).")
      .def("events", &take_up_events, "The four faces of a turn as (angle, face, span before, span after).")
      .def_property_readonly("perimeter", &TakeUp::perimeter, "m")
      .def_property_readonly("mean_span", &TakeUp::mean_span, "m");
  bind_plan(m);
  bind_build_up(m);
}

}  // namespace hoopfield::python
