// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Film paths computed once and shared between threads.
#pragma once

#include "models/film/description.hpp"
#include "sim/film_path/film_path.hpp"

#include <cstddef>
#include <deque>
#include <future>
#include <mutex>
#include <string>
#include <unordered_map>

namespace hoopfield {

/// Remembers solve_film_path() by the content of its input: every number of the film and of FilmPathInput, bit by bit.
/// Two threads that ask for the same path share one computation. At most `capacity` paths are kept, the oldest go
/// first. Thread-safe. The answers are those of solve_film_path(), errors too.
class FilmPathCache {
 public:
  explicit FilmPathCache(std::size_t capacity = 1024) : capacity_(capacity) {}

  [[nodiscard]] FilmPath solve(const FilmPathInput& input, const FilmDescription& film);

  [[nodiscard]] std::size_t hits() const;
  [[nodiscard]] std::size_t size() const;

 private:
  const std::size_t capacity_;
  mutable std::mutex mutex_;
  std::unordered_map<std::string, std::shared_future<FilmPath>> paths_;
  std::deque<std::string> order_;  // oldest first
  std::size_t hits_ = 0;
};

}  // namespace hoopfield
