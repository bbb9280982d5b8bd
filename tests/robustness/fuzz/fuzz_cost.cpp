// SPDX-License-Identifier: BSD-3-Clause
// Bytes change a few numbers of the reference case to anything within their bounds; what is accepted may take no more
// than a hundred times the work of the reference case and no more memory than is due. Counts, not times.
#include "models/error.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/inputs/scenario_reader.hpp"
#include "sim/wrap/predict.hpp"
#include "tests/support/key_bounds.hpp"

#include <algorithm>
#include <atomic>
#include <cmath>
#include <cstdint>
#include <cstdio>
#include <cstdlib>
#include <new>
#include <string>
#include <utility>
#include <vector>

#include <malloc.h>

namespace {

std::atomic<std::size_t> live{0}, peak{0};

void* counted(void* block) {
  if (block == nullptr) throw std::bad_alloc();
  const std::size_t now = live += ::malloc_usable_size(block);
  std::size_t most = peak;
  while (now > most && !peak.compare_exchange_weak(most, now)) {
  }
  return block;
}

void release(void* block) noexcept {
  if (block != nullptr) live -= ::malloc_usable_size(block);
  std::free(block);
}

std::size_t rounded(std::size_t size, std::align_val_t align) {
  const auto unit = static_cast<std::size_t>(align);
  return (size + unit - 1) / unit * unit;
}

}  // namespace

void* operator new(std::size_t size) { return counted(std::malloc(size > 0 ? size : 1)); }
void* operator new(std::size_t size, std::align_val_t align) {
  return counted(std::aligned_alloc(static_cast<std::size_t>(align), rounded(size > 0 ? size : 1, align)));
}
// All forms, or blocks of the sanitizer's own reach the free() of these.
void* operator new(std::size_t size, const std::nothrow_t&) noexcept {
  try {
    return ::operator new(size);
  } catch (const std::bad_alloc&) {
    return nullptr;
  }
}
void* operator new[](std::size_t size) { return ::operator new(size); }
void* operator new[](std::size_t size, const std::nothrow_t& none) noexcept { return ::operator new(size, none); }
void operator delete(void* block) noexcept { release(block); }
void operator delete(void* block, const std::nothrow_t&) noexcept { release(block); }
void operator delete[](void* block) noexcept { release(block); }
void operator delete[](void* block, std::size_t) noexcept { release(block); }
void operator delete[](void* block, const std::nothrow_t&) noexcept { release(block); }
void operator delete(void* block, std::size_t) noexcept { release(block); }
void operator delete(void* block, std::align_val_t) noexcept { release(block); }
void operator delete(void* block, std::size_t, std::align_val_t) noexcept { release(block); }

namespace {

using namespace hoopfield;

constexpr std::size_t most_bytes = 64u << 20u;  // of a load of four slices
constexpr std::size_t most_changes = 4;

Scenario reference() {
  return read_scenario(std::string(HOOPFIELD_SOURCE_DIR) + "/examples/01_first_prediction/scenario.toml");
}

/// Three bytes a change: the key, and how far it lies from one bound to the other, by decades near either.
std::vector<std::pair<std::string, double>> changes(const std::uint8_t* data, std::size_t size) {
  static const std::vector<test::KeyBounds> keys = test::key_bounds();
  std::vector<std::pair<std::string, double>> out;
  for (std::size_t i = 0; i + 2 < size && out.size() < most_changes; i += 3) {
    const test::KeyBounds& key = keys[data[i] % keys.size()];
    const double share = data[i + 2] / 255.0, span = key.high - key.low;
    const double near = span * std::pow(10.0, -12.0 * share);
    const double value = data[i + 1] % 3 == 0 ? key.low + near : data[i + 1] % 3 == 1 ? key.high - near : near;
    out.emplace_back(key.key, std::clamp(value, key.low, key.high));
  }
  return out;
}

[[noreturn]] void fail(const char* what, double value, const std::vector<std::pair<std::string, double>>& changed) {
  std::fprintf(stderr, "broken promise: %s %g\n", what, value);
  for (const auto& one : changed) std::fprintf(stderr, "  %s = %.17g\n", one.first.c_str(), one.second);
  std::abort();
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  static const Scenario base = reference();
  static const double usual = predict(base).counters.work();
  const auto changed = changes(data, size);
  const std::size_t before = live;
  peak = before;
  try {
    Scenario s = base;
    s.numerics.slices = 4;
    set_numbers(s, changed);
    const double work = predict(s).counters.work();
    if (work > 100.0 * usual) fail("times the work of the reference case:", work / usual, changed);
  } catch (const Error& error) {
    if (std::string(error.what()).size() < 20) std::abort();
  }
  if (peak - before > most_bytes) fail("bytes at once:", static_cast<double>(peak - before), changed);
  return 0;
}
