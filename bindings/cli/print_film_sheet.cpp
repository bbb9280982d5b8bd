// SPDX-License-Identifier: BSD-3-Clause
// A film from a data sheet as a page: what it is good for, then what stands behind that.
#include "bindings/cli/film_test.hpp"
#include "bindings/cli/print_film_fit.hpp"
#include "models/caution.hpp"

#include <algorithm>

namespace hoopfield::cli {

namespace {

std::string numbers_of_the_sheet(const FilmFit& fit, const DisplayUnits& units) {
  std::string text = pad_right("strain", 12) + pad_left(std::string("sheet, ") + units.stress.name, 14) +
                     pad_left(std::string("law, ") + units.stress.name, 14) + "\n";
  for (const CurveResidual& c : fit.curves)
    for (std::size_t i = 0; i < c.measured.size(); ++i)
      text +=
          pad_right(percent(c.stretch[i] - 1.0), 12) + pad_left(number(c.measured[i], units.stress), 14) +
          pad_left(number(c.fitted[i], units.stress), 14) +
          (c.kind == FilmTestKind::relaxation ? "  after " + duration(c.time[i] - (c.stretch[i] - 1.0) / c.rate) : "") +
          "\n";
  return text;
}

/// The numbers of the law that the sheet determines, row by row, and the others in one line.
std::string numbers_of_the_law(const FilmFit& fit, UnitStyle style) {
  FilmFit known = fit;
  std::erase_if(known.parameters, [](const FittedParameter& p) { return !p.determined; });
  std::string open;
  for (const FittedParameter& p : fit.parameters)
    if (!p.determined) open += (open.empty() ? "" : ", ") + p.key;
  std::string text = known.parameters.empty() ? std::string() : fitted_parameters_text(known, style);
  if (open.empty()) return text;
  const std::size_t count = fit.parameters.size() - known.parameters.size();
  return text + wrap("Open, " + std::to_string(count) + " of " + std::to_string(fit.parameters.size()) +
                         " numbers of the law (their intervals stand in the film file): " + open + ".",
                     "", "  ");
}

}  // namespace

std::string film_sheet_text(const FilmSheet& sheet, const FilmFit& fit, UnitStyle style) {
  const DisplayUnits units(style);
  std::string text =
      wrap(fit.film.name + ": from " + std::to_string(fit.readings) + " numbers of a data sheet", "", "  ") + "\n" +
      wrap(sheet_verdict(sheet), "", "") + "\n" + numbers_of_the_sheet(fit, units) + "\n" +
      numbers_of_the_law(fit, style) + "\n" +
      wrap(derived_title({}, fit.film.reference_temperature, style) + ", with 95 % intervals (explain film_numbers):",
           "", "") +
      fitted_numbers_text(fit, units);
  if (const std::string price = sheet_price_text(sheet); !price.empty()) text += "\n" + wrap(price, "", "  ");
  text += "\nWhat the sheet cannot determine\n";
  for (const std::string& sentence : fit.unknown) text += wrap(in_style(sentence, style), "- ", "  ");
  if (!fit.unknown.empty()) text += wrap("Caution: " + caution_text(Hazard::test_machine), "- ", "  ");
  if (!fit.warnings.empty()) text += "\nWarnings\n";
  for (const std::string& warning : fit.warnings) text += wrap(in_style(warning, style), "- ", "  ");
  return text;
}

}  // namespace hoopfield::cli
