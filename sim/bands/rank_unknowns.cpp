// SPDX-License-Identifier: BSD-3-Clause
#include "sim/bands/rank_unknowns.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/bands/detail/drawer.hpp"
#include "sim/base/parallel.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/transit_target.hpp"

#include <Eigen/QR>

#include <algorithm>
#include <cmath>
#include <limits>

namespace hoopfield {
namespace {

using bands_detail::Draw;
using bands_detail::Drawer;
using bands_detail::drawn_numbers;
using bands_detail::DrawStatus;

constexpr double nan = std::numeric_limits<double>::quiet_NaN();
constexpr double trusted_r_squared = 0.8;

RankMeasure least_measure(const char* at) {
  RankMeasure measure;
  measure.quantity = "hoop_tension";
  measure.at = at;
  for (const char* station : station_names)
    measure.names.push_back(std::string("containment.") + at + "." + station + ".hoop_tension");
  return measure;
}

/// Both ends of one group, as standard normal numbers.
struct Ends {
  std::size_t group = 0;
  std::vector<double> low, high;
  Draw at_low, at_high;
};

std::vector<double> moved(const Drawer& drawer, std::size_t group, double z, const std::vector<double>& direction) {
  std::vector<double> normals(drawer.unknowns().size() + drawer.film_size(), 0.0);
  const auto [from, to] = drawer.place(group);
  for (std::size_t i = from; i < to; ++i) normals[i] = z * direction[i - from];
  return normals;
}

std::string number_text(const Unknown& u, double value) {
  if (u.formula_share) return std::isnan(value) ? "formula" : format_quantity(value, "%", 3) + " of the formula's tent";
  return format_quantity(value, u.parameter->metric, 3);
}

void describe(const Unknown& u, UnknownInput& out) {
  out.key = u.key;
  out.origin = origin_name(u.origin);
  out.low_text = number_text(u, u.low);
  out.high_text = number_text(u, u.high);
  out.value_text = number_text(u, u.formula_share ? nan : u.value);
  out.how_to_measure = how_to_measure(*u.parameter);
  out.caution = caution_text(*u.parameter);
}

void describe_film(UnknownInput& out) {
  const Parameter& p = *find_parameter(ParameterRoom::scenario, "film.file");
  out.key = "film.file";
  out.origin = origin_name(Origin::fitted);
  out.group = true;
  out.value_text = "the numbers of the film file";
  out.low_text = "5 %";
  out.high_text = "95 % along the direction that matters most";
  out.how_to_measure = how_to_measure(p);
  out.caution = caution_text(p);
}

/// Inputs that act on the load in transit alone move nothing that is ranked unless the target is in transit.
BandOptions of_ranking(const Scenario& scenario, BandOptions options) {
  if (targets_transit(scenario)) return options;
  for (std::string& key : transit_only_keys()) options.held.push_back(std::move(key));
  return options;
}

class Ranker {
 public:
  Ranker(const Scenario& scenario, Result& result, const BandOptions& options)
      : scenario_(scenario),
        result_(result),
        options_(of_ranking(scenario, options)),
        measure_(rank_measure(result)),
        drawer_(scenario, options_, result.band ? 2 * result.band->draws() : 1) {}

  void run(Observer* observer) {
    regress_draws();
    collect_ends();
    run_parallel(2 * ends_.size(), observer, options_.from, options_.to, "ranking the unknown inputs",
                 [this](std::size_t i, Observer* watch) {
                   Ends& e = ends_[i / 2];
                   Draw& d = i % 2 == 0 ? e.at_low : e.at_high;
                   d = drawer_.draw(i % 2 == 0 ? e.low : e.high, watch);
                 });
    result_.assumed.clear();
    for (const Ends& e : ends_) result_.assumed.push_back(entry(e));
    std::stable_sort(result_.assumed.begin(), result_.assumed.end(),
                     [](const UnknownInput& a, const UnknownInput& b) { return a.effect > b.effect; });
  }

  /// The band if one input were known, for the largest.
  void add_known(std::size_t count, Observer* observer) {
    if (!result_.band || !result_.band->message.empty()) return;
    for (std::size_t i = 0; i < std::min(count, result_.assumed.size()); ++i) {
      BandOptions options = options_;
      options.samples = result_.band->draws();
      options.held.push_back(result_.assumed[i].key);
      const BandResult held = draw_bands(scenario_, options, observer);
      std::vector<double> values(held.draws());
      for (std::size_t d = 0; d < values.size(); ++d) values[d] = value_of(held, d);
      const auto band = held.message.empty() ? band_of_draws(values) : std::nullopt;
      if (!band) continue;
      result_.assumed[i].known_low = band->low;
      result_.assumed[i].known_high = band->high;
    }
  }

 private:
  [[nodiscard]] double value_of(const BandResult& band, std::size_t draw) const {
    const auto width = static_cast<std::ptrdiff_t>(band.names.size());
    const auto row = band.numbers.begin() + static_cast<std::ptrdiff_t>(draw) * width;
    return measure_.of(band.names, {row, row + width});
  }

  void regress_draws() {
    if (!result_.band || !result_.band->message.empty()) return;
    const BandResult& band = *result_.band;
    std::vector<std::vector<double>> rows;
    std::vector<double> values;
    for (std::size_t i = 0; i < band.draws(); ++i) {
      rows.push_back(drawer_.normals(static_cast<std::size_t>(band.point[i])));
      values.push_back(value_of(band, i));
    }
    regression_ = regress(rows, values);
  }

  void collect_ends() {
    for (std::size_t g = 0; g < drawer_.groups(); ++g) {
      const auto [from, to] = drawer_.place(g);
      std::vector<double> direction = {1.0};
      if (g == drawer_.unknowns().size()) {
        if (regression_.slopes.size() < to) continue;
        direction.assign(regression_.slopes.begin() + static_cast<std::ptrdiff_t>(from),
                         regression_.slopes.begin() + static_cast<std::ptrdiff_t>(to));
        double length = 0.0;
        for (const double slope : direction) length = std::hypot(length, slope);
        if (!(length > 0.0)) continue;
        for (double& slope : direction) slope /= length;
      }
      ends_.push_back({g, moved(drawer_, g, -normal_95, direction), moved(drawer_, g, normal_95, direction), {}, {}});
    }
  }

  [[nodiscard]] UnknownInput entry(const Ends& e) const {
    UnknownInput out;
    if (e.group < drawer_.unknowns().size()) {
      describe(drawer_.unknowns()[e.group], out);
    } else {
      describe_film(out);
    }
    out.quantity = measure_.quantity;
    out.at = measure_.at;
    out.station = measure_.station;
    const RankMeasure least = least_measure("after_storage");
    const std::vector<std::string> names = drawer_.names();
    const auto number = [&](const RankMeasure& m, const Draw& d) {
      return d.status == DrawStatus::done ? m.of(names, d.numbers) : nan;
    };
    out.containment_low = number(least, e.at_low);
    out.containment_high = number(least, e.at_high);
    out.low = number(measure_, e.at_low);
    out.high = number(measure_, e.at_high);
    out.failed = e.at_low.status != DrawStatus::done || e.at_high.status != DrawStatus::done;
    out.message = e.at_low.message.empty() ? e.at_high.message : e.at_low.message;
    const double nominal = measure_.of(names, drawn_numbers(scenario_, result_));
    double low = nominal, high = nominal;
    for (const double value : {out.low, out.high}) {
      if (!std::isfinite(value)) continue;
      low = std::min(low, value);
      high = std::max(high, value);
    }
    out.effect = nominal > 0.0 ? (high - low) / nominal : 0.0;
    if (regression_.slopes.empty()) return out;
    out.r_squared = regression_.adjusted_r_squared;
    if (regression_.adjusted_r_squared < trusted_r_squared) return out;
    const auto [from, to] = drawer_.place(e.group);
    double own = 0.0, all = 0.0;
    for (std::size_t i = 0; i < regression_.slopes.size(); ++i) {
      const double part = regression_.slopes[i] * regression_.slopes[i];
      all += part;
      own += i >= from && i < to ? part : 0.0;
    }
    if (all > 0.0) out.share = own / all;
    return out;
  }

  const Scenario& scenario_;
  Result& result_;
  const BandOptions options_;
  const RankMeasure measure_;
  const Drawer drawer_;
  Regression regression_;
  std::vector<Ends> ends_;
};

}  // namespace

double RankMeasure::of(const std::vector<std::string>& all_names, const std::vector<double>& numbers) const {
  double least = std::numeric_limits<double>::infinity();
  for (const std::string& name : names) {
    const auto found = std::find(all_names.begin(), all_names.end(), name);
    if (found == all_names.end()) return nan;
    const double value = numbers[static_cast<std::size_t>(found - all_names.begin())];
    if (!std::isfinite(value)) return nan;
    least = std::min(least, value);
  }
  return least;
}

RankMeasure rank_measure(const Result& result) {
  const TargetResult* const nearest = nearest_target(result);
  if (nearest == nullptr) return least_measure("after_storage");
  return {{drawn_name_of(*nearest)}, nearest->quantity, nearest->at, nearest->station};
}

Regression regress(const std::vector<std::vector<double>>& rows, const std::vector<double>& values) {
  Regression out;
  std::vector<std::size_t> kept;
  for (std::size_t i = 0; i < values.size(); ++i)
    if (std::isfinite(values[i])) kept.push_back(i);
  const std::size_t columns = rows.empty() ? 0 : rows.front().size();
  if (kept.size() <= columns + 2 || columns == 0) return out;
  const auto n = static_cast<Eigen::Index>(kept.size()), p = static_cast<Eigen::Index>(columns);
  Eigen::MatrixXd design(n, p + 1);
  Eigen::VectorXd y(n);
  for (Eigen::Index i = 0; i < n; ++i) {
    const std::size_t row = kept[static_cast<std::size_t>(i)];
    y[i] = values[row];
    design(i, p) = 1.0;
    for (Eigen::Index j = 0; j < p; ++j) design(i, j) = rows[row][static_cast<std::size_t>(j)];
  }
  const Eigen::VectorXd slopes = design.colPivHouseholderQr().solve(y);
  const double rest = (y - design * slopes).squaredNorm();
  const double all = (y.array() - y.mean()).matrix().squaredNorm();
  out.slopes.assign(slopes.data(), slopes.data() + p);
  if (all > 0.0)
    out.adjusted_r_squared = 1.0 - rest / all * static_cast<double>(n - 1) / static_cast<double>(n - p - 1);
  return out;
}

void rank_unknowns(const Scenario& scenario, Result& result, const BandOptions& options, std::size_t known_for,
                   Observer* observer) {
  Ranker ranker(scenario, result, options);
  ranker.run(observer);
  if (known_for > 0) ranker.add_known(known_for, observer);
}

void rank_unknowns(const Scenario& scenario, Result& result, Observer* observer) {
  rank_unknowns(scenario, result, band_options(scenario), 0, observer);
}

}  // namespace hoopfield
