// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_test.hpp"
#include "bindings/cli/program.hpp"
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/io/film_reader.hpp"
#include "sim/io/part_file.hpp"

#include <iostream>
#include <memory>

namespace hoopfield::cli {

namespace {

/// Options as typed; read into SI when the command runs.
struct FilmTestTexts {
  std::string film, kind = "tensile", rate = "1 1/s", stretch = "300 %", temperature, hold = "1 h", thickness, width,
                    csv;
  double width_exponent = 0.5;
  bool json = false;
};

double read_option(const std::string& name, const std::string& text, const char* unit) {
  try {
    return parse_quantity(text, unit);
  } catch (const InputError& error) {
    throw InputError("--" + name + ": " + error.what(), {}, 0, 0, name);
  }
}

FilmTest read_options(const FilmTestTexts& texts, const FilmDescription& film) {
  FilmTest test;
  test.kind = texts.kind == "tensile" ? FilmTestKind::tensile : FilmTestKind::relaxation;
  test.rate = read_option("rate", texts.rate, "1/s");
  test.stretch = read_option("stretch", texts.stretch, "");
  test.temperature =
      texts.temperature.empty() ? film.reference_temperature : read_option("temperature", texts.temperature, "K");
  test.hold = read_option("hold", texts.hold, "s");
  test.width_exponent = texts.width_exponent;
  if (!texts.thickness.empty()) test.thickness = read_option("thickness", texts.thickness, "m");
  check_film_test(test);
  return test;
}

int run_film_test(const FilmTestTexts& texts, const CommonOptions& common) {
  const FilmDescription film = read_film(texts.film);
  const FilmTest test = read_options(texts, film);
  if (!texts.csv.empty()) check_target(texts.csv, common.overwrite);
  const FilmCurve curve = run_film_test(film, test);
  if (!texts.csv.empty()) write_file(texts.csv, film_curve_csv(film, test, curve), common.overwrite);
  std::cout << (texts.json ? film_curve_json(film, test, curve) : film_curve_text(film, test, curve, common.units));
  return exit_done;
}

}  // namespace

void add_film_command(Program& program) {
  CLI::App* film = program.app.add_subcommand("film", "Look at a film by itself");
  film->require_subcommand(1);
  CLI::App* command = add_command(program, *film, "test", "Virtual test of a film strip",
                                  "hoopfield film test film.toml --kind relaxation --stretch \"250 %\" --hold \"1 d\"");
  const auto texts = std::make_shared<FilmTestTexts>();
  command->add_option("film", texts->film, "Film file (TOML)")->required()->type_name("FILM.toml");
  command->add_option("--kind", texts->kind, "Test to make")
      ->capture_default_str()
      ->check(CLI::IsMember({"tensile", "relaxation"}))
      ->type_name("KIND");
  command->add_option("--rate", texts->rate, "Grip speed over starting length")
      ->capture_default_str()
      ->type_name("\"R 1/s\"");
  command->add_option("--stretch", texts->stretch, "Strain to go to")->capture_default_str()->type_name("\"S %\"");
  command->add_option("--hold", texts->hold, "Time held (relaxation)")->capture_default_str()->type_name("\"T h\"");
  command->add_option("--temperature", texts->temperature, "Default: reference of the film")->type_name("\"T degC\"");
  command->add_option("--width-exponent", texts->width_exponent, "Width ~ stretch^-n: 0.5 free, 0 held")
      ->capture_default_str()
      ->type_name("N");
  command->add_option("--thickness", texts->thickness, "On the roll; adds force per width")->type_name("\"T um\"");
  command->add_flag("--json", texts->json, "Print one JSON object");
  command->add_option("--csv", texts->csv, "Write the curve as a table")->type_name("CURVE.csv");
  command->callback(
      [&program, texts] { program.action = [&program, texts] { return run_film_test(*texts, program.options); }; });
}

}  // namespace hoopfield::cli
