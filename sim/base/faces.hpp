// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Faces of the load, stations, and dense arrays over them.
#pragma once

#include <array>
#include <cstddef>
#include <utility>
#include <vector>

namespace hoopfield {

/// Faces seen from above, counter-clockwise: front (+x, spans the width), left (+y, spans the length), back, right.
inline constexpr std::array<const char*, 4> face_names = {"front", "left", "back", "right"};
inline constexpr std::size_t face_count = 4;
enum Face : std::size_t { front = 0, left = 1, back = 2, right = 3 };

/// Strands on the left and right face run along the length (direction 0), those on front and back along the width (1).
constexpr std::size_t direction_of(std::size_t face) { return face == left || face == right ? 0 : 1; }

/// Directions of the load, 0 along its length, 1 along its width.
inline constexpr std::array<const char*, 2> load_direction_names = {"along_length", "along_width"};

inline constexpr std::array<const char*, 3> station_names = {"top", "middle", "bottom"};

/// Dense row-major array with named use; `data.size() == product of shape`.
struct Field {
  std::vector<std::size_t> shape;
  std::vector<double> data;
  void resize(std::vector<std::size_t> new_shape, double value) {
    shape = std::move(new_shape);
    std::size_t n = 1;
    for (const std::size_t s : shape) n *= s;
    data.assign(n, value);
  }
  [[nodiscard]] double& at(std::size_t i, std::size_t j) { return data[i * shape[1] + j]; }
  [[nodiscard]] double at(std::size_t i, std::size_t j) const { return data[i * shape[1] + j]; }
  [[nodiscard]] double& at(std::size_t i, std::size_t j, std::size_t k) {
    return data[(i * shape[1] + j) * shape[2] + k];
  }
  [[nodiscard]] double at(std::size_t i, std::size_t j, std::size_t k) const {
    return data[(i * shape[1] + j) * shape[2] + k];
  }

  template <typename Self, typename Visitor>
  static void members(Self& s, Visitor&& visit) {
    visit("shape", s.shape);
    visit("data", s.data);
  }
};

}  // namespace hoopfield
