// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Everything one prediction needs, in SI units, with the origin of every value.
#pragma once

#include "models/film/description.hpp"
#include "sim/inputs/transit_input.hpp"

#include <map>
#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hoopfield {

/// Where a value comes from. Order = how far it is to be trusted, least last.
enum class Origin { given, measured, fitted, assumed };

/// Place and origin of one resolved value; line 0 = not from a file.
struct Source {
  Origin origin = Origin::assumed;
  std::string file;
  int line = 0;
  int column = 0;
};

enum class TensionControl { constant, fixed_length, follow };
enum class RotationKind { load, delivery };
enum class LoadKind { rigid, cased, bagged };
enum class PullSlit { none, beside, unknown };
enum class TargetQuantity { hoop_tension, pull_force, transit };
enum class TargetTime { end, after_storage, weakest };

struct FilmInput {
  std::string file;
  double width = 0.0;                 ///< m, on the roll
  double thickness = 0.0;             ///< m, on the roll
  double thickness_tolerance = 0.05;  ///< fraction
  double stiffness_scale = 1.0;       ///< on every modulus and flow stress of the film file
  std::optional<double> price;        ///< money/kg
};

struct TensionInput {
  TensionControl control = TensionControl::constant;
  std::optional<double> force;  ///< N in the span; after reading always set (from the dial table if need be)
  std::optional<double> dial;
  std::vector<std::pair<double, double>> dial_table;  ///< (dial, N)
  double force_scale = 1.0;                           ///< true force over set force
  double lag = 0.15;                                  ///< s
  double gain = 1.0;
  std::optional<double> length_per_turn;  ///< fraction of the perimeter, film on the roll
};

struct DeliveryInput {
  double prestretch = 0.0;              ///< strain (2.5 = film 3.5 times as long)
  double prestretch_slip = 0.0;         ///< strain lost between the rollers
  double roller_gap = 0.05;             ///< m
  double roller_arc = 0.1;              ///< m
  double internal_path = 0.5;           ///< m
  double distance = 1.5;                ///< m, outlet to rotation axis
  double offset = 0.0;                  ///< m, sideways offset of the outlet
  std::optional<double> neck_in;        ///< exponent n_d; film file's when absent
  std::optional<double> width_on_load;  ///< m, measured
  TensionInput tension;
};

struct RotationInput {
  double speed = 12.0 * 0.10471975511965977;  ///< rad/s
  RotationKind kind = RotationKind::load;
  double ramp_turns = 0.0;
};

struct PatternInput {
  std::optional<double> speed_up;    ///< carriage, m/s
  std::optional<double> speed_down;  ///< carriage, m/s
  std::optional<double> pitch;       ///< m per turn; 0 = all turns at one height
  std::optional<double> overlap;     ///< fraction of the laid width
  double bottom_turns = 2.0;
  double top_turns = 2.0;
  double top_overhang = 0.05;  ///< m
  double start_height = 0.0;   ///< m, lower film edge of the bottom turns
  bool descent = true;
  std::optional<int> turns;            ///< counted, whole wrap
  std::optional<double> roping_width;  ///< m, width of the gathered film of the bottom turns
};

struct LoadInput {
  double length = 0.0;         ///< m, along x
  double width = 0.0;          ///< m, along y
  double height = 0.0;         ///< m
  std::optional<double> mass;  ///< kg
  std::optional<int> tiers;
  std::vector<TierInput> tier;   ///< from below; empty: equal tiers
  double axis_offset = 0.0;      ///< m, of the load's centre from the rotation axis, along x
  double corner_radius = 0.005;  ///< m
  LoadKind kind = LoadKind::cased;
  double stiffness_along_length = 0.0;  ///< Pa: closing force per height and closing; infinite when rigid
  double stiffness_along_width = 0.0;   ///< Pa
  double stiffness_coupling = 0.0;      ///< Pa, off-diagonal term of the stiffness matrix
  double creep_per_decade = 0.05;
  double creep_start = 1.0;                   ///< s
  double settling = 0.0;                      ///< share of the perimeter lost in handling
  double expansion = 0.0;                     ///< 1/K
  double shear_stiffness = 0.0;               ///< N, shear force per slope of the closing over the height
  std::optional<double> edge_pressure_limit;  ///< Pa
};

struct FrictionInput {
  std::optional<double> film_on_load = 0.35;  ///< absent = stuck
  std::optional<double> film_on_film;         ///< absent = stuck
  double between_tiers = 0.45;
  double tier_on_pallet = 0.4;
  double sliding_share = 0.75;  ///< sliding friction over static, of tiers
};

struct WrappingInput {
  double temperature = 296.15;  ///< K, of film and surroundings until time 0, the end of wrapping
};

struct StorageInput {
  double duration = 7.0 * 86400.0;                                       ///< s
  std::vector<std::pair<double, double>> temperature = {{0.0, 296.15}};  ///< (s, K), linear between knots
};

struct StationsInput {
  std::optional<double> top, middle, bottom;  ///< m; after reading always set
  std::optional<double> corner_distance;      ///< m from a corner; mid-face when absent
  double band_height = 0.2;                   ///< m
  double plate_diameter = 0.15;               ///< m
  double pull_distance = 0.1;                 ///< m
  double pull_rate = 0.1;                     ///< m/s
  PullSlit slit = PullSlit::unknown;          ///< cut to bring the plate under the film
  std::optional<double> tent_factor;          ///< formula when absent
  double tent_share = 1.0;  ///< no key: factor on what the formula adds to 1, for draws within its range
};

struct TargetInput {
  TargetQuantity quantity = TargetQuantity::hoop_tension;
  TargetTime at = TargetTime::after_storage;
  std::optional<double> top, middle, bottom;  ///< N/m or N
  double probability = 0.9;                   ///< with which they are to be met
};

struct CostInput {
  std::optional<double> loads_per_year, roll_length, roll_mass, roll_change_time, labour_rate, co2e_factor,
      energy_factor;
  std::string currency;
};

/// What the head of a report says beside the title.
struct ReportWords {
  std::string site, author, customer;  ///< one line each
  std::string date;                    ///< "2026-11-27"; empty when not given, never from the clock
};

struct NumericsInput {
  int slices = 30;
  double tolerance = 1e-3;
  int band_samples = 128;  ///< draws behind a band; 0 = no bands
  int seed = 1;
};

/// What a user says of how well one input is known.
struct InputSpread {
  enum class Kind { as_declared, exact, share, error, range };
  Kind kind = Kind::as_declared;
  double error = 0.0;            ///< half of the central 90 %: a share of the value, or SI
  double low = 0.0, high = 0.0;  ///< 5 % and 95 % quantile, SI; kind range only
  std::string text;              ///< as written: "3 %", ["20 um", "26 um"]
  bool operator==(const InputSpread&) const = default;
};

/// What a calibration learned of several inputs together. The range of each of `keys` stands in [uncertainty].
struct CalibrationInput {
  std::vector<std::string> keys;
  /// Of the film file's uncertain numbers, as standard normals before the readings: mean and standard deviation now.
  std::vector<double> film_mean, film_deviation;
  std::vector<double> correlation;    ///< of keys, then film numbers; square, row by row
  double load_scatter = 0.0;          ///< standard deviation of hoop tension from load to load, share
  std::vector<std::string> readings;  ///< files it was made from
  bool operator==(const CalibrationInput&) const = default;
};

/// A complete, validated set of inputs. Copy it, change it, predict it.
struct Scenario {
  std::string title, notes;
  int schema = 1;
  ReportWords report;
  std::string path;  ///< file it was read from; empty when made in memory
  std::string text;  ///< the file as read, kept for the result
  FilmInput film;
  FilmDescription film_description;
  std::string film_text;
  DeliveryInput delivery;
  RotationInput rotation;
  PatternInput pattern;
  LoadInput load;
  FrictionInput friction;
  WrappingInput wrapping;
  StorageInput storage;
  TransitInput transit;
  StationsInput stations;
  std::optional<TargetInput> target;
  CostInput cost;
  NumericsInput numerics;
  std::map<std::string, InputSpread> uncertainty;  ///< by key
  std::optional<CalibrationInput> calibration;     ///< correlations of inputs fitted to readings
  std::map<std::string, Source> sources;           ///< by key, e.g. "delivery.tension.force"; absent = assumed default
};

}  // namespace hoopfield
