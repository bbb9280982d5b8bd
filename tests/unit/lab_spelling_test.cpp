// SPDX-License-Identifier: BSD-3-Clause
// One curve in every spelling a laboratory may use: the same points and the same fit.
#include "models/error.hpp"
#include "models/text.hpp"
#include "sim/film_lab/film_fit.hpp"
#include "sim/film_lab/lab_names_detail.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <algorithm>
#include <functional>
#include <limits>
#include <string>
#include <vector>

using namespace hoopfield;

namespace {

const FilmCurve& virtual_curve() {
  static const FilmCurve curve = [] {
    FilmTest test;
    test.rate = 0.167;
    test.stretch = 2.5;
    return run_film_test(test::general_film(), test);
  }();
  return curve;
}

constexpr double grip = 0.05, section = 0.025 * 23e-6;
const std::string conditions =
    "# kind: tensile\n# temperature: 23 degC\n# width: 25 mm\n# thickness: 23 um\n# grip distance: 50 mm\n"
    "# machine compliance: 0 um/N\n";

struct Spelling {
  std::string above;  // everything above the numbers
  char separator;
  bool comma;                     // decimal commas
  double per_strain, per_stress;  // what is written for a strain of 1 and a stress of 1 Pa
  double shift = 0.0;             // 1 for a stretch ratio
};

constexpr double percent = 100.0, mm = 1e3 * grip, um = 1e6 * grip, inch = grip / 0.0254;
constexpr double newton = section, mpa = 1e-6, lbf = section / (0.45359237 * 9.80665);

const std::vector<Spelling>& spellings() {
  static const std::vector<Spelling> list = {
      {"time_s,stretch_percent,stress_MPa\n", ',', false, percent, mpa},
      {"time_s,stretch_ratio,stress_kPa\n", ',', false, 1.0, 1e-3, 1.0},
      {"Time (s),Strain (%),Stress (MPa)\n", ',', false, percent, mpa},
      {"Time [s]\tStrain [mm/mm]\tStress [N/mm2]\n", '\t', false, 1.0, mpa},
      {"\"Time\",\"Extension\",\"Load\"\n\"(s)\",\"(mm)\",\"(N)\"\n", ',', false, mm, newton},
      {"Time in s,Elongation in in,Load in lbf\n", ',', false, inch, lbf},
      {"Zeit;Weg;Kraft\ns;mm;N\n", ';', true, mm, newton},
      {"Zeit / s;Dehnung / %;Spannung / MPa\n", ';', true, percent, mpa},
      {"Pr\u00fcfzeit [s];L\u00e4ngen\u00e4nderung [\u00b5m];Zugspannung [N/mm\u00b2]\n", ';', true, um, mpa},
      {"Pruefzeit [s];Laengenaenderung [um];Zugspannung [N/mm^2]\n", ';', true, um, mpa},
      {"Pr\xfc"
       "fzeit [s];L\xe4ngen\xe4nderung [\xb5m];Zugspannung [N/mm\xb2]\n",
       ';', true, um, mpa},
      {"Temps (s);D\u00e9placement (mm);Force (N)\n", ';', true, mm, newton},
      {"temps;d\u00e9formation;contrainte\ns;%;MPa\n", ';', true, percent, mpa},
      {"Temps (s);Allongement (mm);Effort (N)\n", ';', false, mm, newton},
      {"TEMPS (s);DE\u0301FORMATION (%);CONTRAINTE (MPa)\n", ';', true, percent, mpa},
      {"Tiempo (s);Desplazamiento (mm);Fuerza (N)\n", ';', true, mm, newton},
      {"Tiempo (s);Deformaci\u00f3n (%);Tensi\u00f3n (MPa)\n", ';', true, percent, mpa},
      {"Tiempo [s];Alargamiento [mm];Esfuerzo [MPa]\n", ';', true, mm, mpa},
      {"Test of film A, roll 3\n\n\"result\";12,5\nZeit;Weg;Kraft\ns;mm;N\n", ';', true, mm, newton},
  };
  return list;
}

std::string rows(const Spelling& how) {
  std::string text;
  for (const FilmCurvePoint& p : virtual_curve().points) {
    std::string row = shortest(p.time) + "|" + shortest((p.stretch - 1.0) * how.per_strain + how.shift) + "|" +
                      shortest(p.stress * how.per_stress);
    if (how.comma) std::replace(row.begin(), row.end(), '.', ',');
    std::replace(row.begin(), row.end(), '|', how.separator);
    text += row + "\n";
  }
  return text;
}

void check_same(const LabCurve& curve) {
  const auto& points = virtual_curve().points;
  REQUIRE(curve.points.size() == points.size());
  for (std::size_t i = 0; i < points.size(); ++i) {
    CHECK(curve.points[i].time == Approx(points[i].time).epsilon(1e-12));
    CHECK(curve.points[i].stretch == Approx(points[i].stretch).epsilon(1e-12));
    CHECK(curve.points[i].stress == Approx(points[i].stress).epsilon(1e-12).margin(1e-6));
  }
  CHECK(curve.temperature == Approx(296.15));
}

LabTable in_memory() {
  LabTable table{"a table", {{"time_s", {}}, {"displacement_mm", {}}, {"force_N", {}}}, {}};
  for (const FilmCurvePoint& p : virtual_curve().points) {
    table.columns[0].values.push_back(p.time);
    table.columns[1].values.push_back((p.stretch - 1.0) * mm);
    table.columns[2].values.push_back(p.stress * newton);
  }
  table.conditions = {{"kind", "tensile"},    {"temperature", "23 degC"}, {"width", "25 mm"},
                      {"thickness", "23 um"}, {"grip_distance", "5 cm"},  {"machine compliance", "0 um/N"}};
  return table;
}

}  // namespace

TEST_CASE("lab spelling: a curve reads to the same points in every spelling", "[film_lab]") {
  for (const Spelling& how : spellings()) {
    INFO(how.above);
    std::string text = conditions + how.above + rows(how);
    check_same(read_lab_curve_text({"curve.csv", text}));
  }
}

TEST_CASE("lab spelling: columns without names are named beside the file", "[film_lab]") {
  const Spelling& how = spellings().front();
  check_same(read_lab_curve_text({"curve.csv", conditions + rows(how)}, {"time_s,stretch_percent,stress_MPa", "", {}}));
  // German names for a table with decimal commas, free lines above it, and the conditions beside it, too.
  const Spelling german = {{}, ';', true, mm, newton};
  LabReading reading = {"Zeit (s); Weg (mm); Kraft (N)", "--columns", in_memory().conditions};
  check_same(read_lab_curve_text({"curve.csv", "Series A\nWeg;Kraft\n" + rows(german)}, reading));
  // What the file says goes first.
  reading.conditions[1].value = "40 degC";
  check_same(read_lab_curve_text({"curve.csv", "# temperature: 23 degC\n" + rows(german)}, reading));
  // A dash passes a column over without a word.
  reading.conditions[1].value = "23 degC";
  reading.columns = "-;Weg (mm);Kraft (N)";
  reading.conditions.push_back({"rate", "0.167 1/s"});
  const LabCurve untimed = read_lab_curve_text({"curve.csv", rows(german)}, reading);
  check_same(untimed);
  CHECK(std::none_of(untimed.warnings.begin(), untimed.warnings.end(),
                     [](const std::string& w) { return w.find("not used") != std::string::npos; }));
}

TEST_CASE("lab spelling: names beside a file that do not fit it", "[film_lab]") {
  const std::string numbers = conditions + rows(spellings().front());
  const auto fails = [&](const std::string& columns, const std::string& words) {
    INFO(columns);
    CHECK_THROWS_WITH(read_lab_curve_text({"curve.csv", numbers}, {columns, "--columns", {}}),
                      Catch::Matchers::Contains(words));
  };
  fails("stretch_percent,stress_MPa", "has 3 cells where --columns names 2; expected 2 cells");
  fails("time_s,stress_MPa,force_N", "has no column for the stretch");
  fails("time_s,stretch_percent,stress_MPa,-", "has 3 cells where --columns names 4");
  fails("time_s,stretch_percent,stress_N", "--columns:1:24: stress_N: \"N\" is no unit of stress");
  fails("time_s,stretch_percent,-", "has no column for the force");
  fails("a,b,c", "names no column of a curve");
  fails(" ", "names no column");
  CHECK_THROWS_WITH(read_lab_curve_text({"curve.csv", "some\nwords\n"}, {"displacement_mm,force_N", "--columns", {}}),
                    Catch::Matchers::Contains("grip distance: is missing"));
}

TEST_CASE("lab spelling: tables in memory", "[film_lab]") {
  check_same(read_lab_table(in_memory()));
  const auto fails = [](const std::function<void(LabTable&)>& change, const std::string& words) {
    LabTable table = in_memory();
    change(table);
    CHECK_THROWS_WITH(read_lab_table(table), Catch::Matchers::Contains(words));
  };
  fails([](LabTable& t) { t.columns[1].values.pop_back(); },
        "a table: displacement_mm: has 401 values where time_s has 402");
  fails([](LabTable& t) { t.columns[0].name = "zeit"; }, "zeit: names no unit");
  fails([](LabTable& t) { t.columns.pop_back(); }, "has no column for the force");
  fails([](LabTable& t) { t.columns.clear(); }, "names no column of a curve");
  fails(
      [](LabTable& t) {
        for (auto& c : t.columns) c.values.clear();
      },
      "0 points are too few");
  fails([](LabTable& t) { t.conditions.erase(t.conditions.begin() + 2); },
        "width: is missing: force needs it to become stress; expected width=\"25 mm\"");
  fails([](LabTable& t) { t.conditions.push_back({"colour", "blue"}); }, "colour: is no condition of a test");
  fails([](LabTable& t) { t.conditions.push_back({"widht", "1 mm"}); }, "did you mean width?");
  fails(
      [](LabTable& t) {
        std::fill(t.columns[2].values.begin(), t.columns[2].values.end(), std::numeric_limits<double>::quiet_NaN());
      },
      "402 of 402 rows lack a number");
  LabTable gaps = in_memory();
  gaps.columns[2].values[7] = std::numeric_limits<double>::infinity();
  const LabCurve curve = read_lab_table(gaps);
  CHECK(curve.points.size() == 401);
  CHECK(curve.warnings.at(0) == "1 rows without a number were left out, the first in row 7");
}

TEST_CASE("lab spelling: every spelling gives the same fit", "[film_lab]") {
  FitOptions options;
  options.branches = 2;
  options.starts = 1;
  options.base = assumed_film();
  options.derived_intervals = false;
  const auto fit = [&](const Spelling& how) {
    return fit_film({read_lab_curve_text({"curve.csv", conditions + how.above + rows(how)})}, options);
  };
  const FilmFit first = fit(spellings()[0]);
  for (const std::size_t i : {6u, 8u, 14u}) {
    const FilmFit other = fit(spellings()[i]);
    REQUIRE(other.parameters.size() == first.parameters.size());
    for (std::size_t k = 0; k < first.parameters.size(); ++k)
      CHECK(other.parameters[k].value == Approx(first.parameters[k].value).epsilon(1e-6));
  }
}

TEST_CASE("lab spelling: names and units are taken apart", "[film_lab]") {
  using detail::take_apart;
  CHECK(take_apart("Force (filtered) [N]").unit == "N");
  CHECK(take_apart("Force (filtered) [N]").name == "force");
  CHECK(take_apart("grip_travel_mm").name == "grip travel");
  CHECK(take_apart("grip_travel_mm").unit == "mm");
  CHECK(take_apart("stress_N/mm2").unit == "N/mm^2");
  CHECK(take_apart("Kraft, N").unit == "N");
  CHECK(take_apart("Temp (degC)").meanings.empty());
  CHECK(detail::plain_name("D\u00c9FORMATION_unitaria") == "deformation unitaria");
  CHECK(detail::plain_name("Stra\u00dfe") == "strasse");
  CHECK(detail::lab_unit("(Prozent)") == "%");
  CHECK(detail::lab_unit("[-]") == "1");
  CHECK(detail::is_data("-,5"));
  CHECK_FALSE(detail::is_data("mm"));
  CHECK_FALSE(detail::is_data("-"));
}
