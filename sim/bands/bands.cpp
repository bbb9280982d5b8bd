// SPDX-License-Identifier: BSD-3-Clause
#include "sim/bands/bands.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/bands/detail/drawer.hpp"
#include "sim/base/parallel.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/transit_target.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <memory>
#include <utility>

namespace hoopfield {
namespace {

using bands_detail::Draw;
using bands_detail::Drawer;
using bands_detail::DrawStatus;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();

DrawnInput drawn_input(const Unknown& u) {
  return {u.key,
          origin_name(u.origin),
          u.formula_share ? std::string("1") : std::string(u.parameter->unit),
          scale_word(u.below),
          scale_word(u.above),
          u.low,
          u.value,
          u.high,
          u.formula_share};
}

void count_failure(BandResult& band, const std::string& code, const std::string& message) {
  const auto known =
      std::find_if(band.failed.begin(), band.failed.end(), [&](const FailedDraws& f) { return f.code == code; });
  if (known != band.failed.end()) {
    known->count += 1.0;
  } else {
    band.failed.push_back({code, 1.0, message});
  }
}

void take(BandResult& band, std::size_t place, const Draw& d) {
  const std::size_t width = band.names.size(), keys = band.unknowns.size();
  std::copy(d.inputs.begin(), d.inputs.end(), band.inputs.begin() + static_cast<std::ptrdiff_t>(place * keys));
  band.point[place] = static_cast<double>(d.point);
  band.status[place] = d.status == DrawStatus::done ? 0.0 : d.status == DrawStatus::film_fails ? 1.0 : 2.0;
  if (d.status == DrawStatus::done) {
    std::copy(d.numbers.begin(), d.numbers.end(), band.numbers.begin() + static_cast<std::ptrdiff_t>(place * width));
  } else {
    const bool film = d.status == DrawStatus::film_fails;
    count_failure(band,
                  film                                 ? "film-fails"
                  : d.status == DrawStatus::left_bound ? "outside-bounds"
                                                       : "no-solution",
                  d.message);
  }
}

BandResult empty_band(const Drawer& drawer, std::size_t samples) {
  BandResult band;
  band.samples = static_cast<double>(samples);
  for (const Unknown& u : drawer.unknowns()) band.unknowns.push_back(drawn_input(u));
  if (drawer.draws_film())
    band.unknowns.push_back({"film.file", "fitted", "1", "linear", "linear", nan, nan, nan, false});
  band.names = drawer.names();
  band.inputs.assign(samples * band.unknowns.size(), nan);
  band.numbers.assign(samples * band.names.size(), nan);
  band.status.assign(samples, 0.0);
  band.point.assign(samples, 0.0);
  return band;
}

Draw drawn(const Drawer& drawer, std::size_t point, Observer* observer) {
  Draw d = drawer.draw(drawer.normals(point), observer);
  d.point = point;
  return d;
}

/// The draws of one scenario among those that share their points.
struct SideDraws {
  Drawer drawer;
  std::vector<Draw> draws;
  /// Without an unknown all draws are the same, and one stands for them.
  [[nodiscard]] std::size_t needed() const {
    return drawer.groups() == 0 ? std::min<std::size_t>(1, draws.size()) : draws.size();
  }
};

void draw_all(std::vector<SideDraws>& sides, const BandOptions& options, Observer* observer) {
  std::vector<std::pair<SideDraws*, std::size_t>> jobs;
  for (std::size_t i = 0; i < options.samples; ++i)
    for (SideDraws& side : sides)
      if (i < side.needed()) jobs.emplace_back(&side, i);
  run_parallel(jobs.size(), observer, options.from, options.to, "drawing the uncertain inputs",
               [&](std::size_t j, Observer* watch) {
                 const auto& [side, i] = jobs[j];
                 side->draws[i] = drawn(side->drawer, i, watch);
               });
  for (SideDraws& side : sides)
    for (std::size_t i = side.needed(); i < side.draws.size(); ++i) side.draws[i] = side.draws.front();
}

/// Points at which a side left a bound, and the later points that take their places in all sides, in the order of the
/// sequence. Returns how many.
double redraw(std::vector<SideDraws>& sides, const BandOptions& options, Observer* observer) {
  double redrawn = 0.0;
  const auto left_bound = [&](std::size_t i) {
    return std::any_of(sides.begin(), sides.end(),
                       [i](const SideDraws& side) { return side.draws[i].status == DrawStatus::left_bound; });
  };
  std::size_t next = options.samples;
  const std::size_t points = sides.front().drawer.points();
  for (std::size_t i = 0; i < options.samples; ++i)
    while (left_bound(i) && next < points) {
      if (observer != nullptr && !observer->progress(options.to, "drawing the uncertain inputs")) throw Interrupted();
      redrawn += 1.0;
      for (SideDraws& side : sides) side.draws[i] = drawn(side.drawer, next, nullptr);
      ++next;
    }
  return redrawn;
}

BandResult gathered(const SideDraws& side, double redrawn) {
  BandResult band = empty_band(side.drawer, side.draws.size());
  band.redrawn = redrawn;
  for (std::size_t i = 0; i < side.draws.size(); ++i) take(band, i, side.draws[i]);
  if (band.failed_draws() > most_failed * band.samples)
    band.message = "no band: " + short_number(band.failed_draws()) + " of " + short_number(band.samples) +
                   " draws over what is uncertain gave no result";
  return band;
}

double share_reaching(const BandResult& band, const TargetResult& t) {
  const std::string name = drawn_name_of(t);
  double reached = 0.0, counted = 0.0;
  const std::vector<double> values = band.values(name);
  for (std::size_t i = 0; i < values.size(); ++i) {
    if (band.status[i] == 2.0) continue;  // no solution: neither reached nor missed
    counted += 1.0;
    reached += values[i] >= t.wanted ? 1.0 : 0.0;
  }
  return counted > 0.0 ? reached / counted : nan;
}

/// Of a share p of n draws: `sqrt(p' (1 - p') / n)` at `p' = (n p + 1)/(n + 2)`, which stays above 0 at p = 0 and 1.
double error_of_share(double share, double n) {
  const double p = (n * share + 1.0) / (n + 2.0);
  return std::sqrt(p * (1.0 - p) / n);
}

void judge_targets(const Scenario& s, const BandResult& band, Result& result) {
  if (!band.message.empty()) return;
  for (TargetResult& t : result.targets) {
    t.probability = share_reaching(band, t);
    t.probability_error = error_of_share(*t.probability, band.samples);
    t.met = *t.probability >= s.target->probability;
  }
}

void warn(const BandResult& band, Result& result) {
  if (band.failed_draws() > 0.0) {
    const FailedDraws& first = band.failed.front();
    result.warnings.push_back(
        {"band-draws-failed", band.message.empty() ? "note" : "caution", "uncertainty",
         short_number(band.failed_draws()) + " of " + short_number(band.samples) +
             " draws over what is uncertain gave no result; the first said: " + first.first_line()});
  }
  const std::vector<double> nominal = summary_numbers(result);
  for (const char* name :
       {"containment.after_storage.top.hoop_tension", "containment.after_storage.middle.hoop_tension",
        "containment.after_storage.bottom.hoop_tension", "film.mass", "film.stretch_on_load"}) {
    const auto band_of = band.band(name);
    const auto place =
        static_cast<std::size_t>(std::find(band.names.begin(), band.names.end(), name) - band.names.begin());
    if (!band_of || place >= nominal.size()) continue;
    const double slack = 1e-9 * std::abs(nominal[place]);
    if (nominal[place] >= band_of->low - slack && nominal[place] <= band_of->high + slack) continue;
    result.warnings.push_back({"value-outside-band", "caution", "uncertainty",
                               std::string("the predicted ") + name +
                                   " lies outside of its own band: the inputs in use are at an edge of what is "
                                   "possible, so trust the band rather than the value"});
    return;
  }
}

}  // namespace

BandOptions band_options(const Scenario& s) {
  BandOptions options;
  options.samples = static_cast<std::size_t>(s.numerics.band_samples);
  options.seed = static_cast<std::uint64_t>(s.numerics.seed);
  return options;
}

void check_band_samples(std::int64_t samples) {
  if (is_draw_count(samples)) return;
  throw OutOfRange(
      "numerics.band_samples: " + std::to_string(samples) + " is not a number of draws; expected " + draw_counts, {}, 0,
      0, "numerics.band_samples");
}

BandResult draw_bands(const Scenario& scenario, const BandOptions& options, Observer* observer) {
  return std::move(draw_bands_together({{&scenario, 0}}, options, observer).front());
}

std::vector<BandResult> draw_bands_together(const std::vector<SharedSide>& sides, const BandOptions& options,
                                            Observer* observer) {
  check_band_samples(static_cast<std::int64_t>(options.samples));
  std::size_t blocks = 0;
  for (const SharedSide& side : sides) blocks = std::max(blocks, side.film_block + 1);
  const auto points = std::make_shared<const DrawPoints>(2 * options.samples, dimension_count(blocks), options.seed);
  std::vector<SideDraws> all;
  for (const SharedSide& side : sides)
    all.push_back({Drawer(side, options, points), std::vector<Draw>(options.samples)});
  std::vector<BandResult> bands;
  if (all.empty()) return bands;
  draw_all(all, options, observer);
  const double redrawn = redraw(all, options, observer);
  for (const SideDraws& side : all) bands.push_back(gathered(side, redrawn));
  return bands;
}

void add_bands(const Scenario& scenario, Result& result, const BandOptions& options, Observer* observer) {
  check_band_samples(static_cast<std::int64_t>(options.samples));
  if (options.samples == 0) return;
  take_bands(scenario, result, draw_bands(scenario, options, observer));
}

void take_bands(const Scenario& scenario, Result& result, BandResult band) {
  result.band = std::move(band);
  judge_targets(scenario, *result.band, result);
  warn(*result.band, result);
}

}  // namespace hoopfield
