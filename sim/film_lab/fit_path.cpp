// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/fit_path.hpp"

#include "sim/base/middle.hpp"

#include <algorithm>
#include <cmath>
#include <utility>

namespace hoopfield {

namespace {

constexpr std::size_t bins_per_leg = 90;
constexpr double bins_per_decade = 10.0;
constexpr double longest_log_step = 0.02;
constexpr double floor_share = 0.05;       // of the greatest stress: a relative error stops shrinking there
constexpr double free_floor_share = 0.30;  // the same for free film, where the length is what was measured

using Points = std::vector<LabPoint>;

struct Leg {
  std::size_t first = 0, last = 0;  // points first..last belong to it
  bool rests = false;
  bool free = false;
  double held_at = 0.0;  // stretch of a rest between the grips; 0 = the stretch moves (creep, recovery)
};

/// Turning points of the stretch, noise below `tolerance` ignored.
std::vector<std::size_t> turning_points(const Points& p, double tolerance) {
  std::vector<std::size_t> turns;
  std::size_t extreme = 0;
  int direction = 0;
  for (std::size_t i = 1; i < p.size(); ++i) {
    const double moved = p[i].stretch - p[extreme].stretch;
    if (direction == 0) {
      if (std::abs(moved) > tolerance) direction = moved > 0.0 ? 1 : -1, extreme = i;
    } else if (moved * direction >= 0.0) {
      extreme = i;
    } else if (-moved * direction > tolerance) {
      turns.push_back(extreme);
      direction = -direction;
      extreme = i;
    }
  }
  return turns;
}

/// From `first` to `last` in one direction: the moving part, and the rest at its end when there is one.
void split_rest(const Points& p, std::size_t first, std::size_t last, double tolerance, std::vector<Leg>& legs) {
  std::size_t still = last;
  while (still > first && std::abs(p[still - 1].stretch - p[last].stretch) <= tolerance) --still;
  // The last of the approach belongs to the movement: the rest begins where only its own jitter is left.
  std::vector<double> jitter;
  for (std::size_t i = still + (last - still) / 2; i <= last; ++i)
    jitter.push_back(std::abs(p[i].stretch - p[last].stretch));
  const double close = std::max(4.0 * middle_of(std::move(jitter)), 1e-7);
  while (still < last && std::abs(p[still].stretch - p[last].stretch) > close) ++still;
  const double moving = p[still].time - p[first].time, resting = p[last].time - p[still].time;
  const double travel = std::abs(p[still].stretch - p[first].stretch);
  const double crossing = travel > 0.0 ? moving * tolerance / travel : 0.0;  // time the movement itself needs for it
  if (last - still >= 4 && resting > 4.0 * crossing) {
    double mean = 0.0;
    for (std::size_t i = still; i <= last; ++i) mean += p[i].stretch / static_cast<double>(last - still + 1);
    if (still > first) legs.push_back({first, still});
    legs.push_back({still, last, true, false, mean});
  } else {
    legs.push_back({first, last});
  }
}

std::vector<Leg> find_legs(const LabCurve& curve, double greatest_stress) {
  const Points& p = curve.points;
  const std::size_t end = p.size() - 1;
  double low = p[0].stretch, high = p[0].stretch;
  for (const LabPoint& q : p) low = std::min(low, q.stretch), high = std::max(high, q.stretch);
  const double tolerance = 3e-3 * (high - low);
  std::size_t loaded = end, released = end;
  if (curve.kind == FilmTestKind::creep)
    loaded = static_cast<std::size_t>(
        std::find_if(p.begin(), p.end(), [&](const LabPoint& q) { return q.stress >= 0.98 * p[end].stress; }) -
        p.begin());
  if (curve.kind == FilmTestKind::recovery)
    while (released > 0 && std::abs(p[released - 1].stress) <= 0.02 * greatest_stress) --released;
  const std::size_t driven = std::min(loaded, released);
  std::vector<Leg> legs;
  std::size_t first = 0;
  for (const std::size_t turn : turning_points(p, tolerance)) {
    if (turn >= driven) break;
    split_rest(p, first, turn, tolerance, legs);
    first = turn;
  }
  if (driven > first) split_rest(p, first, driven, tolerance, legs);
  if (driven < end) legs.push_back({driven, end, true, curve.kind == FilmTestKind::recovery, 0.0});
  return legs;
}

FitLeg leg_kind(const Leg& leg, double moved) {
  if (leg.free) return FitLeg::free;
  if (leg.rests) return leg.held_at > 0.0 ? FitLeg::hold : FitLeg::creep;
  return moved < 0.0 ? FitLeg::unloading : FitLeg::loading;
}

/// Bin of a point in a leg: the root of the distance, or the logarithm of the time since the leg began.
class Binning {
 public:
  Binning(const Points& p, const Leg& leg) : p_(p), leg_(leg) {
    first_time_ = std::max(1e-2, p[std::min(leg.first + 1, leg.last)].time - p[leg.first].time);
  }
  [[nodiscard]] std::size_t operator()(std::size_t i) const {
    const double since = p_[i].time - p_[leg_.first].time;
    if (leg_.rests)
      return since < first_time_ ? 0 : 1 + static_cast<std::size_t>(bins_per_decade * std::log10(since / first_time_));
    const double whole = std::abs(p_[leg_.last].stretch - p_[leg_.first].stretch);
    const double share = whole > 0.0 ? std::abs(p_[i].stretch - p_[leg_.first].stretch) / whole : 0.0;
    return std::min(bins_per_leg - 1, static_cast<std::size_t>(std::sqrt(share) * static_cast<double>(bins_per_leg)));
  }

 private:
  const Points& p_;
  const Leg& leg_;
  double first_time_ = 1e-2;
};

FitReading mean_of(const Points& p, std::size_t first, std::size_t last, const Leg& leg, double greatest) {
  FitReading mean{0.0, 0.0, 0.0, 1.0, static_cast<double>(last - first), 0, 0.0};
  const double start = p[leg.first].time;
  double log_time = 0.0;
  for (std::size_t i = first; i < last; ++i) {
    mean.time += p[i].time;
    log_time += leg.rests ? std::log(std::max(p[i].time - start, 1e-12)) : 0.0;
    mean.stretch += p[i].stretch;
    mean.stress += p[i].stress;
  }
  mean.time /= mean.count;
  if (leg.rests && p[first].time > start) mean.time = start + std::exp(log_time / mean.count);
  mean.stretch /= mean.count;
  mean.stress /= mean.count;
  mean.scale = std::abs(mean.stress) + (leg.free ? free_floor_share : floor_share) * greatest;
  return mean;
}

/// Scatter of one point relative to its scale: median of the second differences of neighbours.
double point_noise(const Points& p, double greatest) {
  std::vector<double> scatter;
  const std::size_t stride = std::max<std::size_t>(1, p.size() / 20000);
  for (std::size_t i = 1; i + 1 < p.size(); i += stride) {
    const double span = p[i + 1].time - p[i - 1].time;
    const double share = span > 0.0 ? (p[i].time - p[i - 1].time) / span : 0.5;
    const double between = p[i - 1].stress + share * (p[i + 1].stress - p[i - 1].stress);
    const double norm = std::sqrt(1.0 + share * share + (1.0 - share) * (1.0 - share));
    scatter.push_back(std::abs(p[i].stress - between) / norm / (std::abs(p[i].stress) + floor_share * greatest));
  }
  if (scatter.empty()) return 0.0;
  return middle_of(std::move(scatter)) / 0.6745;  // median of |normal|
}

/// Appends small steps to (time, stretch), stretch even in time.
void step_to(FitPath& path, double& time, double& stretch, double to_time, double to_stretch, int reading) {
  const double duration = std::max(0.0, to_time - time);
  const int pieces =
      std::max(1, static_cast<int>(std::ceil(std::abs(std::log(to_stretch / stretch)) / longest_log_step)));
  for (int i = 1; i <= pieces; ++i)
    path.steps.push_back({i == pieces ? to_stretch : stretch + (to_stretch - stretch) * i / pieces, duration / pieces,
                          i == pieces ? reading : -1});
  time = std::max(time, to_time);
  stretch = to_stretch;
}

}  // namespace

FitPath make_fit_path(const LabCurve& curve) {
  const Points& p = curve.points;
  FitPath path;
  path.name = curve.name;
  path.kind = curve.kind;
  path.temperature = curve.temperature;
  path.mode = curve.width_exponent == 0.5 ? WidthMode::free() : WidthMode::power(curve.width_exponent);
  double greatest = 0.0;
  for (const LabPoint& q : p) {
    greatest = std::max(greatest, q.stress);
    path.greatest_stretch = std::max(path.greatest_stretch, q.stretch);
  }
  path.noise = point_noise(p, greatest);
  // The curve may begin with film already stretched: the film got there at the speed the curve begins with.
  double time = p[0].time, stretch = 1.0;
  if (p[0].stretch > 1.0 + 1e-9) {
    std::size_t next = 1;
    while (next + 1 < p.size() && p[next].stretch - p[0].stretch < 1e-4) ++next;
    const double speed = (p[next].stretch - p[0].stretch) / std::max(1e-9, p[next].time - p[0].time);
    time -= (p[0].stretch - 1.0) / std::max(speed, 1e-9);
  } else {
    stretch = p[0].stretch;
  }
  for (const Leg& leg : find_legs(curve, greatest)) {
    const double moved = p[leg.last].stretch - p[leg.first].stretch;
    path.legs.push_back(leg_kind(leg, moved));
    if (!leg.rests && moved > 0.0 && path.rate == 0.0)
      path.rate = moved / std::max(1e-9, p[leg.last].time - p[leg.first].time);
    if (leg.rests) {
      double& longest = leg.free ? path.longest_free : path.longest_hold;
      longest = std::max(longest, p[leg.last].time - p[leg.first].time);
    }
    const Binning bin(p, leg);
    const std::size_t bins = std::max<std::size_t>(1, leg.rests ? bin(leg.last) : bins_per_leg);
    std::size_t i = leg.first == 0 ? (p[0].stretch > 1.0 + 1e-6 ? 0 : 1) : leg.first + 1;
    while (i <= leg.last) {
      std::size_t j = i + 1;
      while (j <= leg.last && bin(j) == bin(i)) ++j;
      FitReading mean = mean_of(p, i, j, leg, greatest);
      if (leg.held_at > 0.0) mean.stretch = leg.held_at;
      mean.leg = path.legs.size() - 1;
      mean.place = static_cast<double>(bin(i)) / static_cast<double>(bins);
      step_to(path, time, stretch, mean.time, mean.stretch, static_cast<int>(path.readings.size()));
      path.readings.push_back(mean);
      i = j;
    }
    step_to(path, time, stretch, p[leg.last].time, leg.held_at > 0.0 ? leg.held_at : p[leg.last].stretch, -1);
  }
  return path;
}

}  // namespace hoopfield
