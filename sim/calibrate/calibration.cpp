// SPDX-License-Identifier: BSD-3-Clause
#include "sim/calibrate/calibration.hpp"

#include "models/error.hpp"
#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/bands/bands.hpp"
#include "sim/calibrate/next_reading.hpp"
#include "sim/calibrate/unknown_space.hpp"
#include "sim/wrap/predict.hpp"

#include <algorithm>
#include <cmath>
#include <map>

namespace hoopfield {
namespace {

constexpr double confounded_above = 0.8;
constexpr double off_weight = 0.3;       // of a reading that is taken for a blunder
constexpr double rare_pull = 2.6;        // of an input; one in a hundred
constexpr double wrong_film_pull = 2.2;  // of the film's thickness; three in a hundred
constexpr double unmoved = 0.97;         // an input of which more of the deviation is left was not learned of
constexpr double large_scatter = 0.1;

/// To five significant digits: more would say what nobody knows.
double rounded(double value) {
  if (value == 0.0) return value;
  const double unit = std::pow(10.0, std::floor(std::log10(std::abs(value))) - 4.0);
  return std::round(value / unit) * unit;
}

/// Whole turns that most of the loads were counted with; 0 when nobody counted.
int counted_turns(const std::vector<Reading>& readings) {
  std::map<int, int> votes;
  for (const Reading& reading : readings)
    if (reading.quantity == "turns") ++votes[std::max(1, static_cast<int>(std::lround(reading.value)))];
  int best = 0, most = 0;
  for (const auto& [turns, count] : votes)
    if (count > most) best = turns, most = count;
  return best;
}

class Calibrator {
 public:
  Calibrator(const Scenario& scenario, const std::vector<Reading>& readings, const CalibrationOptions& options,
             Observer* observer)
      : scenario_(scenario),
        readings_(readings),
        options_(options),
        observer_(observer),
        space_(scenario, options.free, options.held) {}

  Calibration run() {
    counted_ = counted_turns(readings_);
    check_turns();
    if (counted_ > 0) space_.count_turns(counted_);
    errors_ = reading_errors(scenario_, readings_);
    if (errors_.readings.empty())
      throw InputError(
          "readings: none but counted turns; expected at least one reading of a force, a mass or a length");
    for (const ObservedReading& seen : errors_.readings) find_place(seen.place);
    posterior_ = most_probable(errors_, space_.size(), [this](const Eigen::VectorXd& z, bool central) {
      return linearised(
          z, central, errors_.readings, [this](const Eigen::VectorXd& at) { return predicted(at); }, observer_);
    });
    outlook_ = calibrate_detail::outlook(scenario_, space_, posterior_.mean, observer_);
    fill_inputs();
    fill_confounded();
    fill_readings();
    flag_inputs();
    flag_scatter();
    out_.next = calibrate_detail::ranked_readings(outlook_, posterior_.covariance, posterior_.load_scatter);
    out_.measure = outlook_.measure;
    out_.load_scatter = posterior_.load_scatter;
    out_.loads = errors_.loads;
    out_.iterations = posterior_.iterations;
    predict_before_and_after();
    return std::move(out_);
  }

 private:
  /// Readings taken at one place are predicted once.
  void find_place(const ReadingPlace& place) {
    const auto known = std::find(places_.begin(), places_.end(), place);
    place_.push_back(static_cast<std::size_t>(known - places_.begin()));
    if (known == places_.end()) places_.push_back(place);
  }

  [[nodiscard]] std::vector<double> predicted(const Eigen::VectorXd& z) {
    const std::vector<double> once = predicted_readings(space_.at(z), places_, &cache_);
    std::vector<double> all;
    for (const std::size_t place : place_) all.push_back(once[place]);
    return all;
  }

  void flag(const char* code, const std::string& text) { out_.flags.push_back({code, text}); }

  void check_turns() {
    if (counted_ == 0 || std::abs(counted_ - space_.turns()) <= 1) return;
    flag("turns-off", std::to_string(counted_) + " turns were counted where the pattern needs " +
                          std::to_string(space_.turns()) +
                          ": check carriage speed or overlap, turns at the bottom and top, and the height of the load");
  }

  [[nodiscard]] double deviation(std::size_t i) const {
    const auto k = static_cast<Eigen::Index>(i);
    return std::sqrt(posterior_.covariance(k, k));
  }
  [[nodiscard]] double correlation(std::size_t i, std::size_t j) const {
    return posterior_.covariance(static_cast<Eigen::Index>(i), static_cast<Eigen::Index>(j)) /
           (deviation(i) * deviation(j));
  }
  [[nodiscard]] double mean(std::size_t i) const { return posterior_.mean[static_cast<Eigen::Index>(i)]; }
  [[nodiscard]] bool learned(std::size_t i) const { return deviation(i) < unmoved || std::abs(mean(i)) > 0.15; }

  void fill_inputs() {
    const std::size_t n = space_.inputs().size();
    for (std::size_t i = 0; i < space_.size(); ++i) {
      CalibratedInput input;
      const double m = mean(i), s = deviation(i);
      input.is_film = i >= n;
      if (input.is_film) {
        input.key = "film.file " + std::to_string(i - n + 1);
        input.before = {-normal_95, 0.0, normal_95};
        input.after = {m - normal_95 * s, m, m + normal_95 * s};
      } else {
        const Unknown& u = space_.inputs()[i];
        input.key = u.key;
        input.is_share = u.formula_share;
        input.before = {u.low, u.value, u.high};
        input.after = {value_at(u, m - normal_95 * s), value_at(u, m), value_at(u, m + normal_95 * s)};
      }
      input.share = s;
      input.pull = s < 0.999 ? m / std::sqrt(1.0 - s * s) : 0.0;
      input.settled = s <= 0.5 ? Settled::determined : s <= 0.9 ? Settled::narrowed : Settled::not_determined;
      if (input.settled != Settled::determined) {
        const auto [best, left] =
            calibrate_detail::best_for(outlook_, posterior_.covariance, posterior_.load_scatter, i);
        if (left <= 0.9) input.would_determine = best;
      }
      out_.inputs.push_back(std::move(input));
    }
  }

  void fill_confounded() {
    for (std::size_t i = 0; i < out_.inputs.size(); ++i)
      for (std::size_t j = 0; j < i; ++j) {
        const double r = correlation(i, j);
        if (std::abs(r) > confounded_above) out_.confounded.push_back({out_.inputs[j].key, out_.inputs[i].key, r});
      }
  }

  void fill_readings() {
    const std::vector<double> before = predicted(Eigen::VectorXd::Zero(static_cast<Eigen::Index>(space_.size())));
    std::size_t j = 0;
    for (const Reading& reading : readings_) {
      if (reading.quantity == "turns") continue;
      const ObservedReading& seen = errors_.readings[j];
      const auto row = static_cast<Eigen::Index>(j);
      const Eigen::VectorXd a = posterior_.at.slopes.row(row).transpose();
      const auto band = [&](double value, double variance) {
        const double half = normal_95 * std::sqrt(variance);
        return Banded{seen.unscaled(value - half), seen.unscaled(value), seen.unscaled(value + half)};
      };
      CalibratedReading out;
      out.reading = reading;
      out.place = seen.place;
      out.before = band(seen.scaled(before[j]), a.squaredNorm());
      out.after = band(posterior_.at.value[row], a.dot(posterior_.covariance * a));
      double shared = 0.0;
      for (const std::size_t k : seen.shared)
        shared += posterior_.shared[static_cast<Eigen::Index>(k)] *
                  (errors_.shared[k].is_load ? posterior_.load_scatter : errors_.shared[k].deviation);
      out.residual = (seen.observed - posterior_.at.value[row] - shared) / seen.deviation;
      out.weight = posterior_.weight[row];
      out.is_off = out.weight < off_weight;
      if (out.is_off) flag_reading(out);
      out_.readings.push_back(std::move(out));
      ++j;
    }
  }

  void flag_reading(const CalibratedReading& r) {
    const ReadingQuantity& q = *r.place.quantity;
    const std::string unit(q.metric.empty() ? q.unit : q.metric);
    flag("reading-off", "line " + std::to_string(r.reading.line) + ": " + std::string(q.label) + " " +
                            format_quantity(r.reading.value, unit, 3) + " where everything else says " +
                            format_quantity(r.after.value, unit, 3) +
                            "; it hardly counts. Read it again: unit, height, dial, or another film on this load");
  }

  void flag_inputs() {
    for (const CalibratedInput& input : out_.inputs) {
      const bool film = input.key == "film.thickness";
      if (std::abs(input.pull) <= (film ? wrong_film_pull : rare_pull)) continue;
      if (film) {
        flag("wrong-film", "the readings want film of " + format_quantity(input.after.value, "um", 3) + " where " +
                               format_quantity(input.before.value, "um", 3) +
                               " is on the roll: check the label, or weigh a measured length of film");
      } else {
        flag("input-off", input.key + " is pulled to the edge of what was thought possible (" +
                              short_number(std::round(10.0 * std::abs(input.pull)) / 10.0) +
                              " standard deviations): measure it, or find what else is not as the scenario says");
      }
    }
  }

  void flag_scatter() {
    if (errors_.loads < 2 || posterior_.load_scatter < large_scatter) return;
    flag("scatter-large", "hoop tension differs from load to load by " +
                              format_quantity(posterior_.load_scatter, "%", 2) +
                              " (standard deviation): look for what differs, such as film, dial or load");
  }

  /// A learned input under its key. The share of the tent formula has none: the factor itself, as the formula has it at
  /// the stations.
  [[nodiscard]] Banded learned_range(const CalibratedInput& input) const {
    Banded range = input.after;
    if (!input.is_share) return range;
    const double formula = tent_formula();
    for (double* end : {&range.low, &range.value, &range.high}) *end = 1.0 + *end * (formula - 1.0);
    return range;
  }

  /// As [uncertainty] has it.
  static InputSpread spread_of(const std::string& key, const Banded& range) {
    const Parameter& p = *find_parameter(ParameterRoom::scenario, key);
    const auto text = [&](double x) {
      const std::string written = format_quantity(x, p.metric, 6);
      return p.metric.empty() ? written : in_quotes(written);
    };
    InputSpread spread;
    spread.kind = InputSpread::Kind::range;
    spread.low = range.low;
    spread.high = range.high;
    spread.text = "[" + text(range.low) + ", " + text(range.high) + "]";
    return spread;
  }

  /// What the formula of the tent factor gives, mean of the stations at the values in use.
  [[nodiscard]] double tent_formula() const {
    double mean = 0.0;
    for (const StationResult& station : out_.before.end.stations)
      mean += (1.0 + (station.tent_factor - 1.0) / scenario_.stations.tent_share) / 3.0;
    return mean;
  }

  [[nodiscard]] Scenario learned_scenario() const {
    Scenario s = scenario_;
    SpreadMap spreads = std::move(s.uncertainty);
    s.uncertainty.clear();  // ranges are about values that move here
    std::vector<std::pair<std::string, double>> numbers;
    std::vector<std::size_t> places;
    for (std::size_t i = 0; i < space_.inputs().size(); ++i) {
      if (!learned(i)) continue;
      const std::string& key = out_.inputs[i].key;
      const Banded range = learned_range(out_.inputs[i]);
      spreads[key] = spread_of(key, range);
      numbers.emplace_back(key, rounded(range.value));
      places.push_back(i);
    }
    if (counted_ > 0) numbers.emplace_back("pattern.turns", counted_);
    set_numbers(s, numbers);
    for (const std::size_t i : places) s.sources[out_.inputs[i].key].origin = Origin::fitted;
    if (counted_ > 0) s.sources["pattern.turns"].origin = Origin::measured;
    s.uncertainty = std::move(spreads);
    s.sources["uncertainty"] = {Origin::given, {}, 0, 0};
    s.calibration = table(places);
    s.sources["calibration"] = {Origin::given, {}, 0, 0};
    resolve_scenario(s);
    return s;
  }

  [[nodiscard]] CalibrationInput table(std::vector<std::size_t> places) const {
    CalibrationInput t;
    for (const std::size_t i : places) t.keys.push_back(out_.inputs[i].key);
    for (std::size_t i = space_.inputs().size(); i < space_.size(); ++i) {
      t.film_mean.push_back(mean(i));
      t.film_deviation.push_back(deviation(i));
      places.push_back(i);
    }
    for (const std::size_t i : places)
      for (const std::size_t j : places) t.correlation.push_back(correlation(i, j));
    t.load_scatter = posterior_.load_scatter;
    for (const Reading& reading : readings_)
      if (!reading.file.empty() && std::find(t.readings.begin(), t.readings.end(), reading.file) == t.readings.end())
        t.readings.push_back(reading.file);
    return t;
  }

  void predict_before_and_after() {
    BandOptions bands = band_options(scenario_);
    bands.samples = options_.band_samples;
    out_.before = predict(scenario_, nullptr);
    out_.scenario = learned_scenario();
    out_.after = predict(out_.scenario, nullptr);
    add_bands(scenario_, out_.before, bands, observer_);
    add_bands(out_.scenario, out_.after, bands, observer_);
  }

  const Scenario& scenario_;
  const std::vector<Reading>& readings_;
  const CalibrationOptions& options_;
  Observer* observer_;
  UnknownSpace space_;
  FilmPathCache cache_;
  int counted_ = 0;
  ReadingErrors errors_;
  std::vector<ReadingPlace> places_;  ///< different ones
  std::vector<std::size_t> place_;    ///< of each reading
  Posterior posterior_;
  calibrate_detail::Outlook outlook_;
  Calibration out_;
};

}  // namespace

const char* settled_word(Settled settled) {
  switch (settled) {
    case Settled::determined: return "determined";
    case Settled::narrowed: return "narrowed";
    case Settled::not_determined: return "not_determined";
  }
  return "not_determined";
}

Calibration calibrate(const Scenario& scenario, const std::vector<Reading>& readings, const CalibrationOptions& options,
                      Observer* observer) {
  if (scenario.calibration)
    throw InputError(
        "calibration: this scenario was fitted to readings already; expected the scenario from before, with "
        "all readings together",
        scenario.path, 0, 0, "calibration");
  if (readings.empty()) throw InputError("readings: none are given; expected at least one");
  check_band_samples(static_cast<std::int64_t>(options.band_samples));
  return Calibrator(scenario, readings, options, observer).run();
}

}  // namespace hoopfield
