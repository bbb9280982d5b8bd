// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Stress along a measured path and its derivatives by every parameter of the film law, by forward sensitivity.
#pragma once

#include "models/film/description.hpp"
#include "sim/film_lab/fit_path.hpp"

#include <Eigen/Core>

#include <cstddef>
#include <string>
#include <vector>

namespace hoopfield {

/// Where each number stands in the vector of K branches. Natural logarithms, except Q (in 10 kJ/mol), b_E, b_G (1/K).
struct FitLayout {
  explicit FitLayout(std::size_t branch_count) : branches(branch_count) {}
  std::size_t branches;
  [[nodiscard]] Eigen::Index size() const { return static_cast<Eigen::Index>(5 + 4 * branches); }
  [[nodiscard]] Eigen::Index network_modulus() const { return 0; }
  [[nodiscard]] Eigen::Index stretch_limit() const { return 1; }
  [[nodiscard]] Eigen::Index viscous_share() const { return 2; }
  [[nodiscard]] Eigen::Index modulus(std::size_t k) const { return static_cast<Eigen::Index>(3 + 3 * k); }
  [[nodiscard]] Eigen::Index rate(std::size_t k) const { return modulus(k) + 1; }
  [[nodiscard]] Eigen::Index flow_stress(std::size_t k) const { return modulus(k) + 2; }
  [[nodiscard]] Eigen::Index activation(std::size_t k) const { return static_cast<Eigen::Index>(3 + 3 * branches + k); }
  [[nodiscard]] Eigen::Index softening() const { return static_cast<Eigen::Index>(3 + 4 * branches); }
  [[nodiscard]] Eigen::Index network_softening() const { return softening() + 1; }
  [[nodiscard]] bool logarithmic(Eigen::Index i) const { return i < static_cast<Eigen::Index>(3 + 3 * branches); }
  [[nodiscard]] bool thermal(Eigen::Index i) const { return !logarithmic(i); }
  /// Key of the film file: "branch[2].modulus".
  [[nodiscard]] std::string key(Eigen::Index i) const;
};

inline constexpr double activation_unit = 1e4;  ///< J/mol

/// The film a vector stands for; everything else from `base`. And back.
[[nodiscard]] FilmDescription film_from(const FitLayout& layout, const Eigen::VectorXd& parameters,
                                        const FilmDescription& base);
[[nodiscard]] Eigen::VectorXd parameters_from(const FitLayout& layout, const FilmDescription& film);

/// Nominal stress at every reading, as law "eyring-network" gives it: the law's own step, in numbers that carry their
/// derivatives when `jacobian` (readings x parameters) is asked for. Pinned by tests/unit/film_fit_test.cpp.
void model_stress(const FitPath& path, const FitLayout& layout, const Eigen::VectorXd& parameters,
                  double reference_temperature, Eigen::VectorXd& stress, Eigen::MatrixXd* jacobian = nullptr);

}  // namespace hoopfield
