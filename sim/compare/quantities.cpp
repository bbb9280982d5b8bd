// SPDX-License-Identifier: BSD-3-Clause
// The numbers every side of a comparison may have.
#include "models/output_names.hpp"
#include "sim/compare/compare.hpp"
#include "sim/compare/detail.hpp"
#include "sim/transit/transit_numbers.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <stdexcept>
#include <string_view>

namespace hoopfield {

namespace {

using Value = std::optional<double>;
using List = std::vector<CompareQuantity>;

struct Words {
  std::string whole, brief;
};

/// A quantity with the unit of a declaration, under a name of its own.
CompareQuantity like(const Parameter& p, const std::string& name, const Words& words) {
  const std::string leaf(p.key.substr(p.key.rfind('.') + 1)), ending = json_leaf(p).substr(leaf.size());
  const std::string unit = p.unit.starts_with("money") ? std::string(p.unit) : file_unit(p);
  return {name, unit, name + ending, json_number(p, 1.0) - json_number(p, 0.0), words.whole, words.brief, {}};
}

const Parameter& output(std::string_view key) { return *find_parameter(ParameterRoom::output, key); }

/// An output under its own name and words; those up to a colon are brief unless others are given.
template <typename Function>
void add(List& list, const std::string& key, Function&& value, const std::string& brief = {}) {
  const Parameter& p = output(key);
  const std::string label(p.label);
  list.push_back(like(p, key, {label, brief.empty() ? label.substr(0, label.find(':')) : brief}));
  list.back().value = std::forward<Function>(value);
}

/// A quantity that is measured in the unit of an output.
template <typename Function>
void add_like(List& list, std::string_view declared, const std::string& name, const Words& words, Function&& value) {
  list.push_back(like(output(declared), name, words));
  list.back().value = std::forward<Function>(value);
}

/// A number of the prediction; absent for measured and failed sides.
template <typename Function>
auto predicted(Function&& value) {
  return [value](const ComparedSide& side) { return side.result ? Value(value(*side.result)) : std::nullopt; };
}

template <typename Function>
auto in_chain(Function&& value) {
  return [value](const ComparedSide& side) { return side.economics ? Value(value(*side.economics)) : std::nullopt; };
}

/// The prediction's number, or the mean of the readings.
template <typename Function>
auto either(Function&& value, std::optional<MeasuredValue> MeasuredNumbers::*reading) {
  return [value, reading](const ComparedSide& side) -> Value {
    if (side.result) return value(*side.result);
    if (side.readings && (*side.readings).*reading) return ((*side.readings).*reading)->mean;
    return std::nullopt;
  };
}

/// A moment of a prediction, and which of the readings was taken then.
struct Moment {
  const char *root, *words, *brief;
  ContainmentResult Result::*predicted;
  std::optional<std::size_t> read;
};
constexpr Moment moments[] = {{"containment.end.", ", end of wrapping", ", at the end", &Result::end, 0},
                              {"containment.weakest.", ", weakest in storage", ", weakest", &Result::weakest, {}},
                              {"containment.after_storage.", ", after storage", "", &Result::after_storage, 1}};

Value pull_force(const ComparedSide& side, const Moment& moment, std::size_t station) {
  if (side.result) return ((*side.result).*moment.predicted).stations[station].pull_force;
  if (side.readings && moment.read && side.readings->pull_force[*moment.read][station])
    return side.readings->pull_force[*moment.read][station]->mean;
  return std::nullopt;
}

/// Only when all three stations have one.
Value least_pull_force(const ComparedSide& side, const Moment& moment) {
  Value lowest;
  for (std::size_t s = 0; s < station_names.size(); ++s) {
    const Value here = pull_force(side, moment, s);
    if (!here) return std::nullopt;
    lowest = std::min(lowest.value_or(*here), *here);
  }
  return lowest;
}

void add_containment(List& list, const Moment& moment) {
  const std::string root = moment.root, words = moment.words, brief = moment.brief;
  const auto when = moment.predicted;
  const char *const tension = "containment.hoop_tension", *const force = "containment.pull_force";
  for (std::size_t s = 0; s < station_names.size(); ++s)
    add_like(list, tension, root + station_names[s] + ".hoop_tension",
             {std::string("hoop tension, ") + station_names[s] + words,
              std::string("hoop tension, ") + station_names[s] + brief},
             predicted([when, s](const Result& r) { return (r.*when).stations[s].hoop_tension; }));
  add_like(list, tension, root + "least_station.hoop_tension",
           {"hoop tension, weakest station" + words, "least hoop tension" + brief},
           predicted([when](const Result& r) { return least_of_stations(r.*when); }));
  for (std::size_t s = 0; s < station_names.size(); ++s)
    add_like(list, force, root + station_names[s] + ".pull_force",
             {std::string("pull force, ") + station_names[s] + words,
              std::string("pull force, ") + station_names[s] + brief},
             [&moment, s](const ComparedSide& side) { return pull_force(side, moment, s); });
  add_like(list, force, root + "least_station.pull_force",
           {"pull force, weakest station" + words, "least pull force" + brief},
           [&moment](const ComparedSide& side) { return least_pull_force(side, moment); });
}

void add_film(List& list) {
  using M = MeasuredNumbers;
  add(list, "film.mass", either([](const Result& r) { return r.film.mass; }, &M::film_mass));
  add(list, "film.length_on_roll", predicted([](const Result& r) { return r.film.length_on_roll; }), "roll per load");
  add(list, "pattern.turns", either([](const Result& r) { return r.pattern.turns; }, &M::turns));
  add(list, "pattern.rotation_time", predicted([](const Result& r) { return r.pattern.rotation_time; }));
  add_like(list, "film.stretch_on_load", "film.prestretch", {"pre-stretch set", "pre-stretch set"},
           [](const ComparedSide& side) {
             return side.scenario && !side.failed ? Value(side.scenario->delivery.prestretch) : std::nullopt;
           });
  add(list, "film.stretch_on_load",
      either([](const Result& r) { return r.film_path.stretch_on_load - 1.0; }, &M::stretch_on_load));
  add(list, "film.laid_width", either([](const Result& r) { return r.film_path.laid_width; }, &M::laid_width));
  add(list, "film.prestretch_force", predicted([](const Result& r) { return r.film_path.prestretch_force; }),
      "pre-stretch force");
  add(list, "film.stiffness_over_force", predicted([](const Result& r) { return r.film_path.stiffness_over_force; }),
      "stiffness over force");
  add(list, "span.force_set", predicted([](const Result& r) { return r.span.force_set; }));
  add(list, "load.edge_line_force", predicted([](const Result& r) { return r.load.edge_line_force; }),
      "line force on an edge");
}

/// What virtual tests of the film alone say, under the names and units of the glossary.
void add_film_numbers(List& list) {
  for (const DerivedField& field : derived_fields()) {
    Parameter p = *field.parameter;
    if (p.unit == "Pa") p.json_unit = "MPa";
    if (p.unit == "J/m^3") p.json_unit = "J/m3";
    if (p.unit.empty() && p.metric == "%") p.json_unit = "%";
    std::string sentence(p.sentence);
    if (sentence.ends_with('.')) sentence.pop_back();
    if (!sentence.empty() && sentence[0] >= 'A' && sentence[0] <= 'Z')
      sentence[0] = static_cast<char>(sentence[0] + 32);
    list.push_back(like(p, std::string(p.key), {sentence, std::string(p.label)}));
    list.back().value = [member = field.value](const ComparedSide& side) {
      return side.film_numbers ? (*side.film_numbers).*member : std::nullopt;
    };
  }
}

/// What a side is predicted to withstand on its way, at its least hoop tension; absent without a mass.
Value in_transit(const ComparedSide& side, std::size_t place) {
  if (side.in_transit.empty()) return std::nullopt;
  const double value = side.in_transit.at(place);
  return std::isfinite(value) ? Value(value) : std::nullopt;
}

void add_transit(List& list) {
  constexpr std::array along = {", along the length", ", along the width"}, aside = {", length", ", width"};
  // In the order of transit_leaves().
  constexpr std::array brief = {"first slip", "held with slip",    "tipping",
                                "withstood",  "share of the film", "over required"};
  for (std::size_t d = 0; d < along.size(); ++d)
    for (std::size_t leaf = 0; leaf < transit_leaves().size(); ++leaf) {
      const std::string declared = std::string("transit.") + transit_leaves()[leaf];
      const std::string label(output(declared).label);
      add_like(
          list, declared, transit_name(weakest_moment, d, leaf),
          {label + along[d] + ", weakest in storage", std::string(brief.at(leaf)) + aside[d]},
          [place = d * transit_leaves().size() + leaf](const ComparedSide& side) { return in_transit(side, place); });
    }
}

Value sensitivity(const ComparedSide& side, double Sensitivity::*member) {
  return side.result && side.result->sensitivity ? Value((*side.result->sensitivity).*member) : std::nullopt;
}

void add_judgement(List& list) {
  add(
      list, "sensitivity.end", [](const ComparedSide& side) { return sensitivity(side, &Sensitivity::end); },
      "gain of force, at the end");
  add(
      list, "sensitivity.after_storage",
      [](const ComparedSide& side) { return sensitivity(side, &Sensitivity::after_storage); }, "gain of force");
  const auto count = [](bool met) {
    return [met](const ComparedSide& side) -> Value {
      if (!side.result || side.result->targets.empty()) return std::nullopt;
      const auto& all = side.result->targets;
      return static_cast<double>(std::count_if(all.begin(), all.end(), [met](const auto& t) { return t.met == met; }));
    };
  };
  add_like(list, "pattern.turns", "targets.met", {"targets met", "targets met"}, count(true));
  add_like(list, "pattern.turns", "targets.missed", {"targets missed", "targets missed"}, count(false));
}

void add_cost(List& list) {
  using E = Economics;
  using Y = YearlyEconomics;
  add(list, "cost.film_price", in_chain([](const E& e) { return e.film_price; }));
  add(list, "cost.film_per_load", in_chain([](const E& e) { return e.film_cost; }));
  add(list, "cost.per_load", in_chain([](const E& e) { return e.cost; }));
  add_like(list, "cost.film_price", "cost.break_even_price", {"break-even film price", "break-even price"},
           [](const ComparedSide& side) { return side.break_even_price; });
  add(list, "cost.loads_per_roll", in_chain([](const E& e) { return e.loads_per_roll; }));
  add(list, "cost.co2e_low", in_chain([](const E& e) { return Value(e.co2e_low); }));
  add(list, "cost.co2e_high", in_chain([](const E& e) { return Value(e.co2e_high); }));
  const auto yearly = [](auto member) {
    return in_chain([member](const E& e) { return e.year ? Value((*e.year).*member) : std::nullopt; });
  };
  add(list, "cost.year.film_mass", yearly(&Y::film_mass));
  add(list, "cost.year.rolls", yearly(&Y::rolls));
  add(list, "cost.year.roll_change_time", yearly(&Y::roll_change_time));
  add(list, "cost.year.total", yearly(&Y::cost));
  add(list, "cost.year.co2e_low", yearly(&Y::co2e_low));
  add(list, "cost.year.co2e_high", yearly(&Y::co2e_high));
}

const CompareQuantity* find_quantity(const std::string& name) {
  const List& all = compare_quantities();
  const auto found = std::find_if(all.begin(), all.end(), [&](const CompareQuantity& q) { return q.name == name; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace

const std::vector<CompareQuantity>& compare_quantities() {
  static const List quantities = [] {
    List list;
    for (const Moment& moment : moments) add_containment(list, moment);
    add_film(list);
    add_film_numbers(list);
    add_judgement(list);
    add_transit(list);
    add_cost(list);
    return list;
  }();
  return quantities;
}

const BandResult* ComparedSide::draws() const {
  if (measured_band) return &*measured_band;
  return result && result->band && result->band->message.empty() ? &*result->band : nullptr;
}

std::vector<double> compare_draws(const ComparedSide& side, const std::string& name) {
  const BandResult* band = side.draws();
  return band == nullptr ? std::vector<double>{} : compare_detail::draws_of(*band, name);
}

std::vector<double> compare_detail::draws_of(const BandResult& band, const std::string& name) {
  constexpr std::string_view least = ".least_station.";
  const std::size_t found = name.find(least);
  if (found == std::string::npos) return band.values(name);
  std::vector<double> values;
  for (const char* station : station_names) {
    const std::vector<double> here =
        band.values(name.substr(0, found) + "." + station + "." + name.substr(found + least.size()));
    if (here.empty()) return {};
    if (values.empty()) values = here;
    // NaN stays, whichever comes first.
    for (std::size_t i = 0; i < here.size(); ++i)
      values[i] = here[i] < values[i] || here[i] != here[i] ? here[i] : values[i];
  }
  return values;
}

const PairedBand* paired_band(const ComparedSide& side, const std::string& name) {
  const auto found =
      std::find_if(side.paired.begin(), side.paired.end(), [&](const PairedBand& p) { return p.name == name; });
  return found == side.paired.end() ? nullptr : &*found;
}

const CompareQuantity& compare_quantity(const std::string& name) {
  if (const CompareQuantity* found = find_quantity(name)) return *found;
  throw std::out_of_range(name + " is no number of a comparison");
}

std::optional<double> compare_value(const ComparedSide& side, const std::string& name) {
  const CompareQuantity* found = find_quantity(name);
  return found != nullptr ? found->value(side) : std::nullopt;
}

}  // namespace hoopfield
