// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/film_reader.hpp"

#include "models/film/film_law.hpp"
#include "models/film/law_registry.hpp"
#include "models/units.hpp"
#include "sim/inputs/assign.hpp"
#include "sim/inputs/correlation.hpp"
#include "sim/inputs/reader_support.hpp"

#include <algorithm>
#include <cmath>
#include <string>
#include <string_view>
#include <utility>

namespace hoopfield {
namespace {

class FilmFileReader {
 public:
  FilmFileReader(const InputText& input, std::vector<ResolvedValue>* values)
      : input_(input), root_(parse_toml_file(input, {"a film file", "name, law, ..."})), values_(values) {}

  FilmDescription read() {
    check_known_keys(input_, root_, ParameterRoom::film_file);
    FilmDescription film;
    get("name", film.name);
    get("law", film.law);
    for (const auto& [key, number] : {std::pair{"density", &film.density}, std::pair{"neck_in", &film.neck_in}}) {
      get(key, *number);
      if (find_written(input_, root_, key).origin == Origin::assumed) film.assumed.insert(key);
    }
    get("reference_temperature", film.reference_temperature);
    const FilmLawKind& law = film_law_kind(film.law);
    if (law.uses("curve")) read_curve(film);
    if (law.uses("network")) read_network(film, law);
    if (law.uses("branch")) read_branches(film, law);
    refuse_unused(law);
    read_thermal(film.thermal);
    read_break(film);
    get("provenance.source", film.provenance.source);
    get("provenance.illustrative", film.provenance.illustrative);
    get("provenance.fitted_to", film.provenance.fitted_to);
    read_covariance(film);
    return film;
  }

 private:
  template <typename FieldType>
  bool get(const char* key, FieldType& field, bool required_here = false) {
    return get_from(root_, key, key, key, field, required_here);
  }

  // `key` is the declared key, `local` the key below `table`, `shown` the key in messages.
  template <typename FieldType>
  bool get_from(const RawNode& table, std::string_view key, std::string_view local, const std::string& shown,
                FieldType& field, bool required_here) {
    const Parameter& declaration = *find_parameter(ParameterRoom::film_file, key);
    const Assigner assign(input_, declaration, shown);
    const WrittenValue written = find_written(input_, table, local);
    if (written.node == nullptr) {
      if (declaration.required || required_here) {
        if (&table == &root_) fail_missing(input_, table, local, shown, assign.expectation());
        fail_input(input_, table.value_at, shown, {"is missing", assign.expectation(), {}});
      }
      if (!declaration.default_text.empty()) note(declaration, shown, field, {Origin::assumed, {}, 0, 0});
      return false;
    }
    assign(*written.node, field);
    note(declaration, shown, field,
         {written.origin, input_.name, written.node->value_at.line, written.node->value_at.column});
    return true;
  }

  void note(const Parameter& declaration, const std::string& shown, double value, const Source& source) {
    if (values_ == nullptr) return;
    values_->push_back({shown, value, format_number(value), std::string(declaration.unit), source, &declaration});
  }
  void note(const Parameter& declaration, const std::string& shown, const std::string& value, const Source& source) {
    if (values_ != nullptr) values_->push_back({shown, {}, value, {}, source, &declaration});
  }
  void note(const Parameter& declaration, const std::string& shown, bool value, const Source& source) {
    note(declaration, shown, std::string(value ? "true" : "false"), source);
  }

  void read_network(FilmDescription& film, const FilmLawKind& law) {
    if (law.network_optional && root_.find("network") == nullptr) return;
    get("network.modulus", film.network.modulus, true);
    get("network.stretch_limit", film.network.stretch_limit, true);
    if (law.uses("hardening")) get("hardening.viscous_share", film.viscous_share);
  }

  void read_branches(FilmDescription& film, const FilmLawKind& law) {
    const RawNode* list = root_.find("branch");
    if (list == nullptr || list->children.empty()) {
      if (law.network_optional && root_.find("network") == nullptr) {
        fail_input(input_, {}, "branch",
                   {"is missing", "at least one [[branch]] or a [network] for law \"" + film.law + "\"", {}});
      }
      return;
    }
    for (const RawNode& table : list->children) {
      const std::string shown = "branch[" + std::to_string(film.branches.size() + 1) + "].";
      if (film.branches.size() == max_branches) {
        fail_input(input_, table.value_at, "branch", {"is one branch too many", "at most 8", {}});
      }
      BranchParameters branch;
      for (const Parameter* p : law.branch_parameters()) {
        const std::string local(branch_key(*p));
        get_from(table, p->key, local, shown + local, branch[local], p->default_text.empty());
      }
      refuse_in_branch(table, shown, law);
      film.branches.push_back(std::move(branch));
    }
  }

  void refuse_in_branch(const RawNode& table, const std::string& shown, const FilmLawKind& law) const {
    for (const Parameter* p : film_law_parameters()) {
      if (!p->key.starts_with("branch.") || law.uses(p->key)) continue;
      const std::string local(branch_key(*p));
      if (const RawNode* node = table.find(local)) refuse(*node, shown + local, law);
    }
  }

  // A number that is read and ignored would mislead.
  void refuse_unused(const FilmLawKind& law) const {
    for (const Parameter* p : film_law_parameters()) {
      const std::string table(p->key.substr(0, p->key.find('.')));
      const RawNode* node = root_.find(table);
      if (node != nullptr && !law.uses(table)) refuse(*node, table, law);
    }
  }

  [[noreturn]] void refuse(const RawNode& node, const std::string& key, const FilmLawKind& law) const {
    fail_input(input_, node.key_at, key, {"is not used by law \"" + std::string(law.name) + "\"", {}, {}});
  }

  std::vector<double> list_of(const char* key) {
    const Parameter& declaration = *find_parameter(ParameterRoom::film_file, key);
    const Assigner assign(input_, declaration, key);
    const WrittenValue written = find_written(input_, root_, key);
    if (written.node == nullptr) fail_missing(input_, root_, key, key, "a list, each " + assign.expectation());
    std::vector<double> list = assign.numbers(*written.node);
    note(declaration, key, std::to_string(list.size()) + " points",
         {written.origin, input_.name, written.node->value_at.line, written.node->value_at.column});
    return list;
  }

  void read_curve(FilmDescription& film) {
    const std::vector<double> stretch = list_of("curve.stretch");
    const std::vector<double> stress = list_of("curve.stress");
    const RawNode& stretch_node = *find_written(input_, root_, "curve.stretch").node;
    const RawNode& stress_node = *find_written(input_, root_, "curve.stress").node;
    const auto fail = [&](const RawNode& node, std::size_t i, const char* key, const char* what, const char* expected) {
      fail_input(input_, i < node.children.size() ? node.children[i].value_at : node.value_at, key,
                 {what, expected, {}});
    };
    if (stretch.size() < 2) {
      fail(stretch_node, stretch.size(), "curve.stretch", "has fewer than two points", "two points or more");
    }
    if (stress.size() != stretch.size()) {
      fail(stress_node, stress.size(), "curve.stress", "has not as many points as curve.stretch",
           "lists of equal length");
    }
    if (stretch[0] != 0.0) fail(stretch_node, 0, "curve.stretch", "does not begin at 0 %", "0 % first");
    if (stress[0] != 0.0) fail(stress_node, 0, "curve.stress", "does not begin at 0 MPa", "0 MPa first");
    for (std::size_t i = 1; i < stretch.size(); ++i) {
      if (!(stretch[i] > stretch[i - 1])) {
        fail(stretch_node, i, "curve.stretch", "does not rise", "stretches that rise");
      }
      if (!(stress[i] > stress[i - 1])) {
        fail(stress_node, i, "curve.stress", "does not rise, so the equilibrium on a giving load would not be unique",
             "stresses that rise");
      }
    }
    for (std::size_t i = 0; i < stretch.size(); ++i) film.curve.push_back({1.0 + stretch[i], stress[i]});
  }

  void read_thermal(ThermalParameters& thermal) {
    get("thermal.expansion", thermal.expansion);
    get("thermal.modulus_softening", thermal.modulus_softening);
    get("thermal.network_softening", thermal.network_softening);
    get("thermal.heat_capacity", thermal.heat_capacity);
    get("thermal.entropic_share", thermal.entropic_share);
  }

  void read_break(FilmDescription& film) {
    if (root_.find("break") == nullptr) return;
    BreakParameters breaking;
    get("break.stretch", breaking.stretch, true);
    get("break.weibull_modulus", breaking.weibull_modulus, true);
    get("break.reference_area", breaking.reference_area, true);
    film.breaking = breaking;
  }

  // Written by a fit; whatever else stands there is left alone.
  void read_covariance(FilmDescription& film) const {
    const RawNode* table = root_.find("covariance");
    if (table == nullptr) return;
    const RawNode *names = table->find("parameters"), *errors = table->find("standard_deviation"),
                  *rows = table->find("correlation");
    if (names == nullptr || errors == nullptr || rows == nullptr) return;
    const std::size_t n = names->children.size();
    const auto fail = [&](const RawNode& node, const char* key, const char* expected) {
      fail_input(input_, node.value_at, key, {"does not go with covariance.parameters", expected, {}});
    };
    if (errors->children.size() != n) fail(*errors, "covariance.standard_deviation", "one number per parameter");
    FilmCovariance covariance;
    covariance.correlation = read_correlation(
        *rows, n, [&](const RawNode& at, const char* expected) { fail(at, "covariance.correlation", expected); });
    for (std::size_t i = 0; i < n; ++i) {
      covariance.keys.push_back(names->children[i].text);
      const RawNode& error = errors->children[i];
      if (!(error.number > 0.0)) fail(error, "covariance.standard_deviation", "numbers above 0");
      covariance.error.push_back(error.number);
    }
    film.covariance = std::move(covariance);
  }

  const InputText& input_;
  RawNode root_;
  std::vector<ResolvedValue>* values_;
};

}  // namespace

FilmDescription read_film(const std::string& path) { return read_film_text(read_input_text(path)); }

FilmDescription read_film_text(const InputText& input, std::vector<ResolvedValue>* values) {
  return FilmFileReader(input, values).read();
}

}  // namespace hoopfield
