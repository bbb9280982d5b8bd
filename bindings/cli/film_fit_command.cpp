// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_commands.hpp"
#include "bindings/cli/print_film_fit.hpp"
#include "bindings/cli/progress.hpp"
#include "models/error.hpp"
#include "models/text.hpp"
#include "sim/io/text/film_writer.hpp"
#include "sim/io/text/output_files.hpp"

#include <iostream>
#include <memory>

namespace hoopfield::cli {

namespace {

struct FitTexts {
  std::vector<std::string> curves, hold_out, conditions;
  std::string columns, out, name = "fitted film", density, residuals;
  double neck_in = -1.0;
  std::size_t branches = 0;
  int starts = 3;
  std::string model_error;
  bool json = false;
};

FitOptions read_options(const FitTexts& texts) {
  FitOptions options;
  if (texts.branches > 0) options.branches = texts.branches;
  options.starts = texts.starts;
  if (!texts.model_error.empty()) options.model_error = read_option("model-error", texts.model_error, "");
  options.base = assumed_film();
  options.base.name = texts.name;
  if (!texts.density.empty()) {
    options.base.density = read_option("density", texts.density, "kg/m^3");
    options.base.assumed.erase("density");
  }
  if (!(options.base.density > 0.0)) throw OutOfRange("--density: expected more than 0 kg/m^3", {}, 0, 0, "density");
  if (texts.neck_in >= 0.0) {
    options.base.neck_in = texts.neck_in;
    options.base.assumed.erase("neck_in");
  }
  if (texts.neck_in > 0.5) throw OutOfRange("--neck-in: expected 0 to 0.5", {}, 0, 0, "neck-in");
  return options;
}

/// What the options say of every curve file.
LabReading read_how(const FitTexts& texts) {
  LabReading how;
  how.columns = texts.columns;
  for (const std::string& text : texts.conditions) {
    const std::size_t colon = text.find(':');
    if (colon == std::string::npos)
      throw InputError("--condition: \"" + text + "\" has no colon; expected a text such as \"width: 25 mm\"", {}, 0, 0,
                       "condition");
    how.conditions.push_back({text.substr(0, colon), std::string(trim(std::string_view(text).substr(colon + 1)))});
  }
  return how;
}

int run_command(const FitTexts& texts, const CommonOptions& common) {
  FitOptions options = read_options(texts);
  OutputFiles files(common.overwrite);
  for (const auto* list : {&texts.curves, &texts.hold_out})
    for (const std::string& file : *list) files.reads(file);
  files.add("-o", texts.out);
  if (!texts.residuals.empty()) files.add("--residuals", texts.residuals);
  files.check();
  ProgressBar bar;
  const LabReading how = read_how(texts);
  std::vector<LabCurve> curves;
  for (const std::string& file : texts.curves) curves.push_back(read_lab_curve(file, how));
  for (const std::string& file : texts.hold_out) options.hold_out.push_back(read_lab_curve(file, how));
  const FilmFit fit = fit_film(curves, options, &bar);
  stop_if_interrupted();
  std::vector<std::string> remarks = film_remarks(fit);
  remarks.insert(remarks.begin(), fit.film.provenance.source + ": " + fit.film.provenance.fitted_to + ".");
  files.write(texts.out, film_text(fit.film, remarks));
  if (!texts.residuals.empty()) files.write(texts.residuals, film_fit_residuals_csv(fit));
  files.commit();
  std::cout << (texts.json ? film_fit_json(fit) : film_fit_text(fit, common.units));
  if (!texts.json) std::cout << "\nWritten: " << texts.out << '\n';
  return exit_done;
}

}  // namespace

void add_film_fit(const Command& film) {
  const Command command = film.add_command("fit", "Film law from laboratory curves",
                                           "hoopfield film fit tensile.csv hold.csv unloading.csv -o my-film.toml");
  const auto texts = std::make_shared<FitTexts>();
  command.add_option("curves", texts->curves, "Curves (CSV): tensile, relaxation, recovery, cycle, creep; any subset")
      .required()
      .type_name("CURVE.csv");
  command
      .add_option("--hold-out", texts->hold_out,
                  "Curves the fit does not see: how well the law predicts them is printed")
      .type_name("CURVE.csv");
  command.add_option("-o,--output", texts->out, "Film file to write").required().type_name("FILM.toml");
  command.add_option("--columns", texts->columns, "Names for tables without any, such as \"displacement_mm,force_N\"")
      .type_name("NAMES");
  command
      .add_option("--condition", texts->conditions,
                  "Such as \"width: 25 mm\", for curves that do not say it; may be repeated")
      .type_name("\"K: V\"");
  command.add_option("--branches", texts->branches, "Number of branches, 1 to 8; chosen by BIC when left out")
      .between(1, 8)
      .type_name("N");
  command.add_option("--name", texts->name, "Name of the film").show_default().type_name("NAME");
  command.add_option("--density", texts->density, "Default: 920 kg/m^3, assumed").type_name("\"D kg/m^3\"");
  command.add_option("--neck-in", texts->neck_in, "Width exponent in the draw gap; default 0.2, assumed")
      .type_name("N");
  command.add_option("--starts", texts->starts, "Minimisations per number of branches")
      .show_default()
      .between(1, 12)
      .type_name("N");
  command
      .add_option("--model-error", texts->model_error,
                  "Error of any film law's stress that the intervals allow for; default 2 %, own assumption")
      .type_name("\"E %\"");
  command.add_option("--residuals", texts->residuals, "Write measured and fitted points as a table").type_name("R.csv");
  command.add_flag("--json", texts->json, "Print one JSON object");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, texts] { return run_command(*texts, command.common()); });
}

}  // namespace hoopfield::cli
