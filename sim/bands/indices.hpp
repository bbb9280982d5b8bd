// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Sobol' indices: which share of the variance of a number each unknown explains, alone and with all others.
#pragma once

#include "sim/bands/rank_unknowns.hpp"

#include <string>
#include <vector>

namespace hoopfield {

/// First-order and total index of one input from n rows of a model: `a` and `b` at two independent sets of points,
/// `ab` at the points of a with this input taken from b. `S = mean(b (ab - a))/V` (Saltelli et al. 2010) and
/// `T = mean((a - ab)^2)/(2 V)` (Jansen 1999), V the variance of a and b together, both from memory. S errs less when
/// the mean over all rows of all inputs was taken off before; the estimators SALib uses, checked against it by
/// tests/bindings/python/test_bands.py.
[[nodiscard]] SobolIndex sobol_index(const std::vector<double>& a, const std::vector<double>& b,
                                     const std::vector<double>& ab);

/// Indices of the measure (rank_measure) for every unknown, the film as one, largest total first. Takes
/// `samples * (unknowns + 2)` predictions; rows in which one of them fails are left out.
[[nodiscard]] std::vector<UnknownIndex> unknown_indices(const Scenario& scenario, const Result& result,
                                                        const BandOptions& options, Observer* observer = nullptr);

}  // namespace hoopfield
