// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_path/film_path_cache.hpp"

#include "models/film/law_registry.hpp"

#include <cstring>
#include <exception>

namespace hoopfield {
namespace {

class ContentKey {
 public:
  ContentKey& operator<<(double value) {
    char bytes[sizeof value];
    std::memcpy(bytes, &value, sizeof value);
    text_.append(bytes, sizeof value);
    return *this;
  }
  ContentKey& operator<<(std::size_t count) { return *this << static_cast<double>(count); }
  ContentKey& operator<<(const std::string& text) {
    *this << text.size();
    text_ += text;
    return *this;
  }
  std::string take() { return std::move(text_); }

 private:
  std::string text_;
};

// Everything a law is made of. Name, provenance and breaking do not act on the path.
void add_film(ContentKey& key, const FilmDescription& film) {
  key << film.law << film.density << film.neck_in << film.reference_temperature << film.network.modulus
      << film.network.stretch_limit << film.viscous_share;
  key << film.branches.size();
  for (const BranchParameters& branch : film.branches)
    for (const Parameter* p : film_law_kind(film.law).branch_parameters()) key << branch[branch_key(*p)];
  key << film.curve.size();
  for (const CurvePoint& p : film.curve) key << p.stretch << p.nominal_stress;
  const ThermalParameters& t = film.thermal;
  key << t.expansion << t.modulus_softening << t.network_softening << t.heat_capacity << t.entropic_share;
}

std::string content_key(const FilmPathInput& in, const FilmDescription& film) {
  ContentKey key;
  add_film(key, film);
  key << in.roll_width << in.roll_thickness << in.density << in.heat_capacity << in.entropic_share << in.draw_ratio
      << in.roller_gap << in.roller_arc << in.internal_path << in.mean_span << in.span_force
      << in.stretch_on_load.value_or(-1.0) << in.take_up_speed << in.width_exponent << in.width_on_load.value_or(-1.0)
      << in.temperature;
  return key.take();
}

}  // namespace

FilmPath FilmPathCache::solve(const FilmPathInput& input, const FilmDescription& film) {
  const std::string key = content_key(input, film);
  std::promise<FilmPath> promise;
  std::shared_future<FilmPath> path;
  bool mine = false;
  {
    const std::lock_guard lock(mutex_);
    if (const auto known = paths_.find(key); known != paths_.end()) {
      ++hits_;
      path = known->second;
    } else {
      mine = true;
      path = promise.get_future().share();
      if (order_.size() >= capacity_) {
        paths_.erase(order_.front());
        order_.pop_front();
      }
      order_.push_back(key);
      paths_.emplace(key, path);
    }
  }
  if (mine) {
    try {
      promise.set_value(solve_film_path(input));
    } catch (...) {
      promise.set_exception(std::current_exception());
    }
  }
  return path.get();
}

std::size_t FilmPathCache::hits() const {
  const std::lock_guard lock(mutex_);
  return hits_;
}

std::size_t FilmPathCache::size() const {
  const std::lock_guard lock(mutex_);
  return paths_.size();
}

}  // namespace hoopfield
