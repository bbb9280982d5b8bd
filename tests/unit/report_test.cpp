// SPDX-License-Identifier: BSD-3-Clause
#include "models/error.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/io/text/report_comparison.hpp"
#include "sim/io/text/report_figures.hpp"
#include "sim/io/text/report_page.hpp"
#include "sim/io/text/report_writer.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/checks.hpp"

#include <nlohmann/json.hpp>

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <numeric>

using namespace hoopfield;
using Json = nlohmann::ordered_json;

namespace {

/// The reference case on few slices, predicted once.
const ReportSide& reference() {
  static const ReportSide side = [] {
    Scenario scenario = test::reference_scenario();
    scenario.numerics.slices = 15;
    ReportSide made;
    made.name = "reference";
    made.result = std::make_shared<const Result>(predict(scenario));
    made.scenario = std::make_shared<const Scenario>(scenario);
    return made;
  }();
  return side;
}

ReportInput input_of(std::vector<ReportSide> sides) {
  ReportInput input;
  input.sides = std::move(sides);
  return input;
}

/// How often the sources in a folder hold a text.
std::size_t count_in(const std::filesystem::path& folder, const std::string& start, const std::string& wanted) {
  std::size_t count = 0;
  for (const auto& entry : std::filesystem::directory_iterator(folder)) {
    if (!entry.path().filename().string().starts_with(start)) continue;
    std::ifstream in(entry.path());
    const std::string text(std::istreambuf_iterator<char>(in), {});
    for (std::size_t at = text.find(wanted); at != std::string::npos; at = text.find(wanted, at + 1)) ++count;
  }
  return count;
}

const std::string small_page =
    "<html data-units=\"@UNITS@\"><title>@TITLE@</title>@TABLES@<script>@DATA@</script></html>";

}  // namespace

TEST_CASE("figures: station series begin and end with the numbers of the summary") {
  const Result& r = *reference().result;
  const ReportFigures figures = report_figures(*reference().scenario, r);
  for (std::size_t i = 0; i < 3; ++i) {
    const StationFigure& station = figures.stations[i];
    REQUIRE(station.over_time.size() == r.time.size());
    CHECK(station.over_time.front() == Approx(r.end.stations[i].hoop_tension));
    CHECK(station.over_time.back() == Approx(r.after_storage.stations[i].hoop_tension));
    REQUIRE(station.over_turns.size() == r.turn.size());
    CHECK(station.over_turns.back() == Approx(r.end.stations[i].hoop_tension));
    // What was laid only grows, and film on a load that gives holds less than it was laid with.
    for (std::size_t t = 1; t < r.turn.size(); ++t) CHECK(station.as_laid[t] >= station.as_laid[t - 1]);
    CHECK(station.over_turns.back() < station.as_laid.back());
  }
  const ReportFindings& f = figures.findings;
  CHECK(f.weakest_station == 1);
  CHECK(f.weakest_change == Approx(r.after_storage.stations[1].hoop_tension / r.end.stations[1].hoop_tension - 1.0));
  CHECK(f.build_up_loss == Approx(1.0 - figures.stations[1].over_turns.back() / figures.stations[1].as_laid.back()));
}

TEST_CASE("figures: older layers have lost more, by the sum of the layers the station's whole loss") {
  const ReportFigures figures = report_figures(*reference().scenario, *reference().result);
  REQUIRE(figures.layers.size() >= 4);
  for (const LayerFigure& layer : figures.layers) CHECK(layer.at_end < layer.as_laid);
  CHECK(figures.layers.front().at_end / figures.layers.front().as_laid <
        figures.layers.back().at_end / figures.layers.back().as_laid);
}

TEST_CASE("figures: parts of the wrap add up to its film and its turns") {
  const Result& r = *reference().result;
  const ReportFigures figures = report_figures(*reference().scenario, r);
  double mass = 0.0, turns = 0.0;
  for (const ZoneFigure& zone : figures.zones) {
    mass += zone.mass;
    turns += zone.turns;
    CHECK(zone.mass > 0.0);
    CHECK(zone.above_top <= zone.mass);
  }
  CHECK(mass == Approx(r.film.mass));
  CHECK(turns == Approx(r.pattern.turns));
}

TEST_CASE("figures: working points stand where the film path put them") {
  const Scenario& s = *reference().scenario;
  const Result& r = *reference().result;
  const ReportFigures figures = report_figures(s, r);
  REQUIRE(figures.working_points.size() == 3);
  CHECK(figures.working_points[0].stretch == Approx(1.0 + s.delivery.prestretch));
  CHECK(figures.working_points[0].force == Approx(r.film_path.prestretch_force));
  CHECK(figures.working_points[1].stretch == Approx(r.film_path.stretch_on_load));
  CHECK(figures.working_points[1].force == Approx(70.0).epsilon(1e-3));
  const WorkingPoint& stored = figures.working_points[2];
  CHECK(stored.stretch_low < stored.stretch_high);
  CHECK(stored.stretch_low < r.film_path.stretch_on_load);
  // Film laid last moves only with what the load gives or takes back in storage.
  CHECK(stored.stretch_high == Approx(r.film_path.stretch_on_load).epsilon(5e-3));
  CHECK(stored.force < 70.0);
  REQUIRE(figures.film_curves.size() == 2);
  // Film pulled faster is stiffer.
  CHECK(figures.film_curves[0].rate > figures.film_curves[1].rate);
  CHECK(figures.film_curves[0].force.back() > figures.film_curves[1].force.back());
}

TEST_CASE("the parts of a pattern follow one another") {
  PatternPlan plan;
  plan.load_height = 1.5;
  plan.laid_width = 0.4;
  plan.pitch_up = plan.pitch_down = 0.2;
  const Pattern pattern(plan);
  CHECK(pattern.zone(1.0) == PatternZone::bottom);
  CHECK(pattern.zone(3.0) == PatternZone::climb);
  CHECK(pattern.zone(2.0 + 5.5 + 1.0) == PatternZone::top);
  CHECK(pattern.zone(2.0 + 5.5 + 2.0 + 1.0) == PatternZone::descent);
  CHECK(pattern.zone(pattern.turns()) == (pattern.turns() > 15.0 ? PatternZone::last : PatternZone::descent));
}

TEST_CASE("report data: summary, pictures, inputs and cautions are there") {
  const Json json = Json::parse(report_json(input_of({reference()})));
  CHECK(json.at("kind") == "prediction");
  CHECK(json.at("units") == "metric");
  const Json& side = json.at("sides").at(0);
  CHECK(side.at("failed") == false);
  CHECK_FALSE(side.at("summary").contains("inputs"));
  CHECK(side.at("detail").at("over_height").at("end_N_per_m").at("mean").size() == 15);
  CHECK(side.at("inputs").size() > 50);
  bool found = false;
  for (const Json& row : side.at("inputs"))
    if (row.at("key") == "film.thickness") {
      found = true;
      CHECK(row.at("metric") == "23 \u00b5m");
      CHECK(row.at("origin") == "given");
      CHECK(row.at("source") == "scenario.toml:8");
    }
  CHECK(found);
  CHECK(json.at("declarations").at("film.thickness").at("measure") != "");
  CHECK(json.at("validation").size() >= 8);
  std::string cautions;
  for (const Json& words : json.at("cautions")) cautions += words.get<std::string>();
  for (const char* words : {"not a certificate", "local rules", "qualified person", "turning table"})
    CHECK(cautions.find(words) != std::string::npos);
}

TEST_CASE("report data: the machine's kind decides the caution") {
  Scenario arm = *reference().scenario;
  arm.rotation.kind = RotationKind::delivery;
  ReportSide side = reference();
  side.scenario = std::make_shared<const Scenario>(arm);
  std::string cautions;
  for (const std::string& words : report_cautions({side})) cautions += words;
  CHECK(cautions.find("arm or ring") != std::string::npos);
  CHECK(cautions.find("turning table") == std::string::npos);
}

TEST_CASE("report data: a number that is not finite becomes null") {
  Result broken = *reference().result;
  broken.after_storage.stations[0].hoop_tension = std::numeric_limits<double>::quiet_NaN();
  ReportSide side = reference();
  side.result = std::make_shared<const Result>(broken);
  const Json json = Json::parse(report_json(input_of({side})));
  CHECK(json.at("sides").at(0).at("detail").at("kept").at("top").is_null());
}

TEST_CASE("report data: sides that failed or were measured take their place without numbers") {
  ReportSide failed, measured;
  failed.name = "too strong";
  failed.message = "the film parts";
  measured.name = "as it is";
  measured.measured = true;
  const Json json = Json::parse(report_json(input_of({reference(), failed, measured})));
  CHECK(json.at("kind") == "comparison");
  CHECK(json.at("sides").at(1).at("failed") == true);
  CHECK(json.at("sides").at(1).at("message") == "the film parts");
  CHECK(json.at("sides").at(2).at("failed") == false);
  CHECK_FALSE(json.at("sides").at(2).contains("summary"));
  const std::string tables = detail::plain_tables(json, true);
  CHECK(tables.find("could not be computed: the film parts") != std::string::npos);
}

TEST_CASE("report data: one to as many sides as a comparison has") {
  CHECK_THROWS_AS(report_json(input_of({})), InputError);
  CHECK_THROWS_AS(report_json(input_of(std::vector<ReportSide>(most_report_sides + 1))), InputError);
  CHECK_NOTHROW(report_json(input_of(std::vector<ReportSide>(most_report_sides))));
}

TEST_CASE("report data: a side against the first") {
  ReportSide candidate = reference();
  Scenario dearer = *reference().scenario;
  *dearer.film.price *= 2.0;
  Result lighter = *reference().result;
  lighter.film.mass *= 0.5;
  candidate.scenario = std::make_shared<const Scenario>(dearer);
  candidate.result = std::make_shared<const Result>(lighter);
  const Json json = Json::parse(report_json(input_of({reference(), candidate})));
  const Json& versus = json.at("sides").at(1).at("versus_first");
  CHECK(versus.at("mass_change").get<double>() == Approx(-0.5));
  CHECK(versus.at("cost_change").get<double>() == Approx(0.0).margin(1e-12));
  CHECK(versus.at("containment_change").get<double>() == Approx(0.0).margin(1e-12));
  Scenario foreign = dearer;
  foreign.cost.currency = "another";
  candidate.scenario = std::make_shared<const Scenario>(foreign);
  const Json other = Json::parse(report_json(input_of({reference(), candidate})));
  CHECK_FALSE(other.at("sides").at(1).at("versus_first").contains("cost_change"));
}

TEST_CASE("JSON inside a script element cannot end it") {
  const std::string safe = script_safe(R"({"a": "</script><!-- & \u2028"})" + std::string("\xE2\x80\xA8\xE2\x80\xA9"));
  for (const char* bad : {"<", ">", "&", "\xE2\x80\xA8", "\xE2\x80\xA9"}) CHECK(safe.find(bad) == std::string::npos);
  CHECK(Json::parse(script_safe(R"({"a": "</script>"})")).at("a") == "</script>");
}

TEST_CASE("a page is filled once, and what is put in is not searched for marks") {
  ReportSide side = reference();
  side.name = "@DATA@ </title><script>";
  const std::string html = report_html(input_of({side}), small_page, "");
  CHECK(html.find("<title>Wrap report: @DATA@ &lt;/title&gt;&lt;script&gt;</title>") != std::string::npos);
  CHECK(html.find("data-units=\"metric\"") != std::string::npos);
  const std::size_t script = html.find("<script>{");
  REQUIRE(script != std::string::npos);
  const std::size_t end = html.find("</script>", script);
  const Json json = Json::parse(html.substr(script + 8, end - script - 8));
  CHECK(json.at("sides").at(0).at("name") == side.name);
  CHECK_THROWS_AS(report_html(input_of({side}), "<html></html>", ""), Error);
  ReportInput inches = input_of({side});
  inches.inch_pound = true;
  CHECK(report_html(inches, small_page, "").find("data-units=\"inch-pound\"") != std::string::npos);
}

TEST_CASE("the object of a report is printed once and read once on its way to the page") {
  const std::filesystem::path root = HOOPFIELD_SOURCE_DIR;
  // One text is made, by report_text(); one is read, of a comparison that was kept as text.
  CHECK(count_in(root / "sim/io/text", "report_", "dump(") == 1);
  CHECK(count_in(root / "sim/io/text", "report_", "parse(") == 1);
  CHECK(count_in(root / "sim/io/text", "report_writer", "report_object(") == 1);
  CHECK(count_in(root / "sim/io/text", "report_writer", "report_text(") == 1);
  CHECK(count_in(root / "sim/io/text", "report_", "summary_json(") == 0);
  CHECK(count_in(root / "bindings/cli", "", "report_json(") == 0);
  CHECK(count_in(root / "bindings/web/src", "", "JSON.parse(") == 1);
  CHECK(count_in(root / "bindings/web/src", "", "JSON.stringify(") == 0);
}

TEST_CASE("a comparison at hand is not read from its text") {
  CompareOptions options;
  options.sensitivity = options.factors = false;
  const Scenario& scenario = *reference().scenario;
  ReportInput input =
      report_input(compare({{"now", "now.toml", scenario}, {"same", "same.toml", scenario}}, options), false);
  const std::string html = report_html(input, small_page, "");
  input.comparison_json = "no JSON";
  CHECK(report_html(input, small_page, "") == html);
  input.comparison = nullptr;
  CHECK_THROWS(report_html(input, small_page, ""));
}

TEST_CASE("without the page plain tables say why and hold the numbers") {
  ReportSide side = reference();
  Scenario hostile = *reference().scenario;
  hostile.title = "<b>\"'&";
  hostile.film_description.name = "</td><script>alert(1)</script>";
  side.scenario = std::make_shared<const Scenario>(hostile);
  side.name = hostile.title;
  const std::string html = report_html(input_of({side}), "", "Node.js was missing.");
  CHECK(html.find("plain tables only, no pictures: Node.js was missing.") != std::string::npos);
  CHECK(html.find("<script") == std::string::npos);
  CHECK(html.find("&lt;b&gt;&quot;&#39;&amp;") != std::string::npos);
  for (const char* words : {"Containment", "Film and turns", "Cost", "Inputs", "Validation status", "not a certificate",
                            "load.corner_radius"})
    CHECK(html.find(words) != std::string::npos);
  char shown[32];
  std::snprintf(shown, sizeof shown, "<td>%.1f</td>", reference().result->end.stations[0].hoop_tension);
  CHECK(html.find(shown) != std::string::npos);
  ReportInput inches = input_of({side});
  inches.inch_pound = true;
  CHECK(report_html(inches, "", "why").find("lbf/in") != std::string::npos);
}

TEST_CASE("a comparison becomes a report with all its sides") {
  Scenario broken = *reference().scenario;
  broken.pattern.top_overhang = 0.45;
  CompareOptions options;
  options.sensitivity = options.factors = false;
  const Comparison comparison =
      compare({{"now", "now.toml", *reference().scenario}, {"broken", "broken.toml", broken}}, options);
  const ReportInput input = report_input(comparison, true);
  REQUIRE(input.sides.size() == 2);
  CHECK(input.sides[0].result != nullptr);
  CHECK(input.sides[1].result == nullptr);
  CHECK(input.sides[1].message.find("top_overhang") != std::string::npos);
  const Json json = Json::parse(report_json(input));
  CHECK(json.at("units") == "inch-pound");
  CHECK(json.at("comparison").at("sides").size() == 2);
  CHECK_FALSE(json.at("comparison").at("sides").at(0).contains("prediction"));
  CHECK(detail::plain_tables(json, false).find("<caption>All sides<") != std::string::npos);
}

TEST_CASE("a report is written whole or not at all, and over an old one on request only") {
  namespace fs = std::filesystem;
  const fs::path folder = fs::temp_directory_path() / "hoopfield_report_test";
  fs::remove_all(folder);
  fs::create_directory(folder);
  const fs::path target = folder / "r.html";
  write_report(target, input_of({reference()}), false);
  CHECK(fs::file_size(target) > 10000);
  CHECK_THROWS_AS(write_report(target, input_of({reference()}), false), IoError);
  CHECK_NOTHROW(write_report(target, input_of({reference()}), true));
  CHECK_THROWS_AS(write_report(folder / "none" / "r.html", input_of({reference()}), false), IoError);
  CHECK(std::distance(fs::directory_iterator(folder), {}) == 1);
  fs::remove_all(folder);
}

TEST_CASE("this build has the page or says why not") {
  CHECK(report_page().empty() != report_page_absence().empty());
  if (!report_page().empty()) {
    CHECK(report_page().size() < 800000);
    CHECK(report_page().find("Licences of the software bundled") != std::string::npos);
  }
}
