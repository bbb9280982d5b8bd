// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/plausibility.hpp"

#include "models/error.hpp"
#include "models/units.hpp"

#include <algorithm>
#include <cmath>
#include <optional>
#include <string>

namespace hoopfield {
namespace {

std::string percent(double share) { return short_number(100.0 * share) + " %"; }
std::string celsius(double temperature) { return short_number(temperature - 273.15) + " degC"; }

/// Greatest closing over time and height, m.
double greatest(const Field& closing) {
  double most = 0.0;
  for (const double value : closing.data) most = std::max(most, value);
  return most;
}

struct Closing {
  double moved = 0.0, size = 1.0;  ///< m
  const char* direction = "length";
  [[nodiscard]] double share() const { return moved / size; }
};

Closing worst_closing(const Scenario& s, const Field& along_length, const Field& along_width) {
  const Closing length{greatest(along_length), s.load.length, "length"};
  const Closing width{greatest(along_width), s.load.width, "width"};
  return length.share() >= width.share() ? length : width;
}

std::string closing_text(const Closing& c) {
  return "the film closes the load by " + short_number(c.moved * 1e3) + " mm of its " + c.direction + " of " +
         short_number(c.size * 1e3) + " mm (" + percent(c.share()) + ")";
}

/// Share of the stretch that laid film keeps when it is let go at once; nothing where the law has no such state.
std::optional<double> instant_set(const WrapPlan& plan) {
  if (plan.wound.faces.empty()) return std::nullopt;
  const FilmState& laid = plan.wound.faces.back().film;
  if (!(laid.stretch > 1.01)) return std::nullopt;
  try {
    const double free = stretch_at_stress(*plan.law, laid, 0.0, plan.film_path.mode, plan.wrap_temperature);
    return (free - 1.0) / (laid.stretch - 1.0);
  } catch (const Error&) {
    return std::nullopt;
  }
}

void tension_gain_warning(const Result& r, std::vector<Warning>& out) {
  double end = 0.0, after = 0.0;
  for (std::size_t i = 0; i < r.end.stations.size(); ++i) {
    end += r.end.stations[i].hoop_tension;
    after += r.after_storage.stations[i].hoop_tension;
  }
  constexpr double colder = 1.0;  // K: film that cools contracts and stiffens, so it may gain
  if (r.after_storage.stations[0].temperature < r.end.stations[0].temperature - colder) return;
  if (!(end > 0.0) || after <= (1.0 + plausible.tension_gain) * end) return;
  out.push_back({"film-gains-tension", "caution", "film.file",
                 "hoop tension rises by " + percent(after / end - 1.0) +
                     " in storage that is no colder than wrapping (more than " + percent(plausible.tension_gain) +
                     ", own assumption): held film loses tension, so the film data are in doubt; fit them to a curve "
                     "with a hold of two hours or more"});
}

void stretch_warnings(const Scenario& s, const WrapPlan& plan, const Result& r, std::vector<Warning>& out) {
  const double kept = r.film_path.stretch_on_load / (1.0 + s.delivery.prestretch);
  if (kept < plausible.sprung_back)
    out.push_back({"film-springs-back", "caution", "delivery.prestretch",
                   "the film springs back behind the rollers from a pre-stretch of " + percent(s.delivery.prestretch) +
                       " to " + percent(r.film_path.stretch_on_load - 1.0) + " on the load, to less than " +
                       percent(plausible.sprung_back) +
                       " of its length (own assumption): recovery from large stretch "
                       "is not validated, so mark two lines on the roll and measure their distance on the load"});
  const std::optional<double> set = instant_set(plan);
  if (set && *set < plausible.instant_set)
    out.push_back({"film-hardly-sets", "caution", "film.file",
                   "let go at once, the film on the load would keep only " + percent(std::max(0.0, *set)) +
                       " of its stretch (less than " + percent(plausible.instant_set) +
                       ", own assumption), like rubber: drawn polyethylene film keeps most of it, so fit the film to a "
                       "curve that goes up and back"});
}

}  // namespace

void refuse_crushed_load(const Scenario& s, const BuildUpResult& built) {
  const Closing c = worst_closing(s, built.closing_along_length, built.closing_along_width);
  if (c.share() <= plausible.crushed) return;
  throw SolverError(
      closing_text(c) + ", more than " + percent(plausible.crushed) + " (own assumption): such a load is crushed",
      "check load.stiffness_along_length and load.stiffness_along_width against a measured girth; else "
      "less span force or fewer turns");
}

void plausibility_warnings(const Scenario& s, const WrapPlan& plan, const Result& r, std::vector<Warning>& out) {
  const Closing c = worst_closing(s, r.closing_along_length, r.closing_along_width);
  if (c.share() > plausible.closing)
    out.push_back({"load-closes-far", "danger", "load.stiffness_along_length",
                   closing_text(c) + ", more than " + percent(plausible.closing) +
                       " (own assumption): goods may be crushed, and the load is hardly linear so far; measure the "
                       "girth before and after wrapping, and use less force or fewer turns if it is true"});
  if (r.film_path.film_temperature > plausible.softening)
    out.push_back({"draw-hot", "caution", "delivery.prestretch",
                   "the draw heats the film to " + celsius(r.film_path.film_temperature) + ", beyond " +
                       celsius(plausible.softening) +
                       " (own assumption; polyethylene melts from about 102 degC), where "
                       "it softens: the film law is not meant for that, so use less pre-stretch, and check "
                       "thermal.heat_capacity and the draw force against an infrared thermometer behind roller 2"});
  stretch_warnings(s, plan, r, out);
  tension_gain_warning(r, out);
}

void sensitivity_warning(Result& r) {
  if (!r.sensitivity) return;
  const double end = r.sensitivity->end, after = r.sensitivity->after_storage;
  if (!(end > 0.0) || after >= plausible.kept_of_force_gain * end) return;
  r.warnings.push_back({"force-gain-fades", "caution", "delivery.tension.force",
                        "1 % more span force gives " + short_number(end) +
                            " % more hoop tension when wrapping ends but "
                            "only " +
                            short_number(after) + " % after storage (less than " +
                            percent(plausible.kept_of_force_gain) +
                            " of it, own assumption): storage takes most of it "
                            "back, so rather add turns or film than force"});
}

}  // namespace hoopfield
