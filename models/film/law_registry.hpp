// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The film laws there are, by name. Readers, writers, caches and references of film files loop over what a law
/// declares here, so a new law is a source of its own and a line in law_registry.cpp.
#pragma once

#include "models/film/description.hpp"
#include "models/parameter.hpp"

#include <memory>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hoopfield {

/// A film law as a film file names it.
struct FilmLawKind {
  std::string_view name;     ///< `law = "..."` in a film file
  std::string_view summary;  ///< what it is, in a few words that follow "Film law: "
  /// Its own keys of a film file, besides those of every film: of [network], [hardening], [[branch]] and [curve].
  /// Without a default a key must be given. Laws that share a key share its declaration.
  std::span<const Parameter* const> parameters;
  bool network_optional = false;  ///< [network] may be left out, for branches alone
  /// Builds the law from numbers within their bounds.
  std::shared_ptr<const FilmLaw> (*make)(const FilmDescription&) = nullptr;
  /// Least activation energy (J/mol) with which branch k relaxes faster when it is warmed; null where every one will
  /// do.
  double (*least_activation)(const FilmDescription&, std::size_t k) = nullptr;

  /// True when it declares a key, or a key of the table.
  [[nodiscard]] bool uses(std::string_view key_or_table) const;
  /// Declarations of the numbers of one branch ("branch.modulus"), in order; empty for a law without branches.
  [[nodiscard]] std::vector<const Parameter*> branch_parameters() const;
};

/// All laws, in the order of the reference.
[[nodiscard]] std::span<const FilmLawKind* const> film_laws();

/// The law of a name, or null.
[[nodiscard]] const FilmLawKind* find_film_law(std::string_view name);

/// The law of a name; throws InputError, naming all laws, when there is none.
[[nodiscard]] const FilmLawKind& film_law_kind(std::string_view name);

/// Every key some law declares, each once, in the order of the laws.
[[nodiscard]] std::vector<const Parameter*> film_law_parameters();

/// "modulus" of "branch.modulus".
[[nodiscard]] std::string_view branch_key(const Parameter& parameter);

}  // namespace hoopfield
