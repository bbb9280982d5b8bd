// SPDX-License-Identifier: BSD-3-Clause
// The load in transit: the long answer, and a stack of one's own under any course of acceleration.
#include "bindings/python/src/arrays.hpp"
#include "bindings/python/src/bind.hpp"
#include "bindings/python/src/observer.hpp"
#include "models/error.hpp"
#include "sim/bands/transit_bands.hpp"
#include "sim/inputs/requirement.hpp"
#include "sim/io/text/transit_json.hpp"
#include "sim/transit/answer.hpp"
#include "sim/words/transit_text.hpp"
#include "sim/wrap/predict_denser.hpp"

#include <pybind11/numpy.h>
#include <pybind11/stl.h>

#include <cstdint>
#include <string>
#include <utility>
#include <vector>

namespace hoopfield::python {
namespace {

namespace py = pybind11;

py::array_t<double> by_tier(const std::vector<double>& numbers, std::size_t tiers) {
  const std::size_t rows = tiers == 0 ? 0 : numbers.size() / tiers;
  py::array_t<double> array({static_cast<py::ssize_t>(rows), static_cast<py::ssize_t>(tiers)});
  std::copy(numbers.begin(), numbers.end(), array.mutable_data());
  return array;
}

py::dict history(const Ride& ride) {
  const std::size_t tiers = ride.tiers.size();
  py::dict out;
  out["time"] = by_tier(ride.time, 1).attr("ravel")();
  out["base_acceleration"] = by_tier(ride.along, 1).attr("ravel")();
  out["displacement"] = by_tier(ride.shift, tiers);
  out["rotation"] = by_tier(ride.turn, tiers);
  out["slip"] = by_tier(ride.slip, tiers);
  out["film_force"] = by_tier(ride.film_force, tiers);
  return out;
}

py::tuple answer(const Scenario& scenario, const Result& result, bool tilt, std::int64_t band_samples,
                 py::object progress) {
  check_band_samples(band_samples);
  PythonObserver observer(std::move(progress));
  const TransitAnswer found = observer.run([&] {
    observer.section(0.0, band_samples > 0 ? 0.3 : 1.0);
    TransitOptions options;
    options.tilt = tilt;
    options.predictor = predict_denser;
    TransitAnswer made = answer_transit(scenario, result, options, &observer);
    observer.section(0.3, 1.0);
    add_transit_bands(scenario, result, made, static_cast<std::size_t>(band_samples), &observer);
    return made;
  });
  py::dict histories;
  for (std::size_t d = 0; d < 2; ++d) histories[load_direction_names[d]] = history(found.direction[d].ride);
  return py::make_tuple(transit_json(scenario, found), histories, words::transit_text(scenario, found, {}));
}

double number(const py::dict& from, const char* name) {
  if (!from.contains(name)) throw InputError(std::string("a tier needs \"") + name + "\"");
  return from[name].cast<double>();
}

TransitStack stack_of(const py::list& tiers, const py::dict& keys) {
  TransitStack stack;
  for (const auto& item : tiers) {
    const auto tier = item.cast<py::dict>();
    stack.tiers.push_back({number(tier, "height"), number(tier, "mass"), number(tier, "friction"),
                           tier.contains("hoop_tension") ? number(tier, "hoop_tension") : 0.0,
                           tier.contains("film_stiffness") ? number(tier, "film_stiffness") : 0.0});
  }
  stack.film_top = stack.height();
  const std::pair<const char*, double TransitStack::*> members[] = {{"side", &TransitStack::side},
                                                                    {"sliding_share", &TransitStack::sliding_share},
                                                                    {"sway_stiffness", &TransitStack::sway_stiffness},
                                                                    {"tier_stiffness", &TransitStack::tier_stiffness},
                                                                    {"damping", &TransitStack::damping},
                                                                    {"bearing_share", &TransitStack::bearing_share},
                                                                    {"case_friction", &TransitStack::case_friction},
                                                                    {"film_friction", &TransitStack::film_friction},
                                                                    {"film_bottom", &TransitStack::film_bottom},
                                                                    {"film_top", &TransitStack::film_top},
                                                                    {"pallet_lock", &TransitStack::pallet_lock},
                                                                    {"top_fold_hold", &TransitStack::top_fold_hold}};
  std::size_t known = 0;
  for (const auto& [name, member] : members)
    if (keys.contains(name)) stack.*member = keys[name].cast<double>(), ++known;
  if (keys.contains("columns")) stack.columns = keys["columns"].cast<int>(), ++known;
  if (known != keys.size()) throw InputError("ride: an argument is not one of a stack; see help(hoopfield.ride)");
  return stack;
}

py::dict ride_of(const py::list& tiers, const std::vector<double>& time, const std::vector<double>& along,
                 const std::vector<double>& normal, double duration, double interval, std::optional<double> step,
                 const py::dict& keys) {
  if (along.size() != time.size() || normal.size() != time.size())
    throw InputError("ride: time, acceleration and normal differ in length");
  if (!(duration > 0.0 && duration <= 600.0)) throw OutOfRange("ride: a duration is more than 0 s and at most 600 s");
  std::vector<DrivePoint> points;
  for (std::size_t i = 0; i < time.size(); ++i) points.push_back({time[i], {along[i], normal[i]}});
  RideOptions options;
  options.duration = duration;
  options.record_interval = interval;
  options.step = step;
  const Ride done = ride(stack_of(tiers, keys), sampled_blow(std::move(points)), options);
  py::dict out = history(done);
  out["fallen"] = done.fallen;
  out["lean"] = done.lean;
  py::list slips, peaks;
  for (const RideTier& tier : done.tiers) slips.append(tier.slip), peaks.append(tier.peak);
  out["final_slip"] = slips;
  out["peak"] = peaks;
  return out;
}

}  // namespace

void bind_transit(py::module_& m) {
  m.def("transit", &answer, py::arg("scenario"), py::arg("result"), py::arg("tilt") = false,
        py::arg("band_samples") = 0, py::arg("progress") = py::none(),
        "JSON, time histories by direction and words of the load in transit.");
  m.def("requirement_from_here", &requirement_from_here, py::arg("name"), "What transit.requirement takes for it.");
  m.def("ride", &ride_of, py::arg("tiers"), py::arg("time"), py::arg("along"), py::arg("normal"), py::arg("duration"),
        py::arg("interval"), py::arg("step"), py::arg("keys"), "A stack under a course of acceleration.");
}

}  // namespace hoopfield::python
