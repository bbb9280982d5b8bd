// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Two vectors of numbers worked side by side, so that one does not wait for the divisions and series of the other.
#pragma once

#include "models/film/vector_math.hpp"

#include <xsimd/xsimd.hpp>

#include <cstddef>

namespace hoopfield::detail {

/// A vector of numbers or of truth values, twice as long as the processor's.
template <class Batch>
struct Paired {
  Batch first, second;
  friend bool all(const Paired& t) { return xsimd::all(t.first) && xsimd::all(t.second); }
};

template <class Batch>
struct PairedNumber : Paired<Batch> {
  static constexpr std::size_t size = 2 * Batch::size;
  PairedNumber(double value) : Paired<Batch>{Batch(value), Batch(value)} {}  // NOLINT: mixes with constants
  PairedNumber(const Batch& a, const Batch& b) : Paired<Batch>{a, b} {}
  static PairedNumber load_unaligned(const double* from) {
    return {Batch::load_unaligned(from), Batch::load_unaligned(from + Batch::size)};
  }
  void store_unaligned(double* to) const {
    this->first.store_unaligned(to);
    this->second.store_unaligned(to + Batch::size);
  }

#define HOOPFIELD_PAIRED_OPERATOR(op)                                             \
  friend PairedNumber operator op(const PairedNumber& a, const PairedNumber& b) { \
    return {a.first op b.first, a.second op b.second};                            \
  }
  HOOPFIELD_PAIRED_OPERATOR(+)
  HOOPFIELD_PAIRED_OPERATOR(-)
  HOOPFIELD_PAIRED_OPERATOR(*)
  HOOPFIELD_PAIRED_OPERATOR(/)
#undef HOOPFIELD_PAIRED_OPERATOR
  friend PairedNumber operator-(const PairedNumber& a) { return {-a.first, -a.second}; }
  PairedNumber& operator+=(const PairedNumber& b) { return *this = *this + b; }
  PairedNumber& operator-=(const PairedNumber& b) { return *this = *this - b; }

  using Truth = Paired<typename Batch::batch_bool_type>;
  friend Truth operator<(const PairedNumber& a, const PairedNumber& b) {
    return {a.first < b.first, a.second < b.second};
  }
  friend Truth operator>(const PairedNumber& a, const PairedNumber& b) {
    return {a.first > b.first, a.second > b.second};
  }
  friend Truth operator>=(const PairedNumber& a, const PairedNumber& b) {
    return {a.first >= b.first, a.second >= b.second};
  }
  friend PairedNumber select(const Truth& t, const PairedNumber& a, const PairedNumber& b) {
    return {xsimd::select(t.first, a.first, b.first), xsimd::select(t.second, a.second, b.second)};
  }
  friend PairedNumber min(const PairedNumber& a, const PairedNumber& b) {
    return {xsimd::min(a.first, b.first), xsimd::min(a.second, b.second)};
  }
  friend PairedNumber max(const PairedNumber& a, const PairedNumber& b) {
    return {xsimd::max(a.first, b.first), xsimd::max(a.second, b.second)};
  }
  friend PairedNumber abs(const PairedNumber& a) { return {xsimd::abs(a.first), xsimd::abs(a.second)}; }
  friend PairedNumber sqrt(const PairedNumber& a) { return {xsimd::sqrt(a.first), xsimd::sqrt(a.second)}; }
  friend PairedNumber vector_exp(const PairedNumber& a) { return {vector_exp(a.first), vector_exp(a.second)}; }
  friend PairedNumber vector_log(const PairedNumber& a) { return {vector_log(a.first), vector_log(a.second)}; }
};

}  // namespace hoopfield::detail
