// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/print_film_fit.hpp"

#include "bindings/cli/film_test.hpp"
#include "bindings/cli/words.hpp"
#include "models/caution.hpp"
#include "models/text.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::cli {

namespace {

constexpr std::size_t strip_length = 16;
constexpr double notable_correlation = 0.95;

std::string short_name(const std::string& name, std::size_t width) {
  const std::string file = file_name(name);
  return display_width(file) <= width ? file : file.substr(0, width - 3) + "...";
}

/// Mean residual of sixteen equal parts of a curve, as signs.
std::string residual_strip(const CurveResidual& curve) {
  double mean = 0.0;
  for (const double stress : curve.measured) mean += std::abs(stress) / static_cast<double>(curve.measured.size());
  std::string strip;
  const std::size_t count = curve.measured.size(), parts = std::min(strip_length, count);
  for (std::size_t part = 0; part < parts; ++part) {
    const std::size_t first = part * count / parts, last = (part + 1) * count / parts;
    double sum = 0.0;
    for (std::size_t i = first; i < last; ++i) sum += (curve.fitted[i] - curve.measured[i]) / mean;
    const double share = sum / static_cast<double>(last - first);
    strip += std::abs(share) < 0.01   ? '.'
             : std::abs(share) < 0.05 ? (share > 0.0 ? '+' : '-')
                                      : (share > 0.0 ? '^' : 'v');
  }
  return strip;
}

std::string curves_text(const std::vector<CurveResidual>& curves, const DisplayUnits& units) {
  std::string text = pad_right("curve", 22) + pad_right("kind", 11) + pad_left("rate, 1/s", 9) +
                     pad_left(units.temperature.name, 6) + pad_left("rms", 7) + pad_left("most", 7) +
                     "  model - curve\n";
  for (const CurveResidual& c : curves)
    text += pad_right(short_name(c.name, 21), 22) + pad_right(film_test_name(c.kind), 11) +
            pad_left(trimmed(c.rate), 9) + pad_left(number(c.temperature, units.temperature), 6) +
            pad_left(percent(c.rms), 7) + pad_left(percent(c.greatest), 7) + "  " + residual_strip(c) + "\n";
  return text;
}

std::string residuals_text(const FilmFit& fit, const DisplayUnits& units) {
  std::string text =
      curves_text(fit.curves, units) +
      wrap("rms and most: of the mean stress. Strip, along the curve: . within 1 %, + or - up to 5 %, ^ or v more.", "",
           "");
  if (fit.held_out.empty()) return text;
  return text + "\nHeld out: the law's prediction against curves the fit has not seen\n" +
         curves_text(fit.held_out, units);
}

std::string_view shown_unit(const Parameter& p, UnitStyle style) {
  return style == UnitStyle::metric ? p.metric : p.inch_pound;
}

std::string in_customary_unit(const Parameter& p, double value, UnitStyle style) {
  if (p.unit.empty()) return format_number(value, 3);
  return format_quantity(value, shown_unit(p, style), 3);
}

const Parameter& declaration(const std::string& key) {
  std::string plain = key;
  if (const auto open = plain.find('['); open != std::string::npos) plain.erase(open, plain.find(']') - open + 1);
  return *find_parameter(ParameterRoom::film_file, plain);
}

std::string with_error(const DerivedInterval& d, const DisplayUnits& units) {
  const Parameter& p = *d.parameter;
  if (!d.value) return "-";
  const auto whole = [&](const std::string& text, double per_si) {
    const double half = 1.96 * d.error;
    if (!(half > 0.0)) return text;
    if (d.determined) return text + " +- " + trimmed(half * per_si);
    return text + ", " + trimmed(d.low * per_si) + " to " + trimmed(d.high * per_si);
  };
  if (p.unit == "Pa") return whole(quantity(*d.value, units.stress), units.stress.per_si);
  if (p.unit == "J/m^3") return whole(quantity(*d.value, units.work), units.work.per_si);
  if (p.unit_due) return whole(percent(*d.value), 100.0);
  return whole(trimmed(*d.value), 1.0);
}

std::string correlations_text(const FilmFit& fit) {
  std::string list;
  for (std::size_t i = 0; i < fit.parameters.size(); ++i)
    for (std::size_t j = i + 1; j < fit.parameters.size(); ++j) {
      const double rho = correlation(fit, i, j);
      if (std::abs(rho) > notable_correlation)
        list += (list.empty() ? "" : "; ") + fit.parameters[i].key + " and " + fit.parameters[j].key + " " +
                (rho > 0.0 ? "+" : "-") + format_number(std::abs(rho), 3);
    }
  if (list.empty()) return {};
  return "\n" +
         wrap("Correlated numbers, known better in combination than alone (correlation): " + list + ".", "", "  ");
}

std::string choices_text(const FilmFit& fit) {
  if (fit.choices.size() < 2) return {};
  std::string text = "Number of branches by BIC (least wins):";
  for (const FitChoice& c : fit.choices)
    text += " " + std::to_string(c.branches) + ": " + format_number(c.bic, 4) + " (rms " + percent(c.rms) + ");";
  text.back() = '.';
  return "\n" + wrap(text, "", "  ");
}

std::string ending_text(const FilmFit& fit, UnitStyle style, const char* title) {
  const DisplayUnits units(style);
  std::string text =
      "\n" +
      wrap(derived_title({}, fit.film.reference_temperature, style) + ", with 95 % intervals (explain film_numbers):",
           "", "") +
      fitted_numbers_text(fit, units);
  text += std::string("\n") + title + "\n";
  for (const std::string& sentence : fit.unknown) text += wrap(in_style(sentence, style), "- ", "  ");
  if (!fit.unknown.empty()) text += wrap("Caution: " + caution_text(Hazard::test_machine), "- ", "  ");
  if (!fit.warnings.empty()) text += "\nWarnings\n";
  for (const std::string& warning : fit.warnings) text += wrap(in_style(warning, style), "- ", "  ");
  return text;
}

}  // namespace

std::string fitted_parameters_text(const FilmFit& fit, UnitStyle style) {
  std::string text = pad_right("number of the law", 31) + pad_left("value", 16) + pad_left("95 % from", 12) +
                     pad_left("to", 12) + "\n";
  for (const FittedParameter& p : fit.parameters) {
    const Parameter& d = declaration(p.key);
    const auto bare = [&](double value) {
      if (!std::isfinite(value)) return std::string("-");
      return d.unit.empty() ? format_number(value, 3) : format_number(to_unit(value, shown_unit(d, style)), 3);
    };
    text += pad_right(p.key, 31) + pad_left(in_customary_unit(d, p.value, style), 16) + pad_left(bare(p.low), 12) +
            pad_left(bare(p.high), 12) + (p.determined ? "" : " open") + "\n";
  }
  return text + wrap("open: not determined well enough to be useful; the value rests on what was assumed.", "", "");
}

std::string fitted_numbers_text(const FilmFit& fit, const DisplayUnits& units) {
  std::string text;
  for (const DerivedInterval& d : fit.derived)
    text += "  " + pad_right(std::string(d.parameter->key.substr(d.parameter->key.find('.') + 1)), 28) +
            with_error(d, units) + "\n";
  return text;
}

std::string film_fit_text(const FilmFit& fit, UnitStyle style) {
  const DisplayUnits units(style);
  std::size_t rows = 0;
  for (const CurveResidual& c : fit.curves) rows += c.rows_read;
  std::string text = wrap(fit.film.name + ": " + std::to_string(fit.film.branches.size()) +
                              (fit.film.branches.size() == 1 ? " branch from " : " branches from ") +
                              std::to_string(fit.curves.size()) + (fit.curves.size() == 1 ? " curve, " : " curves, ") +
                              std::to_string(rows) + " points averaged into " + std::to_string(fit.readings),
                          "", "  ");
  text += "\n" + residuals_text(fit, units) + choices_text(fit) + "\n" + fitted_parameters_text(fit, style) +
          correlations_text(fit);
  return text + ending_text(fit, style, "What the curves cannot determine");
}

}  // namespace hoopfield::cli
