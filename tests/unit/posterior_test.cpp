// SPDX-License-Identifier: BSD-3-Clause
// The most probable inputs behind readings: closed forms of linear models, blunders, scatter from load to load.
#include "sim/calibrate/posterior.hpp"

#include "models/reading_quantity.hpp"
#include "sim/inputs/unknowns.hpp"
#include "tests/support/catch.hpp"

#include <Eigen/LU>

#include <cmath>
#include <random>

using namespace hoopfield;

namespace {

ObservedReading seen(double observed, double deviation, std::vector<std::size_t> shared = {}) {
  ObservedReading reading;
  reading.place.quantity = find_reading_quantity("film_mass");
  reading.observed = observed;
  reading.deviation = deviation;
  reading.shared = std::move(shared);
  return reading;
}

ReadingModel linear(const Eigen::VectorXd& at_zero, const Eigen::MatrixXd& slopes) {
  return [=](const Eigen::VectorXd& z, bool) { return LinearReadings{at_zero + slopes * z, slopes}; };
}

}  // namespace

TEST_CASE("Linear readings with normal errors give the closed form", "[calibrate]") {
  ReadingErrors errors;
  errors.shared = {{"instrument", 0.2, false}, {"model", 0.1, false}};
  errors.readings = {seen(1.3, 0.1, {0}), seen(0.4, 0.3, {0, 1}), seen(-0.7, 0.05), seen(2.0, 0.2, {1})};
  Eigen::MatrixXd slopes(4, 3);
  slopes << 1.0, 0.2, 0.0, 0.3, -0.5, 0.4, 0.0, 0.6, 0.1, 0.7, 0.7, 0.0;
  const Eigen::Vector4d at_zero(0.2, -0.1, 0.3, 1.0);
  const Posterior found = most_probable(errors, 3, linear(at_zero, slopes), true);

  Eigen::Matrix4d covariance = Eigen::Vector4d(0.01, 0.09, 0.0025, 0.04).asDiagonal();
  const double instrument = 0.2 * 0.2, model = 0.1 * 0.1;
  covariance(0, 0) += instrument, covariance(1, 1) += instrument + model, covariance(3, 3) += model;
  covariance(0, 1) += instrument, covariance(1, 0) += instrument, covariance(1, 3) += model, covariance(3, 1) += model;
  const Eigen::Matrix4d weight = covariance.inverse();
  const Eigen::Matrix3d exact = (slopes.transpose() * weight * slopes + Eigen::Matrix3d::Identity()).inverse();
  const Eigen::Vector4d observed(1.3, 0.4, -0.7, 2.0);
  const Eigen::Vector3d mean = exact * slopes.transpose() * weight * (observed - at_zero);
  CHECK((found.covariance - exact).norm() < 1e-6 * exact.norm());
  CHECK((found.mean - mean).norm() < 1e-6 * mean.norm());
}

TEST_CASE("Without readings an input keeps its range", "[calibrate]") {
  ReadingErrors errors;
  errors.readings = {seen(0.5, 0.1)};
  Eigen::MatrixXd slopes(1, 2);
  slopes << 1.0, 0.0;
  const Posterior found = most_probable(errors, 2, linear(Eigen::VectorXd::Zero(1), slopes));
  CHECK(found.covariance(1, 1) == Approx(1.0).epsilon(1e-12));
  CHECK(found.mean[1] == Approx(0.0).margin(1e-12));
  // One reading of standard deviation 0.1: nearly all of the width goes.
  CHECK(std::sqrt(found.covariance(0, 0)) == Approx(0.1 / std::sqrt(1.01)).epsilon(0.05));
}

TEST_CASE("A blunder among readings hardly counts", "[calibrate]") {
  ReadingErrors errors;
  for (const double value : {0.48, 0.52, 0.50, 0.47, 0.53}) errors.readings.push_back(seen(value, 0.05));
  const Eigen::MatrixXd one = Eigen::MatrixXd::Ones(6, 1);
  ReadingErrors with = errors;
  with.readings.push_back(seen(0.5 + std::log(10.0), 0.05));
  const Posterior without = most_probable(errors, 1, linear(Eigen::VectorXd::Zero(5), one.topRows(5)));
  const Posterior found = most_probable(with, 1, linear(Eigen::VectorXd::Zero(6), one));
  CHECK(found.weight[5] < 0.01);
  CHECK(found.weight.head(5).minCoeff() > 0.9);
  CHECK(found.mean[0] == Approx(without.mean[0]).epsilon(0.02));
  CHECK(found.covariance(0, 0) == Approx(without.covariance(0, 0)).epsilon(0.02));
}

TEST_CASE("Scatter from load to load is found from many loads", "[calibrate]") {
  std::mt19937_64 random(7);
  std::normal_distribution<double> normal;
  for (const double truth : {0.0, 0.04, 0.12}) {
    double sum = 0.0;
    constexpr int repeats = 20;
    for (int repeat = 0; repeat < repeats; ++repeat) {
      ReadingErrors errors;
      constexpr std::size_t loads = 12, each = 4;
      for (std::size_t load = 0; load < loads; ++load) {
        errors.shared.push_back({"load " + std::to_string(load), 0.0, true});
        const double more = truth * normal(random);
        for (std::size_t j = 0; j < each; ++j)
          errors.readings.push_back(seen(more + 0.03 * normal(random), 0.03, {load}));
      }
      errors.loads = loads;
      const auto rows = static_cast<Eigen::Index>(loads * each);
      sum += most_probable(errors, 1, linear(Eigen::VectorXd::Zero(rows), Eigen::MatrixXd::Ones(rows, 1))).load_scatter;
    }
    CHECK(sum / repeats == Approx(truth).margin(0.02));
  }
}

TEST_CASE("Intervals of a curved model hold truths drawn from its ranges", "[calibrate]") {
  std::mt19937_64 random(11);
  std::normal_distribution<double> normal;
  int held = 0, asked = 0;
  for (int repeat = 0; repeat < 400; ++repeat) {
    const Eigen::Vector2d truth(normal(random), normal(random));
    const auto values = [](const Eigen::VectorXd& z) {
      return Eigen::VectorXd(
          Eigen::Vector3d(0.1 * z[0] + 0.02 * z[0] * z[0], 0.1 * z[0] * std::exp(0.2 * z[1]), 0.05 * z[1]));
    };
    ReadingErrors errors;
    const Eigen::VectorXd exact = values(truth);
    for (Eigen::Index j = 0; j < 3; ++j) errors.readings.push_back(seen(exact[j] + 0.05 * normal(random), 0.05));
    const ReadingModel model = [&](const Eigen::VectorXd& z, bool) {
      LinearReadings out{values(z), Eigen::MatrixXd(3, 2)};
      for (Eigen::Index i = 0; i < 2; ++i) {
        Eigen::VectorXd up = z, down = z;
        up[i] += 1e-4, down[i] -= 1e-4;
        out.slopes.col(i) = (values(up) - values(down)) / 2e-4;
      }
      return out;
    };
    const Posterior found = most_probable(errors, 2, model);
    for (Eigen::Index i = 0; i < 2; ++i, ++asked)
      held += std::abs(found.mean[i] - truth[i]) <= normal_95 * std::sqrt(found.covariance(i, i)) ? 1 : 0;
  }
  // 800 intervals of 90 %: 0.9 +- 0.011 by chance; the ends allow for three times that.
  CHECK(static_cast<double>(held) / asked == Approx(0.9).margin(0.033));
}
