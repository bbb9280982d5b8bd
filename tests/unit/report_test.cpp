// SPDX-License-Identifier: BSD-3-Clause
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/io/text/report_comparison.hpp"
#include "sim/io/text/report_drawing.hpp"
#include "sim/io/text/report_figures.hpp"
#include "sim/io/text/report_page.hpp"
#include "sim/io/text/report_writer.hpp"
#include "sim/stations/containment.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/checks.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <limits>
#include <map>
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
  for (const auto& entry : std::filesystem::recursive_directory_iterator(folder)) {
    if (!entry.is_regular_file() || !entry.path().filename().string().starts_with(start)) continue;
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

namespace {

/// Hoop tension of a station, mean of the faces over its band, read off a field (face, height).
double station_tension(const Scenario& s, const Field& tension, double height) {
  const std::size_t slices = tension.shape[1];
  double mean = 0.0;
  for (std::size_t f = 0; f < face_count; ++f) {
    const auto begin = tension.data.begin() + static_cast<std::ptrdiff_t>(f * slices);
    const std::vector<double> values(begin, begin + static_cast<std::ptrdiff_t>(slices));
    mean += band_mean(values, s.load.height / static_cast<double>(slices), height, s.stations.band_height) / 4.0;
  }
  return mean;
}

Scenario few_slices() {
  Scenario s = test::reference_scenario();
  s.numerics.slices = 15;
  return s;
}

/// Whether the field of the drawing gives the weakest station what the summary says of it, and no station less.
void check_weakest(const Scenario& s, const Result& r, const ReportDrawing& drawing) {
  const StationResult& weakest = r.weakest.stations.at(drawing.weakest_station);
  CHECK(weakest.hoop_tension == Approx(least_of_stations(r.weakest)));
  CHECK(drawing.weakest_time == weakest.time);
  CHECK(drawing.weakest_temperature == weakest.temperature);
  // The load is stored once more in other steps: they agree within some tolerances.
  const double tolerance = 5.0 * s.numerics.tolerance;
  CHECK(station_tension(s, drawing.weakest_tension, weakest.height) == Approx(weakest.hoop_tension).epsilon(tolerance));
  for (const StationResult& station : r.weakest.stations)
    CHECK(station_tension(s, drawing.weakest_tension, station.height) >= (1.0 - tolerance) * weakest.hoop_tension);
}

}  // namespace

TEST_CASE("drawing: the tension of the whole load when its weakest station is weakest") {
  const auto drawn = [](const Scenario& s) {
    const Result r = predict(s);
    const ReportDrawing drawing = report_drawing(s, r);
    check_weakest(s, r, drawing);
    return std::pair{r, drawing};
  };
  SECTION("on a warm day") {
    Scenario s = few_slices();
    s.storage.temperature = {{0.0, 296.15}, {48.0 * 3600.0, 296.15}, {60.0 * 3600.0, 318.15}, {96.0 * 3600.0, 296.15}};
    s.load.creep_per_decade = 0.0;
    const auto [r, drawing] = drawn(s);
    CHECK(drawing.weakest_time > 0.0);
    CHECK(drawing.weakest_time < s.storage.duration);
  }
  SECTION("between two times of the result") {
    const Scenario s = few_slices();
    Result r = predict(s);
    // The weakest moment is a time of the result here; as if it were none, it is solved again.
    const ReportDrawing known = report_drawing(s, r);
    const Field& stored = known.weakest_tension;
    const auto time = std::find(r.time.begin(), r.time.end(), known.weakest_time);
    REQUIRE(time != r.time.end());
    *time += 1.0;
    const ReportDrawing again = report_drawing(s, r);
    REQUIRE(again.weakest_time == known.weakest_time);
    for (std::size_t i = 0; i < stored.data.size(); ++i)
      CHECK(again.weakest_tension.data[i] == Approx(stored.data[i]).epsilon(s.numerics.tolerance));
  }
  SECTION("as soon as storage begins") {
    Scenario s = few_slices();
    s.load.kind = LoadKind::rigid;
    s.load.stiffness_along_length = s.load.stiffness_along_width = std::numeric_limits<double>::infinity();
    s.load.settling = 0.02;
    s.storage.duration = 1.0;
    const auto [r, drawing] = drawn(s);
    CHECK(drawing.weakest_tension.at(0, 7) < 0.99 * r.hoop_tension.at(0, 0, 7));
  }
  SECTION("when wrapping ends") {
    Scenario s = few_slices();
    s.storage.duration = 0.0;
    const auto [r, drawing] = drawn(s);
    CHECK(drawing.weakest_time == 0.0);
    CHECK(drawing.weakest_tension.at(2, 3) == r.hoop_tension.at(0, 2, 3));
  }
}

TEST_CASE("drawing: where the film begins and ends, and the order of the faces") {
  Scenario s = few_slices();
  s.pattern.start_height = -0.06;
  s.pattern.top_overhang = -0.04;
  const ReportDrawing drawing = report_drawing(s, predict(s));
  CHECK(drawing.film_bottom == Approx(-0.06));
  // A layer is laid in its own width, which differs by face from the mean one the carriage is set by.
  CHECK(drawing.film_top == Approx(s.load.height - 0.04).margin(0.005));
  // The load turns counter-clockwise seen from above, so the outlet meets the faces clockwise.
  CHECK(drawing.laid_order == std::array<std::size_t, face_count>{front, right, back, left});
}

TEST_CASE("report data: what the drawing of the load needs") {
  Scenario arm = *reference().scenario;
  arm.rotation.kind = RotationKind::delivery;
  ReportSide side = reference();
  side.scenario = std::make_shared<const Scenario>(arm);
  const Json json = Json::parse(report_json(input_of({reference(), side})));
  const Json &detail = json.at("sides").at(0).at("detail"), &heights = detail.at("over_height");
  const ReportDrawing drawing = report_drawing(*reference().scenario, *reference().result);
  for (std::size_t f = 0; f < face_count; ++f) {
    const Json& shown = heights.at("weakest_N_per_m").at(face_names[f]);
    REQUIRE(shown.size() == 15);
    for (std::size_t h = 0; h < shown.size(); ++h)
      CHECK(shown.at(h).get<double>() == Approx(drawing.weakest_tension.at(f, h)).epsilon(1e-4));
  }
  for (const char* moment : {"end", "weakest", "after_storage"})
    for (const char* face : face_names) {
      const Json& shown = heights.at(std::string(moment) + "_N_per_m").at(face);  // film covers the whole height
      double mean = 0.0;
      for (const Json& value : shown) mean += value.get<double>() / 15.0;
      CHECK(detail.at("drawing").at("face_means_N_per_m").at(moment).at(face).get<double>() ==
            Approx(mean).epsilon(1e-4));
    }
  CHECK(heights.at("weakest_station") == station_names.at(drawing.weakest_station));
  CHECK(heights.at("weakest_time_s").get<double>() == drawing.weakest_time);
  CHECK(heights.at("weakest_temperature_C").get<double>() == Approx(drawing.weakest_temperature - 273.15));
  CHECK(detail.at("drawing").at("laid_order") == Json({"front", "right", "back", "left"}));
  CHECK(detail.at("drawing").at("turning") == "load");
  CHECK(detail.at("drawing").at("film_bottom_m").get<double>() == Approx(0.0).margin(0.005));
  CHECK(detail.at("drawing").at("top_overhang_m").get<double>() == Approx(0.075).margin(0.005));
  CHECK(json.at("sides").at(1).at("detail").at("drawing").at("turning") == "delivery");
}

TEST_CASE("report data: a face's mean counts the heights with film alone") {
  Scenario s = few_slices();
  s.pattern.pitch = 0.0;  // all turns at the bottom
  ReportSide side = reference();
  side.scenario = std::make_shared<const Scenario>(s);
  side.result = std::make_shared<const Result>(predict(s));
  const Json json = Json::parse(report_json(input_of({side})));
  const Json& detail = json.at("sides").at(0).at("detail");
  const Json &layers = detail.at("over_height").at("film_layers").at("back"),
             &tension = detail.at("over_height").at("end_N_per_m").at("back");
  double sum = 0.0, count = 0.0;
  for (std::size_t h = 0; h < layers.size(); ++h)
    if (layers.at(h) > 0.0) sum += tension.at(h).get<double>(), count += 1.0;
  CHECK(count > 2.0);
  CHECK(count < 8.0);
  CHECK(detail.at("drawing").at("face_means_N_per_m").at("end").at("back").get<double>() ==
        Approx(sum / count).epsilon(1e-4));
  CHECK(detail.at("drawing").at("top_overhang_m").get<double>() < -0.5);
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

TEST_CASE("report data: pictures of a pair have candidate minus present") {
  ReportSide candidate = reference();
  Scenario other = *reference().scenario;
  *other.delivery.tension.force *= 0.8;
  other.load.height *= 0.9;
  other.storage.duration *= 2.0;
  candidate.scenario = std::make_shared<const Scenario>(other);
  candidate.result = std::make_shared<const Result>(predict(other));
  const Json json = Json::parse(report_json(input_of({reference(), candidate})));
  const Json twins = Json::parse(report_json(input_of({reference(), reference()})));
  const Json three = Json::parse(report_json(input_of({reference(), candidate, reference()})));
  CHECK_FALSE(three.at("sides").at(1).at("versus_first").contains("over_height"));
  const Json& now = json.at("sides").at(0).at("detail");
  const Json& then = json.at("sides").at(1).at("detail");
  const Json& apart = json.at("sides").at(1).at("versus_first");
  // The same places and times are plain differences.
  const Json& same = twins.at("sides").at(1).at("versus_first");
  CHECK(same.at("over_height").at("height_m") == now.at("over_height").at("height_m"));
  for (const Json& value : same.at("over_height").at("after_storage_N_per_m").at("mean")) CHECK(value == 0.0);
  for (const Json& value : same.at("over_time").at("bottom_N_per_m")) CHECK(value == 0.0);
  for (const Json& zone : same.at("zones")) CHECK(zone.at("mass_kg") == 0.0);
  // Other places: the present lies on the straight line between its neighbours, and beyond them is nothing.
  const Json &z0 = now.at("over_height").at("height_m"), &z1 = then.at("over_height").at("height_m");
  const Json &y0 = now.at("over_height").at("end_N_per_m").at("mean"),
             &y1 = then.at("over_height").at("end_N_per_m").at("mean");
  const Json& d = apart.at("over_height").at("end_N_per_m").at("mean");
  REQUIRE(d.size() == z1.size());
  CHECK(d.at(0).is_null());  // the lowest slice of the lower load lies below that of the present
  const double z = z1.at(4).get<double>();
  std::size_t i = 1;
  while (z0.at(i).get<double>() < z) ++i;
  const double share = (z - z0.at(i - 1).get<double>()) / (z0.at(i).get<double>() - z0.at(i - 1).get<double>());
  const double between = y0.at(i - 1).get<double>() * (1.0 - share) + y0.at(i).get<double>() * share;
  CHECK(d.at(4).get<double>() == Approx(y1.at(4).get<double>() - between).epsilon(1e-4));
  CHECK(apart.at("over_time").at("top_N_per_m").at(0).get<double>() ==
        Approx(then.at("over_time").at("top_N_per_m").at(0).get<double>() -
               now.at("over_time").at("top_N_per_m").at(0).get<double>()));
  CHECK(apart.at("over_time").at("top_N_per_m").back().is_null());  // the present is not stored as long
  double mass = 0.0;
  for (const Json& zone : apart.at("zones")) mass += zone.at("mass_kg").get<double>();
  CHECK(mass == Approx(candidate.result->film.mass - reference().result->film.mass));
  CHECK(apart.at("face_means_N_per_m").at("left").get<double>() ==
        Approx(then.at("face_means_N_per_m").at("left").get<double>() -
               now.at("face_means_N_per_m").at("left").get<double>()));
}

TEST_CASE("report data: faces are judged in the band that holds least too") {
  const Json side = Json::parse(report_json(input_of({reference()}))).at("sides").at(0);
  const Json& findings = side.at("detail").at("findings");
  const Json& field = side.at("detail").at("over_height");
  const Json& least = side.at("summary").at("containment").at("after_storage").at("least");
  const std::vector<double> heights = field.at("height_m").get<std::vector<double>>();
  std::map<std::string, double> held;
  for (const auto* face : face_names)
    held[face] = band_mean(field.at("after_storage_N_per_m").at(face).get<std::vector<double>>(),
                           heights[1] - heights[0], least.at("height_m").get<double>(), 0.2);
  const std::string best = findings.at("least_place_best_face").get<std::string>();
  const double more = findings.at("least_place_more").get<double>();
  for (const auto& [face, tension] : held) CHECK(tension <= held[best] * (1.0 + 1e-6));
  CHECK(more == Approx(held[best] / held[least.at("face").get<std::string>()] - 1.0).margin(1e-4));
  CHECK(findings.at("least_place_best_N_per_m").get<double>() ==
        Approx(least.at("hoop_tension_N_per_m").get<double>() * (1.0 + more)).epsilon(1e-6));
}

TEST_CASE("report data: what the draws say of a difference is kept for the titles") {
  const Json against = Json::parse(R"({
    "containment.end.top.hoop_tension_N_per_m": {"difference": -12.5, "ratio": 0.9, "words": "not_distinguishable",
      "difference_band": {"p05": -30.0, "p50": -12.0, "p95": 4.0}},
    "containment.end.top.pull_force_N": {"difference": 1.0, "ratio": 1.1},
    "film.mass_kg": {"difference": 0.02, "ratio": 1.1}})");
  const Json told = detail::shown_differences(against, Json());
  CHECK(told.size() == 3);
  CHECK(detail::shown_differences(against, "film.mass_kg").size() == 1);
  const Json& top = told.at("containment.end.top.hoop_tension_N_per_m");
  CHECK(top.at("size") == 12.5);
  CHECK(top.at("words") == "not distinguishable");
  CHECK(top.at("low") == -30.0);
  CHECK(top.at("high") == 4.0);
  CHECK(told.at("film.mass_kg").at("difference") == 0.02);
  CHECK_FALSE(told.at("film.mass_kg").contains("words"));
  CHECK(told.at("film.mass_kg").at("low").is_null());
  CHECK(told.at("film.mass_kg").at("change").get<double>() == Approx(0.1));
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
  CHECK(detail::plain_tables(json, false).find("<caption>All wraps<") != std::string::npos);
}

TEST_CASE("the head of a report is told by the first side that tells it") {
  ReportSide present = reference(), candidate = reference();
  CHECK(Json::parse(report_json(input_of({present}))).at("report") ==
        Json({{"site", ""}, {"author", ""}, {"customer", ""}, {"date", ""}}));
  Scenario first = *reference().scenario, second = first;
  set_value(first, "report.site", "Hall <3> at 70 N");
  set_value(second, "report.site", "another");
  set_value(second, "report.date", "2026-11-27");
  present.scenario = std::make_shared<const Scenario>(first);
  candidate.scenario = std::make_shared<const Scenario>(second);
  ReportInput input = input_of({present});
  input.inch_pound = true;
  const std::string html = report_html(input, "", "why");
  CHECK(html.find("<p>site: Hall &lt;3&gt; at 70 N</p>") != std::string::npos);
  CHECK(html.find("<p>date:") == std::string::npos);
  CompareOptions options;
  options.sensitivity = options.factors = options.film_numbers = false;
  const Json json = Json::parse(
      report_json(report_input(compare({{"now", "now.toml", first}, {"new", "new.toml", second}}, options), false)));
  CHECK(json.at("report").at("site") == "Hall <3> at 70 N");
  CHECK(json.at("report").at("date") == "2026-11-27");
  CHECK(json.at("report").at("author") == "");
  CHECK(json.at("comparison").at("differences").empty());
  CHECK(json.at("input_labels").at("report.site") == "site");
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
