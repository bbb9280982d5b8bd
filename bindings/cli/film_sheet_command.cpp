// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_commands.hpp"
#include "bindings/cli/print_film_fit.hpp"
#include "bindings/cli/progress.hpp"
#include "sim/film_lab/datasheet.hpp"
#include "sim/io/text/film_writer.hpp"
#include "sim/io/text/output_files.hpp"

#include <iostream>
#include <memory>

namespace hoopfield::cli {

namespace {

struct SheetTexts {
  std::string sheet, out;
  bool json = false;
};

int run_command(const SheetTexts& texts, const CommonOptions& common) {
  const FilmSheet sheet = read_film_sheet(texts.sheet);
  OutputFiles files(common.overwrite);
  files.reads(texts.sheet);
  files.add("-o", texts.out);
  files.check();
  ProgressBar bar;
  const FilmFit fit = film_from_sheet(sheet, {}, &bar);
  stop_if_interrupted();
  std::vector<std::string> remarks = {"From the few numbers of a data sheet: wide uncertainty, see [covariance].",
                                      sheet_verdict(sheet)};
  if (sheet.price) remarks.push_back(sheet_price_text(sheet));
  remarks.insert(remarks.end(), fit.unknown.begin(), fit.unknown.end());
  files.write(texts.out, film_text(fit.film, remarks));
  files.commit();
  std::cout << (texts.json ? film_fit_json(fit) : film_sheet_text(sheet, fit, common.units));
  if (!texts.json) std::cout << "\nWritten: " << texts.out << '\n';
  return exit_done;
}

}  // namespace

void add_film_sheet(const Command& film) {
  const Command command = film.add_command("from-datasheet", "Film law from the few numbers of a data sheet",
                                           "hoopfield film from-datasheet sheet.toml -o my-film.toml");
  const auto texts = std::make_shared<SheetTexts>();
  command.add_option("sheet", texts->sheet, "Numbers of the sheet (TOML)").required().type_name("SHEET.toml");
  command.add_option("-o,--output", texts->out, "Film file to write").required().type_name("FILM.toml");
  command.add_flag("--json", texts->json, "Print one JSON object");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, texts] { return run_command(*texts, command.common()); });
}

}  // namespace hoopfield::cli
