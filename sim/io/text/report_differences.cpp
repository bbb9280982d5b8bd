// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/detail/report_parts.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <utility>
#include <vector>

namespace hoopfield::detail {

namespace {

/// Numbers of a list; what is not a number (the page has null for what is not finite) becomes NaN.
std::vector<double> numbers(const Json& list) {
  std::vector<double> values;
  for (const Json& value : list) values.push_back(value.is_number() ? value.get<double>() : std::nan(""));
  return values;
}

/// The series at x between its points by a straight line; NaN outside of them.
double at(const std::vector<double>& points, const std::vector<double>& values, double x) {
  const auto next = std::lower_bound(points.begin(), points.end(), x);
  if (next == points.end()) return std::nan("");
  const auto i = static_cast<std::size_t>(next - points.begin());
  if (*next == x) return values[i];
  if (i == 0) return std::nan("");
  return values[i - 1] + (values[i] - values[i - 1]) * (x - points[i - 1]) / (points[i] - points[i - 1]);
}

/// Candidate minus present at the points of the candidate; null where the present has no number.
Json minus(const Json& present_points, const Json& present, const Json& points, const Json& candidate) {
  const std::vector<double> x0 = numbers(present_points), y0 = numbers(present);
  const std::vector<double> x = numbers(points), y = numbers(candidate);
  Json list = Json::array();
  for (std::size_t i = 0; i < x.size(); ++i) {
    const double difference = y[i] - at(x0, y0, x[i]);
    list.push_back(std::isfinite(difference) ? Json(rounded(difference)) : Json(nullptr));
  }
  return list;
}

Json over(const char* axis, const std::vector<std::string>& paths, const Json& present, const Json& candidate) {
  Json json = {{axis, candidate.at(axis)}};
  for (const std::string& path : paths) {
    const Json::json_pointer place("/" + path);
    if (present.contains(place) && candidate.contains(place))
      json[place] = minus(present.at(axis), present.at(place), candidate.at(axis), candidate.at(place));
  }
  return json;
}

/// Film mass by part of the wrap; a part that one of the two lacks has no film there.
Json zone_masses(const Json& present, const Json& candidate) {
  const auto mass_in = [](const Json& zones, const std::string& name) {
    for (const Json& zone : zones)
      if (zone.at("name") == name) return zone.at("mass_kg").get<double>();
    return 0.0;
  };
  Json list = Json::array();
  const auto add = [&](const std::string& name) {
    const double before = mass_in(present, name), after = mass_in(candidate, name);
    list.push_back({{"name", name}, {"present_kg", before}, {"candidate_kg", after}, {"mass_kg", after - before}});
  };
  for (const Json& zone : candidate) add(zone.at("name"));
  for (const Json& zone : present) {
    const auto same = [&](const Json& row) { return row.at("name") == zone.at("name"); };
    if (std::none_of(list.begin(), list.end(), same)) add(zone.at("name"));
  }
  return list;
}

}  // namespace

double rounded(double value, int digits) {
  if (!std::isfinite(value) || value == 0.0) return value;
  const double scale = std::pow(10.0, digits - 1.0 - std::floor(std::log10(std::abs(value))));
  return std::isfinite(scale) && scale > 0.0 ? std::round(value * scale) / scale : value;
}

Json picture_differences(const Json& present, const Json& candidate) {
  Json json;
  json["over_height"] = over("height_m", {"end_N_per_m/mean", "after_storage_N_per_m/mean", "film_layers/mean"},
                             present.at("over_height"), candidate.at("over_height"));
  json["over_time"] = over("time_s", {"top_N_per_m", "middle_N_per_m", "bottom_N_per_m"}, present.at("over_time"),
                           candidate.at("over_time"));
  json["span"] = over("angle_deg", {"force_N"}, present.at("span"), candidate.at("span"));
  for (const auto& [face, mean] : candidate.at("face_means_N_per_m").items()) {
    const Json& before = present.at("face_means_N_per_m");
    if (before.contains(face) && before.at(face).is_number() && mean.is_number())
      json["face_means_N_per_m"][face] = mean.get<double>() - before.at(face).get<double>();
  }
  json["zones"] = zone_masses(present.at("zones"), candidate.at("zones"));
  return json;
}

namespace {

/// An end of a band of a ratio as a change: 0.9 is a tenth less.
Json change(const Json& ratio) { return ratio.is_number() ? Json(ratio.get<double>() - 1.0) : Json(nullptr); }

Json shown_difference(const Json& found) {
  const auto end = [&](const char* band, const char* p) {
    return found.contains(band) && found.at(band).is_object() ? found.at(band).at(p) : Json(nullptr);
  };
  const double difference = found.at("difference").get<double>();
  Json row = {{"difference", difference},
              {"size", std::abs(difference)},
              {"low", end("difference_band", "p05")},
              {"high", end("difference_band", "p95")},
              {"change", change(found.at("ratio"))},
              {"low_change", change(end("band", "p05"))},
              {"high_change", change(end("band", "p95"))}};
  if (!found.contains("words")) return row;
  std::string words = found.at("words");
  std::replace(words.begin(), words.end(), '_', ' ');
  row["words"] = std::move(words);
  return row;
}

}  // namespace

Json shown_differences(const Json& against_present, const Json& only) {
  Json list = Json::object();
  for (const auto& [name, found] : against_present.items())
    if (only.is_null() || only == name) list[name] = shown_difference(found);
  return list;
}

}  // namespace hoopfield::detail
