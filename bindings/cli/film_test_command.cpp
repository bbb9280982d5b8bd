// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/film_commands.hpp"
#include "bindings/cli/film_test.hpp"
#include "bindings/cli/progress.hpp"
#include "bindings/cli/words.hpp"
#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/inputs/film_reader.hpp"
#include "sim/io/hdf5/film_test_writer.hpp"
#include "sim/io/text/output_files.hpp"

#include <iostream>
#include <memory>

namespace hoopfield::cli {

double read_option(const std::string& name, const std::string& text, const char* unit) {
  try {
    return parse_quantity(text, unit);
  } catch (const InputError& error) {
    throw InputError("--" + name + ": " + error.what(), {}, 0, 0, name);
  }
}

namespace {

/// Options as typed; read into SI when the command runs.
struct FilmTestTexts {
  std::string film, kind = "tensile", stretch = format_quantity(usual_stretch, "%"), hold = "1 h",
                    release_hold = "60 s", wait = "24 h", stress, thickness, csv, out;
  std::vector<std::string> rates = {format_quantity(usual_rate, "1/s")}, temperatures;
  double width_exponent = 0.5;
  int cycles = 3;
  bool json = false, draw_heat = false, numbers = false;
};

FilmTest read_options(const FilmTestTexts& texts) {
  FilmTest test;
  test.kind = *film_test_kind(texts.kind);
  test.stretch = read_option("stretch", texts.stretch, "");
  test.hold = read_option("hold", texts.hold, "s");
  test.release_hold = read_option("release-hold", texts.release_hold, "s");
  test.wait = read_option("wait", texts.wait, "s");
  test.cycles = texts.cycles;
  test.draw_heat = texts.draw_heat;
  if (!texts.stress.empty()) test.creep_stress = read_option("stress", texts.stress, "Pa");
  if (test.kind == FilmTestKind::creep && texts.stress.empty())
    throw InputError("--stress: is missing; a creep test needs one, such as --stress \"5 MPa\"", {}, 0, 0, "stress");
  test.width_exponent = texts.width_exponent;
  if (!texts.thickness.empty()) test.thickness = read_option("thickness", texts.thickness, "m");
  return test;
}

/// One test for every rate at every temperature.
std::vector<FilmTest> read_series(const FilmTestTexts& texts, const FilmDescription& film) {
  FilmTest test = read_options(texts);
  std::vector<FilmTest> tests;
  std::vector<double> temperatures;
  for (const std::string& text : texts.temperatures) temperatures.push_back(read_option("temperature", text, "K"));
  if (temperatures.empty()) temperatures.push_back(film.reference_temperature);
  for (const double temperature : temperatures) {
    for (const std::string& rate : texts.rates) {
      test.temperature = temperature;
      test.rate = read_option("rate", rate, "1/s");
      check_film_test(test);
      tests.push_back(test);
    }
  }
  return tests;
}

std::string derived_page(const DerivedNumbers& numbers, const FilmTest& test, UnitStyle units) {
  const DerivedSettings settings = {test.rate, test.stretch, test.width_exponent, test.temperature};
  std::string text =
      wrap(derived_title(settings, test.temperature, units) + " (`hoopfield explain film_numbers` gives each formula)",
           "", "");
  return text + derived_text(numbers, units);
}

int run_command(const FilmTestTexts& texts, const CommonOptions& common) {
  const FilmDescription film = read_film(texts.film);
  const std::vector<FilmTest> tests = read_series(texts, film);
  OutputFiles files(common.overwrite);
  files.reads(texts.film);
  if (!texts.csv.empty()) files.add("--csv", texts.csv);
  if (!texts.out.empty()) files.add("-o", texts.out);
  files.check();
  ProgressBar bar;
  std::vector<TestedFilm> series;
  for (const FilmTest& test : tests) series.push_back({test, run_film_test(film, test, &bar)});
  std::vector<DerivedNumbers> derived;
  if (texts.numbers)
    for (const FilmTest& test : tests)
      derived.push_back(derive_numbers(film, {test.rate, test.stretch, test.width_exponent, test.temperature}, &bar));
  if (!texts.csv.empty()) files.write(texts.csv, film_curves_csv(film, series));
  if (!texts.out.empty()) files.write(texts.out, film_tests_hdf5(film, series));
  stop_if_interrupted();
  files.commit();
  if (texts.json) {
    std::cout << film_curves_json(film, series, derived);
    return exit_done;
  }
  std::cout << (series.size() == 1 ? film_curve_text(film, series.front(), common.units)
                                   : film_series_text(film, series, common.units));
  for (std::size_t i = 0; i < derived.size(); ++i)
    std::cout << '\n' << derived_page(derived[i], tests[i], common.units);
  return exit_done;
}

}  // namespace

void add_film_test(const Command& film) {
  const Command command =
      film.add_command("test", "Virtual test of a film strip",
                       "hoopfield film test film.toml --kind relaxation --stretch \"250 %\" --hold \"1 d\"");
  const auto texts = std::make_shared<FilmTestTexts>();
  command.add_option("film", texts->film, "Film file (TOML)").required().type_name("FILM.toml");
  command.add_option("--kind", texts->kind, "tensile, relaxation, recovery, cycle or creep")
      .show_default()
      .one_of({"tensile", "relaxation", "recovery", "cycle", "creep"})
      .type_name("KIND");
  command.add_option("--rate", texts->rates, "Grip speed over starting length; several make a series")
      .show_default("1 1/s")
      .type_name("\"R 1/s\"");
  command.add_option("--stretch", texts->stretch, "Strain to stretch to").show_default().type_name("\"S %\"");
  command.add_option("--hold", texts->hold, "Time held (relaxation, creep)").show_default().type_name("\"T h\"");
  command.add_option("--release-hold", texts->release_hold, "Time held before the release (recovery)")
      .show_default()
      .type_name("\"T s\"");
  command.add_option("--wait", texts->wait, "Time without force (recovery)").show_default().type_name("\"T h\"");
  command.add_option("--cycles", texts->cycles, "Number of cycles (cycle)").show_default().type_name("N");
  command.add_option("--stress", texts->stress, "Force over section on the roll (creep)").type_name("\"P MPa\"");
  command
      .add_option("--temperature", texts->temperatures,
                  "Default: reference temperature of the film; several make a series")
      .type_name("\"T degC\"");
  command.add_option("--width-exponent", texts->width_exponent, "Width ~ stretch^-n: 0.5 free, 0 held")
      .show_default()
      .type_name("N");
  command.add_option("--thickness", texts->thickness, "Thickness on the roll; adds force per width")
      .type_name("\"T um\"");
  command.add_flag("--draw-heat", texts->draw_heat, "Let the work done on the film heat it");
  command.add_flag("--numbers", texts->numbers, "Add the comparison numbers of the film");
  command.add_flag("--json", texts->json, "Print one JSON object");
  command.add_option("--csv", texts->csv, "Write the curve as a table").type_name("CURVE.csv");
  command.add_option("-o,--output", texts->out, "Write the curves as HDF5").type_name("CURVES.h5");
  command.takes_units();
  command.takes_overwrite();
  command.runs([command, texts] { return run_command(*texts, command.common()); });
}

}  // namespace hoopfield::cli
