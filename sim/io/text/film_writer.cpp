// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/film_writer.hpp"

#include "models/error.hpp"
#include "models/film/law_registry.hpp"
#include "models/units.hpp"
#include "sim/base/toml_text.hpp"
#include "sim/inputs/correlation.hpp"

namespace hoopfield {

namespace {

constexpr int digits = 7;
constexpr std::size_t comment_width = 118;

std::string quantity_line(const std::string& key, double value, std::string_view unit) {
  return key + " = \"" + format_quantity(value, unit, digits) + "\"\n";
}

std::string number_line(const std::string& key, double value) {
  return key + " = " + format_number(value, digits) + "\n";
}

/// Comment lines of a width an editor shows whole; control characters become spaces.
std::string comment(const std::string& text) {
  std::string out, line = "#";
  std::string word;
  const auto end_word = [&] {
    if (word.empty()) return;
    if (line.size() + 1 + word.size() > comment_width && line.size() > 1) {
      out += line + "\n";
      line = "#";
    }
    line += " " + word;
    word.clear();
  };
  for (const char c : text) {
    if (static_cast<unsigned char>(c) <= 0x20 || c == 0x7f)
      end_word();
    else
      word += c;
  }
  end_word();
  return out + line + "\n";
}

std::string line_of(const Parameter& p, double value) {
  const std::string key(branch_key(p));
  return p.unit.empty() ? number_line(key, value) : quantity_line(key, value, p.metric);
}

/// A value that is assumed says so, wherever the film file goes.
std::string with_origin(const FilmDescription& film, std::string_view key, const std::string& value) {
  return film.assumed.contains(key) ? "{ value = " + value + ", origin = \"assumed\" }\n" : value + "\n";
}

/// What stands at its default is left out.
bool is_default(const Parameter& p, double value) {
  return !p.default_text.empty() && value == parse_quantity(p.default_text, p.unit);
}

std::string branches_text(const FilmDescription& film, const FilmLawKind& law) {
  std::string text;
  for (const BranchParameters& branch : film.branches) {
    text += "[[branch]]\n";
    for (const Parameter* p : law.branch_parameters())
      if (const double value = branch[branch_key(*p)]; !is_default(*p, value)) text += line_of(*p, value);
  }
  return text;
}

std::string thermal_text(const ThermalParameters& thermal) {
  std::string text = "[thermal]\n";
  text += quantity_line("expansion", thermal.expansion, "1/K");
  text += quantity_line("modulus_softening", thermal.modulus_softening, "1/K");
  text += quantity_line("network_softening", thermal.network_softening, "1/K");
  text += quantity_line("heat_capacity", thermal.heat_capacity, "J/kg/K");
  if (thermal.entropic_share != 1.0) text += number_line("entropic_share", thermal.entropic_share);
  return text;
}

std::string covariance_text(const FilmCovariance& covariance) {
  const std::size_t n = covariance.keys.size();
  std::string text =
      "# Standard deviations are of the natural logarithm of the value; of the value itself (SI) for activation "
      "energies\n"
      "# and [thermal]. Correlations row by row, below the diagonal.\n[covariance]\nparameters = [";
  for (std::size_t i = 0; i < n; ++i) text += (i == 0 ? "" : ", ") + toml_text(covariance.keys[i]);
  text += "]\nstandard_deviation = [";
  for (std::size_t i = 0; i < n; ++i) text += (i == 0 ? "" : ", ") + format_number(covariance.error[i], 5);
  return text + "]\ncorrelation = " + correlation_text(covariance.correlation, n) + "\n";
}

}  // namespace

std::string film_text(const FilmDescription& film, const std::vector<std::string>& remarks) {
  const FilmLawKind& law = film_law_kind(film.law);
  if (law.uses("curve")) throw InputError("law: a film of law \"" + film.law + "\" cannot be written", {}, 0, 0, "law");
  std::string text;
  for (const std::string& remark : remarks) text += comment(remark);
  text += "name = " + toml_text(film.name) + "\nlaw = " + toml_text(film.law) + "\n";
  text += "density = " + with_origin(film, "density", '"' + format_quantity(film.density, "kg/m^3", digits) + '"');
  text += "neck_in = " + with_origin(film, "neck_in", format_number(film.neck_in, digits));
  text += quantity_line("reference_temperature", film.reference_temperature, "degC");
  if (film.network.modulus > 0.0)
    text += "[network]\n" + quantity_line("modulus", film.network.modulus, "MPa") +
            number_line("stretch_limit", film.network.stretch_limit);
  if (law.uses("hardening") && film.viscous_share > 0.0)
    text += "[hardening]\n" + number_line("viscous_share", film.viscous_share);
  text += branches_text(film, law) + thermal_text(film.thermal);
  if (film.breaking) {
    text += "[break]\n" + quantity_line("stretch", film.breaking->stretch, "%") +
            number_line("weibull_modulus", film.breaking->weibull_modulus) +
            quantity_line("reference_area", film.breaking->reference_area, "cm^2");
  }
  text += "[provenance]\nsource = " + toml_text(film.provenance.source) + "\n";
  if (film.provenance.illustrative) text += "illustrative = true\n";
  if (!film.provenance.fitted_to.empty()) text += "fitted_to = " + toml_text(film.provenance.fitted_to) + "\n";
  if (film.covariance) text += covariance_text(*film.covariance);
  return text;
}

}  // namespace hoopfield
