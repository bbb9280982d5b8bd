// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a film file says, in SI units: numbers and provenance, no behaviour.
#pragma once

#include <functional>
#include <initializer_list>
#include <map>
#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace hoopfield {

class FilmLaw;

/// Equilibrium network (Gent): true stress `G Jm/(Jm-(I1-3)) g(l)`.
struct NetworkParameters {
  double modulus = 0.0;        ///< G, Pa, > 0
  double stretch_limit = 0.0;  ///< Jm, greatest I1 - 3, > 0
};

/// One relaxing branch: a spring on the elastic log strain e in series with a dashpot. Its numbers, SI, stand under the
/// keys its law declares (law_registry.hpp): `branch["modulus"]`. A number never set reads as 0.
class BranchParameters {
 public:
  BranchParameters() = default;
  BranchParameters(std::initializer_list<std::pair<const std::string, double>> numbers) : numbers_(numbers) {}
  [[nodiscard]] double operator[](std::string_view key) const {
    const auto found = numbers_.find(key);
    return found == numbers_.end() ? 0.0 : found->second;
  }
  double& operator[](std::string_view key) {
    const auto found = numbers_.find(key);
    return found == numbers_.end() ? numbers_[std::string(key)] : found->second;
  }

 private:
  std::map<std::string, double, std::less<>> numbers_;
};

struct ThermalParameters {
  double expansion = 0.0;          ///< alpha, 1/K
  double modulus_softening = 0.0;  ///< b_E, 1/K: E(T) = E exp(-b_E (T - Tref))
  double network_softening = 0.0;  ///< b_G, 1/K
  double heat_capacity = 0.0;      ///< cp, J/kg/K; 0 = no heat of drawing
  double entropic_share = 1.0;     ///< theta, share of network work that heats the film in the gap
};

struct BreakParameters {
  double stretch = 0.0;          ///< l_b - 1 as strain, Weibull scale
  double weibull_modulus = 0.0;  ///< M
  double reference_area = 0.0;   ///< A0, m^2 of film on the roll
};

struct Provenance {
  std::string source;
  bool illustrative = false;
  std::string fitted_to;
};

/// Uncertainty of fitted numbers. Errors are standard deviations of ln(value); of the value itself (SI) for activation
/// energies and [thermal].
struct FilmCovariance {
  std::vector<std::string> keys;    ///< of the film file: "network.modulus", "branch[1].flow_stress"
  std::vector<double> error;        ///< one per key, > 0
  std::vector<double> correlation;  ///< keys x keys, row by row, 1 on the diagonal
};

/// One point of a tabulated elastic curve (law "elastic-curve").
struct CurvePoint {
  double stretch = 1.0;         ///< length over length on the roll
  double nominal_stress = 0.0;  ///< force over section on the roll, Pa
};

struct FilmDescription {
  std::string name;
  std::string law = "eyring-network";     ///< name of a law in law_registry.hpp
  double density = 0.0;                   ///< kg/m^3
  double neck_in = 0.0;                   ///< n_d, width exponent in the draw gap only, 0..0.5
  double reference_temperature = 296.15;  ///< K
  NetworkParameters network;
  double viscous_share = 0.0;  ///< h: flow stress grows as chi = 1 + h (I1 - 3)
  std::vector<BranchParameters> branches;
  std::vector<CurvePoint> curve;
  ThermalParameters thermal;
  std::optional<BreakParameters> breaking;
  Provenance provenance;
  std::optional<FilmCovariance> covariance;  ///< what bands draw from
  std::set<std::string, std::less<>>
      assumed;  ///< keys of the film file whose numbers are assumed: "density", "neck_in"
};

/// The same film with every modulus and flow stress (every number of the law in Pa) times `factor`: all its stresses
/// are `factor` times as large at the same history of stretch. Pinned by tests/unit/scale_keys_test.cpp.
[[nodiscard]] FilmDescription scaled_film(const FilmDescription& film, double factor);

/// Builds the law a description names. Throws InputError for a name that is no law, OutOfRange for numbers no film can
/// have.
[[nodiscard]] std::shared_ptr<const FilmLaw> make_film_law(const FilmDescription& description);

}  // namespace hoopfield
