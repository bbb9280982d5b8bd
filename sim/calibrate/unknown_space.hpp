// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Inputs that readings may move, as standard normal numbers.
#pragma once

#include "sim/base/observer.hpp"
#include "sim/calibrate/posterior.hpp"
#include "sim/inputs/unknowns.hpp"

#include <functional>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

/// The uncertain inputs of a scenario that act on the wrapped load, then the uncertain numbers of its film file.
class UnknownSpace {
 public:
  /// \param free where not empty, these keys alone \param held keys that stay as they are; "film.file" holds the film
  /// Throws InputError for a key that is not uncertain here.
  UnknownSpace(const Scenario& scenario, const std::vector<std::string>& free, const std::vector<std::string>& held);

  [[nodiscard]] const std::vector<Unknown>& inputs() const { return inputs_; }
  [[nodiscard]] std::size_t film_numbers() const { return film_ ? film_->size() : 0; }
  [[nodiscard]] std::size_t size() const { return inputs_.size() + film_numbers(); }
  /// The scenario at standard normal numbers, with its turns held.
  [[nodiscard]] Scenario at(const Eigen::VectorXd& z) const;
  /// Whole turns of the wrap at the values in use, or those that were counted.
  [[nodiscard]] int turns() const { return turns_; }
  void count_turns(int turns) { turns_ = turns; }

 private:
  const Scenario& scenario_;
  std::vector<Unknown> inputs_;
  std::optional<FilmSpread> film_;
  int turns_ = 0;
};

/// Values at z and at one step of each number from it, on all threads: central differences, or forward ones where a
/// rough slope will do. A side without a solution is left to the other.
[[nodiscard]] LinearReadings linearised(const Eigen::VectorXd& z, bool central,
                                        const std::vector<ObservedReading>& scales,
                                        const std::function<std::vector<double>(const Eigen::VectorXd&)>& values,
                                        Observer* observer);

}  // namespace hoopfield
