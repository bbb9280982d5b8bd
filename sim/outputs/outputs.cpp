// SPDX-License-Identifier: BSD-3-Clause
#include "sim/outputs/outputs.hpp"

#include "models/output_names.hpp"

#include <algorithm>
#include <array>
#include <limits>
#include <map>
#include <stdexcept>
#include <string_view>
#include <type_traits>
#include <utility>

namespace hoopfield {
namespace {

constexpr std::array<const char*, 3> moment_names = {"end", "weakest", "after_storage"};
constexpr std::array<const char*, 3> moment_words = {"end of wrapping", "weakest", "after storage"};

/// Outputs by key, filled member by member. Numbers of the same key are put one behind another, which is the order of
/// the axes when moments, stations and faces are walked from outside in.
class Collector {
 public:
  Collector& below(std::string prefix) {
    prefix_ = std::move(prefix);
    return *this;
  }

  template <typename T>
  void operator()(const char* name, const T& member) {
    const std::string key = prefix_ + name;
    if constexpr (std::is_same_v<T, double>) {
      slot(key).numbers.push_back(member);
    } else if constexpr (std::is_same_v<T, std::vector<double>>) {
      add_row(key, member);
    } else if constexpr (std::is_same_v<T, Field>) {
      OutputValue& to = slot(key);
      to.shape = member.shape;
      to.numbers = member.data;
    } else if constexpr (std::is_same_v<T, std::optional<double>>) {
      if (member) slot(key).numbers.push_back(*member);
    }  // what else a struct holds is walked by visit_outputs
  }
  void operator()(const char* name, Stretch<const double> member) { (*this)(name, member.ratio - 1.0); }
  void operator()(const char* name, Stretch<const std::vector<double>> member) {
    std::vector<double> strains = member.ratio;
    for (double& strain : strains) strain -= 1.0;
    add_row(prefix_ + name, strains);
  }
  void operator()(const char* name, FaceNames<const std::size_t> member) {
    slot(prefix_ + name).words.emplace_back(face_names.at(member.faces));
  }
  void operator()(const char* name, FaceNames<const std::vector<std::size_t>> member) {
    for (const std::size_t face : member.faces) slot(prefix_ + name).words.emplace_back(face_names.at(face));
  }

  /// Hands out what was filled, in the order of the declarations. A member without a declaration is a mistake in the
  /// program: it would be lost on every surface.
  void hand_out(std::span<const Parameter> declarations, const std::function<void(const OutputValue&)>& visit) {
    for (const auto& filled : values_)
      if (std::none_of(declarations.begin(), declarations.end(),
                       [&](const Parameter& p) { return p.key == filled.first; }))
        throw std::logic_error("output " + filled.first + " is not declared in models/parameter_outputs*.cpp");
    for (const Parameter& p : declarations) {
      const auto found = values_.find(p.key);
      if (found == values_.end()) continue;
      OutputValue& value = found->second;
      if (value.numbers.empty() && value.words.empty()) continue;
      value.declaration = &p;
      shape(value);
      visit(value);
    }
  }

 private:
  OutputValue& slot(const std::string& key) { return values_.try_emplace(key).first->second; }

  void add_row(const std::string& key, const std::vector<double>& row) {
    OutputValue& to = slot(key);
    to.numbers.insert(to.numbers.end(), row.begin(), row.end());
  }

  /// Fields bring their shape; the others have named axes, and one axis as long as the row.
  static void shape(OutputValue& value) {
    if (!value.shape.empty()) return;
    const std::size_t count = value.words.empty() ? value.numbers.size() : value.words.size();
    for (const std::string& axis : axis_list(*value.declaration)) {
      const std::size_t named = axis_names(axis).size();
      value.shape.push_back(named > 0 ? named : count);
    }
    std::size_t product = 1;
    for (const std::size_t length : value.shape) product *= length;
    if (product != count)
      throw std::logic_error("output " + std::string(value.declaration->key) + ": its numbers do not fill its axes");
  }

  std::string prefix_;
  std::map<std::string, OutputValue, std::less<>> values_;
};

void collect_containment(Collector& collector, const Result& r) {
  for (const ContainmentResult* moment : {&r.end, &r.weakest, &r.after_storage}) {
    ContainmentResult::members(*moment, collector.below("containment."));
    for (const StationResult& station : moment->stations) {
      StationResult::members(station, collector.below("containment."));
      for (const StationFace& face : station.faces) StationFace::members(face, collector.below("containment.faces."));
    }
  }
}

/// Every combination of names along the axes of an output, the last axis fastest; nothing when an axis has no names.
std::vector<std::vector<std::string>> places_of(const Parameter& p) {
  std::vector<std::vector<std::string>> places = {{}};
  for (const std::string& axis : axis_list(p)) {
    std::vector<std::vector<std::string>> longer;
    for (const auto& place : places)
      for (const std::string& name : axis_names(axis)) {
        longer.push_back(place);
        longer.back().push_back(name);
      }
    places = std::move(longer);
  }
  return places;
}

/// "hoop tension, mean of the faces, after storage, top"
std::string long_name(const Parameter& p, const std::vector<std::string>& place) {
  std::string words(p.label);
  for (const std::string& name : place) {
    const auto moment = std::find(moment_names.begin(), moment_names.end(), name) - moment_names.begin();
    if (static_cast<std::size_t>(moment) < moment_names.size())
      words += std::string(", ") + moment_words[static_cast<std::size_t>(moment)];
    else if (std::find(face_names.begin(), face_names.end(), name) != face_names.end())
      words += ", " + name + " face";
    else
      words += ", " + name;
  }
  return words;
}

bool is_word(const Parameter& p) { return p.key == "containment.least.face" || p.key == "span.face"; }

std::vector<SummaryOutput> list_summary() {
  std::vector<SummaryOutput> list;
  std::size_t place = 0;
  for (const Parameter& p : detail::output_declarations()) {
    if (!p.in_summary || is_word(p)) continue;
    const bool per_face = p.axes.find("face") != std::string_view::npos;
    for (const auto& names : places_of(p))
      list.push_back({key_at(p, names), file_unit(p), long_name(p, names), per_face, place++, &p});
  }
  // The JSON object goes moment by moment and station by station, the faces behind their station.
  const auto group = [](const SummaryOutput& s) {
    constexpr std::string_view root = "containment.";
    if (!s.name.starts_with(root)) return std::size_t{99};
    std::size_t order = 0;
    for (std::size_t m = 0; m < moment_names.size(); ++m)
      if (s.name.find("." + std::string(moment_names[m]) + ".") != std::string::npos) order = 10 * m;
    for (std::size_t i = 0; i < station_names.size(); ++i)
      if (s.name.find("." + std::string(station_names[i]) + ".") != std::string::npos) return order + i;
    return order + station_names.size();
  };
  std::stable_sort(list.begin(), list.end(),
                   [&](const SummaryOutput& a, const SummaryOutput& b) { return group(a) < group(b); });
  // Per face: all numbers of one face before those of the next.
  const auto face_of = [](const SummaryOutput& s) {
    for (std::size_t f = 0; f < face_count; ++f)
      if (s.name.find(".faces." + std::string(face_names[f]) + ".") != std::string::npos) return f + 1;
    return std::size_t{0};
  };
  std::stable_sort(list.begin(), list.end(), [&](const SummaryOutput& a, const SummaryOutput& b) {
    return group(a) != group(b) ? group(a) < group(b) : face_of(a) < face_of(b);
  });
  return list;
}

}  // namespace

std::vector<std::string> axis_names(const std::string& axis) {
  if (axis == "moment") return {moment_names.begin(), moment_names.end()};
  if (axis == "station") return {station_names.begin(), station_names.end()};
  if (axis == "direction") return {load_direction_names.begin(), load_direction_names.end()};
  if (axis == "face") return {face_names.begin(), face_names.end()};
  return {};
}

void visit_outputs(const Result& r, const std::function<void(const OutputValue&)>& visit) {
  Collector collector;
  Result::members(r, collector);
  collect_containment(collector, r);
  FilmPathResult::members(r.film_path, collector.below("film."));
  FilmUse::members(r.film, collector.below("film."));
  SpanResult::members(r.span, collector.below("span."));
  PatternResult::members(r.pattern, collector.below("pattern."));
  LoadResult::members(r.load, collector.below("load."));
  if (r.sensitivity) Sensitivity::members(*r.sensitivity, collector.below("sensitivity."));
  collector.hand_out(detail::output_declarations(), visit);
}

void visit_outputs(const Economics& e, const std::function<void(const OutputValue&)>& visit) {
  Collector collector;
  Economics::members(e, collector.below("cost."));
  if (e.year) YearlyEconomics::members(*e.year, collector.below("cost.year."));
  collector.hand_out(detail::cost_output_declarations(), visit);
}

const std::vector<SummaryOutput>& summary_outputs() {
  static const std::vector<SummaryOutput> outputs = list_summary();
  return outputs;
}

const SummaryOutput& drawn_output(const std::string& name) {
  static const std::map<std::string, SummaryOutput> known = [] {
    std::map<std::string, SummaryOutput> list;
    for (const SummaryOutput& output : summary_outputs()) list[output.name] = output;
    for (const Parameter& p : detail::cost_output_declarations())
      list[std::string(p.key)] = {std::string(p.key), file_unit(p), std::string(p.label), false, 0, &p};
    for (const Parameter& p : detail::transit_output_declarations()) {
      if (p.kind == ParameterKind::table) continue;
      for (const auto& place : places_of(p)) {
        const std::string key = key_at(p, place);
        list[key] = {key, file_unit(p), long_name(p, place), false, 0, &p};
      }
    }
    return list;
  }();
  return known.at(name);
}

const std::vector<std::string>& drawn_amount_names() {
  static const std::vector<std::string> names = {"cost.per_load",   "cost.year.film_mass", "cost.year.rolls",
                                                 "cost.year.total", "cost.year.co2e_low",  "cost.year.co2e_high"};
  return names;
}

std::vector<double> drawn_amounts(const Economics& economics) {
  const std::vector<std::string>& names = drawn_amount_names();
  std::vector<double> amounts(names.size(), std::numeric_limits<double>::quiet_NaN());
  visit_outputs(economics, [&](const OutputValue& output) {
    const auto found = std::find(names.begin(), names.end(), output.declaration->key);
    if (found == names.end() || output.numbers.empty()) return;
    amounts[static_cast<std::size_t>(found - names.begin())] = output.numbers.front();
  });
  return amounts;
}

const TargetResult* nearest_target(const Result& result) {
  const auto order = [](const TargetResult& t) {
    return std::pair{t.probability.value_or(0.0), t.predicted / t.wanted};
  };
  const auto& targets = result.targets;
  const auto nearest =
      std::min_element(targets.begin(), targets.end(),
                       [&](const TargetResult& a, const TargetResult& b) { return order(a) < order(b); });
  return nearest == targets.end() ? nullptr : &*nearest;
}

std::vector<double> summary_numbers(const Result& result) {
  std::vector<double> numbers;
  visit_outputs(result, [&](const OutputValue& output) {
    if (output.declaration->in_summary) numbers.insert(numbers.end(), output.numbers.begin(), output.numbers.end());
  });
  return numbers;
}

const std::vector<FieldOutput>& field_outputs() {
  static const std::vector<FieldOutput> outputs = [] {
    std::vector<FieldOutput> list;
    for (const Parameter& p : detail::output_declarations())
      if (p.key.find('.') == std::string_view::npos && !p.axes.empty() && p.axes != p.key)
        list.push_back({std::string(p.key), file_unit(p), std::string(p.label), axis_list(p)});
    return list;
  }();
  return outputs;
}

Field field_of(const Result& result, const std::string& name) {
  Field field;
  visit_outputs(result, [&](const OutputValue& output) {
    if (output.declaration->key == name) field = {output.shape, output.numbers};
  });
  return field;
}

}  // namespace hoopfield
