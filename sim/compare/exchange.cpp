// SPDX-License-Identifier: BSD-3-Clause
#include "sim/compare/exchange.hpp"

#include "sim/inputs/inputs.hpp"

#include <map>
#include <type_traits>

namespace hoopfield {

namespace {

/// A field itself; what StuckOr, Pairs and Spreads wrap.
template <typename FieldType>
auto& held(FieldType& field) {
  if constexpr (requires { field.value; })
    return field.value;
  else
    return field;
}

/// Where each field of a scenario lies; the type of a key's field is the same in every scenario.
std::map<std::string, const void*, std::less<>> field_places(const Scenario& scenario) {
  std::map<std::string, const void*, std::less<>> places;
  visit_inputs(scenario, [&](std::string_view key, const auto& field) {
    places[std::string(key)] = static_cast<const void*>(&held(field));
  });
  return places;
}

bool film_law(std::string_view key) {
  return key == "film.file" || key == "film.stiffness_scale" || key == "delivery.neck_in" ||
         key == "delivery.width_on_load";
}
bool prestretch(std::string_view key) { return key.starts_with("delivery.prestretch"); }
bool thickness(std::string_view key) { return key == "film.thickness" || key == "film.thickness_tolerance"; }
bool film_width(std::string_view key) { return key == "film.width"; }
bool span_force(std::string_view key) { return key.starts_with("delivery.tension."); }
bool turns(std::string_view key) { return key.starts_with("pattern.") || key.starts_with("carriage."); }
bool without_effect(std::string_view key) {
  return key.starts_with("scenario.") || key.starts_with("report.") || key.starts_with("cost.") ||
         key.starts_with("target.") || key == "film.price" || key == "uncertainty" || key == "numerics.band_samples";
}
bool rest(std::string_view key) {
  return !film_law(key) && !prestretch(key) && !thickness(key) && !film_width(key) && !span_force(key) && !turns(key) &&
         !without_effect(key);
}

}  // namespace

bool same_film(const Scenario& a, const Scenario& b) {
  if (a.film_text.empty() || b.film_text.empty()) return a.film_text == b.film_text && a.film.file == b.film.file;
  return a.film_text == b.film_text;
}

void copy_inputs(const Scenario& from, Scenario& to, const KeyTest& wanted) {
  const auto places = field_places(from);
  visit_inputs(to, [&](std::string_view key, auto&& field) {
    const auto place = places.find(key);
    if (place == places.end() || !wanted(key)) return;
    auto& target = held(field);
    target = *static_cast<const std::remove_reference_t<decltype(target)>*>(place->second);
    const std::string name(key);
    to.sources.erase(name);
    // The place in the other file means nothing beside this scenario's text.
    if (const auto source = from.sources.find(name); source != from.sources.end())
      to.sources[name] = {source->second.origin, {}, 0, 0};
  });
  if (!wanted("film.file")) return;
  to.film_description = from.film_description;
  to.film_text = from.film_text;
}

std::vector<std::string> differing_keys(const Scenario& a, const Scenario& b) {
  const auto places = field_places(b);
  std::vector<std::string> keys;
  visit_inputs(a, [&](std::string_view key, const auto& field) {
    const auto place = places.find(key);
    bool same = false;
    if (key == "film.file") {
      same = same_film(a, b);
    } else if (place != places.end()) {
      const auto& value = held(field);
      same = value == *static_cast<const std::remove_reference_t<decltype(value)>*>(place->second);
    }
    if (!same) keys.emplace_back(key);
  });
  return keys;
}

const std::vector<Factor>& factors() {
  static const std::vector<Factor> list = {{"film law", film_law},
                                           {"pre-stretch", prestretch},
                                           {"thickness", thickness},
                                           {"film width", film_width},
                                           {"span force", span_force},
                                           {"turns", turns},
                                           {"rest", rest}};
  return list;
}

}  // namespace hoopfield
