// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/law_registry.hpp"

#include "models/error.hpp"
#include "models/film/film_law.hpp"

#include <algorithm>

namespace hoopfield {

// Each in a source of its own; a new law takes a name here and a place in the list.
namespace detail {
extern const FilmLawKind eyring_network, power_network, maxwell, elastic_curve;
}

std::span<const FilmLawKind* const> film_laws() {
  static constexpr const FilmLawKind* laws[] = {&detail::eyring_network, &detail::power_network, &detail::maxwell,
                                                &detail::elastic_curve};
  return laws;
}

bool FilmLawKind::uses(std::string_view key_or_table) const {
  return std::any_of(parameters.begin(), parameters.end(), [&](const Parameter* p) {
    return p->key.starts_with(key_or_table) &&
           (p->key.size() == key_or_table.size() || p->key[key_or_table.size()] == '.');
  });
}

std::vector<const Parameter*> FilmLawKind::branch_parameters() const {
  std::vector<const Parameter*> list;
  for (const Parameter* p : parameters)
    if (p->key.starts_with("branch.")) list.push_back(p);
  return list;
}

const FilmLawKind* find_film_law(std::string_view name) {
  const auto all = film_laws();
  const auto it = std::find_if(all.begin(), all.end(), [&](const FilmLawKind* law) { return law->name == name; });
  return it == all.end() ? nullptr : *it;
}

const FilmLawKind& film_law_kind(std::string_view name) {
  if (const FilmLawKind* law = find_film_law(name)) return *law;
  std::string names;
  const auto all = film_laws();
  for (std::size_t i = 0; i < all.size(); ++i)
    names += (i == 0 ? "\"" : i + 1 < all.size() ? ", \"" : " or \"") + std::string(all[i]->name) + "\"";
  throw InputError("law: \"" + std::string(name) + "\" is not a film law; expected " + names, {}, 0, 0, "law");
}

std::vector<const Parameter*> film_law_parameters() {
  std::vector<const Parameter*> list;
  for (const FilmLawKind* law : film_laws())
    for (const Parameter* p : law->parameters)
      if (std::none_of(list.begin(), list.end(), [&](const Parameter* known) { return known->key == p->key; }))
        list.push_back(p);
  return list;
}

std::string_view branch_key(const Parameter& parameter) { return parameter.key.substr(parameter.key.find('.') + 1); }

namespace {

[[noreturn]] void refuse(std::string_view key, const std::string& expected) {
  throw OutOfRange(std::string(key) + ": out of range; expected " + expected, {}, 0, 0, std::string(key));
}

void check(const FilmDescription& film, const FilmLawKind& law) {
  const auto within = [](const Parameter* p, double value) {
    if (!within_bounds(*p, value)) refuse(p->key, bounds_text(*p));
  };
  if (!(film.reference_temperature > 0.0)) refuse("reference_temperature", "an absolute temperature above 0 K");
  if (film.branches.size() > max_branches) refuse("branch", "at most 8 branches");
  const std::vector<const Parameter*> branch = law.branch_parameters();
  if (branch.empty() && !film.branches.empty())
    refuse("branch", "no branches with law \"" + std::string(law.name) + "\"");
  const bool left_out = law.network_optional && film.network.modulus == 0.0 && film.network.stretch_limit == 0.0;
  for (const Parameter* p : law.parameters) {
    if (p->key == "network.modulus" && !left_out) within(p, film.network.modulus);
    if (p->key == "network.stretch_limit" && !left_out) within(p, film.network.stretch_limit);
    if (p->key == "hardening.viscous_share") within(p, film.viscous_share);
  }
  for (const BranchParameters& numbers : film.branches)
    for (const Parameter* p : branch) within(p, numbers[branch_key(*p)]);
}

}  // namespace

FilmDescription scaled_film(const FilmDescription& film, double factor) {
  FilmDescription scaled = film;
  scaled.network.modulus *= factor;
  for (CurvePoint& point : scaled.curve) point.nominal_stress *= factor;
  for (BranchParameters& branch : scaled.branches)
    for (const Parameter* p : film_law_kind(film.law).branch_parameters())
      if (p->unit == "Pa") branch[branch_key(*p)] *= factor;
  return scaled;
}

std::shared_ptr<const FilmLaw> make_film_law(const FilmDescription& description) {
  const FilmLawKind& law = film_law_kind(description.law);
  check(description, law);
  return law.make(description);
}

}  // namespace hoopfield
