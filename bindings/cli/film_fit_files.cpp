// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/print_film_fit.hpp"
#include "models/caution.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/number_text.hpp"

#include <nlohmann/json.hpp>

#include <cmath>

namespace hoopfield::cli {

namespace {

using Json = nlohmann::ordered_json;

Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json curve_json(const CurveResidual& c) {
  return {{"file", c.name},
          {"kind", film_test_name(c.kind)},
          {"rate_per_s", c.rate},
          {"temperature_C", c.temperature - 273.15},
          {"points", c.rows_read},
          {"readings", c.measured.size()},
          {"rms", c.rms},
          {"greatest_residual", c.greatest},
          {"point_noise", c.noise},
          {"time_s", c.time},
          {"stretch_ratio", c.stretch},
          {"stress_Pa", c.measured},
          {"fitted_Pa", c.fitted}};
}

}  // namespace

std::string film_fit_json(const FilmFit& fit) {
  Json json = {{"version", build_version()},
               {"caution", short_caution},
               {"film", fit.film.name},
               {"branches", fit.film.branches.size()}};
  json["reference_temperature_C"] = fit.film.reference_temperature - 273.15;
  json["parameters"] = Json::array();
  for (const FittedParameter& p : fit.parameters) {
    Json entry = {{"key", p.key},
                  {"value_SI", p.value},
                  {"low_SI", finite(p.low)},
                  {"high_SI", finite(p.high)},
                  {"error", p.error},
                  {"error_before_curves", p.prior_error},
                  {"determined", p.determined}};
    entry["test_that_would_determine"] = p.test.empty() ? Json(nullptr) : Json(p.test);
    entry["error_with_that_test"] = p.test.empty() ? Json(nullptr) : Json(p.error_with_test);
    json["parameters"].push_back(entry);
  }
  json["correlation"] = Json::array();
  for (std::size_t i = 0; i < fit.parameters.size(); ++i) {
    Json row = Json::array();
    for (std::size_t j = 0; j < fit.parameters.size(); ++j) row.push_back(correlation(fit, i, j));
    json["correlation"].push_back(row);
  }
  json["numbers"] = Json::object();
  for (const DerivedInterval& d : fit.derived)
    json["numbers"][std::string(d.parameter->key.substr(d.parameter->key.find('.') + 1))] = {
        {"value_SI", d.value ? finite(*d.value) : Json(nullptr)},
        {"low_SI", finite(d.low)},
        {"high_SI", finite(d.high)},
        {"error_SI", finite(d.error)},
        {"determined", d.determined}};
  json["choices"] = Json::array();
  for (const FitChoice& c : fit.choices)
    json["choices"].push_back({{"branches", c.branches}, {"bic", c.bic}, {"rms", c.rms}});
  json["misfit"] = fit.misfit;
  json["law_error"] = fit.law_error;
  json["neighbour_correlation"] = fit.correlation;
  json["curves"] = Json::array();
  for (const CurveResidual& c : fit.curves) json["curves"].push_back(curve_json(c));
  json["held_out"] = Json::array();
  for (const CurveResidual& c : fit.held_out) json["held_out"].push_back(curve_json(c));
  json["not_determined"] = fit.unknown;
  json["warnings"] = fit.warnings;
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + '\n';
}

std::string film_fit_residuals_csv(const FilmFit& fit) {
  std::string text = "curve,time_s,stretch_percent,stress_MPa,fitted_MPa,residual_MPa\n";
  for (const auto* list : {&fit.curves, &fit.held_out})
    for (const CurveResidual& c : *list) {
      const std::string name = csv_cell(c.name);
      for (std::size_t i = 0; i < c.time.size(); ++i)
        text += name + "," + shortest(c.time[i]) + "," + shortest((c.stretch[i] - 1.0) * 100.0) + "," +
                shortest(c.measured[i] * 1e-6) + "," + shortest(c.fitted[i] * 1e-6) + "," +
                shortest((c.fitted[i] - c.measured[i]) * 1e-6) + "\n";
    }
  return text;
}

}  // namespace hoopfield::cli
