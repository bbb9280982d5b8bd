// SPDX-License-Identifier: BSD-3-Clause
#include "sim/stations/face_profile.hpp"
#include "sim/stations/least_band.hpp"
#include "tests/support/catch.hpp"

#include <cstdint>
#include <optional>
#include <vector>

using namespace hoopfield;

namespace {

constexpr double section = 1e-4;  // m

/// Film on the front face of a load 1.5 m high, laid from the bottom up, each patch with one stress at every height.
class FilmOnFront {
 public:
  explicit FilmOnFront(std::size_t slice_count) : slices_(slice_count) {
    setup_.slice_height = 1.5 / static_cast<double>(slice_count);
  }
  /// A patch that carries `tension` (N/m) where it covers the face.
  FilmOnFront& lay(double edge_begin, double edge_end, double width, double tension) {
    LaidPatch laid;
    laid.patch = {front, 0.0, edge_begin, edge_end, width};
    laid.section_per_width = section;
    for (std::size_t s = 0; s < slices_.size(); ++s) {
      const double share = covered_fraction(laid.patch, static_cast<double>(s) * setup_.slice_height,
                                            static_cast<double>(s + 1) * setup_.slice_height);
      if (share == 0.0) continue;
      LoadStack::Slice& slice = slices_[s];
      ++slice.film.size;
      slice.weight.push_back(share * section);
      slice.face.push_back(front);
      slice.patch.push_back(static_cast<std::uint32_t>(patches_.size()));
      slice.nominal.push_back(tension / section);
      slice.tension[front] += share * tension;
    }
    patches_.push_back(laid);
    return *this;
  }
  [[nodiscard]] StationMoment moment(double low, double high) const {
    StationMoment m;
    m.setup = &setup_, m.slices = &slices_, m.patches = &patches_;
    m.film_edges[front] = {low, high};
    return m;
  }

 private:
  StackSetup setup_;
  std::vector<LoadStack::Slice> slices_;
  std::vector<LaidPatch> patches_;
};

const std::size_t slice_counts[] = {1, 7, 30, 31, 120};

}  // namespace

TEST_CASE("the band of least hoop tension lies over a bare gap, whatever the slices") {
  // 300 N/m everywhere; 400 N/m more but for a gap of 0.1 m.
  for (const std::size_t count : slice_counts) {
    FilmOnFront film(count);
    film.lay(0.0, 0.0, 1.5, 300.0).lay(0.0, 0.0, 0.63, 400.0).lay(0.73, 0.73, 0.8, 400.0);
    const FaceProfile profile(film.moment(0.0, 1.5), front, 0.0, 1.5);
    CAPTURE(count);
    CHECK(profile.least() == Approx(300.0));
    CHECK(profile.least_band(0.0, 1.5, 0.2).tension == Approx(500.0));
    CHECK(profile.least_band(0.0, 1.5, 0.1).tension == Approx(300.0));
    CHECK(profile.least_band(0.0, 1.5, 0.1).height == Approx(0.68));
    CHECK(profile.least_band(0.0, 1.5, 0.05).tension == Approx(300.0));
    CHECK(profile.least_band(0.0, 1.5, 4.0).tension == Approx(700.0 - 400.0 * 0.1 / 1.5));
    CHECK(profile.least_band(0.0, 1.5, 4.0).height == Approx(0.75));
    CHECK(FaceProfile(film.moment(0.0, 1.5), front, 0.1, 0.6).least() == Approx(700.0));
  }
}

TEST_CASE("the band of least hoop tension lies between sloping edges where as much enters as leaves") {
  // Edges slope by 0.1 m down to a height of 0.65 m, where nothing of the second film is left, and up from it: hoop
  // tension is 300 + 400 |z - 0.65| / 0.1 there, so a band of 0.1 m holds 400 N/m in the middle and no less anywhere.
  for (const std::size_t count : slice_counts) {
    FilmOnFront film(count);
    film.lay(0.0, 0.0, 1.5, 300.0).lay(-0.05, -0.15, 0.7, 200.0).lay(-0.15, -0.05, 0.7, 200.0);
    film.lay(0.65, 0.75, 0.9, 400.0);
    const FaceProfile profile(film.moment(0.0, 1.5), front, 0.0, 1.5);
    CAPTURE(count);
    CHECK(profile.least() == Approx(300.0).margin(1e-6));
    CHECK(profile.least_band(0.0, 1.5, 0.1).tension == Approx(400.0));
    CHECK(profile.least_band(0.0, 1.5, 0.1).height == Approx(0.65));
  }
}

TEST_CASE("the band of least hoop tension is looked for where film lies") {
  for (const std::size_t count : slice_counts) {
    FilmOnFront film(count);
    film.lay(0.32, 0.32, 0.5, 250.0).lay(0.32, 0.32, 0.9, 250.0);
    CAPTURE(count);
    const LeastBand least = LeastBandSearch(film.moment(0.32, 1.22), 0.2).least();
    CHECK(least.hoop_tension == Approx(250.0));
    CHECK(least.face == front);
    CHECK(least.height >= 0.92 - 1e-6);
    CHECK(least.height <= 1.12 + 1e-6);
    CHECK(FaceProfile(film.moment(0.32, 1.22), front, 0.0, 1.5).least() == 0.0);
    CHECK(FaceProfile(film.moment(0.32, 1.22), front, 0.4, 0.4).least() == 0.0);
    CHECK(LeastBandSearch(film.moment(0.0, 0.0), 0.2).least().hoop_tension == 0.0);
  }
}

TEST_CASE("film read with the tensions of another time holds as much more as its slice does") {
  FilmOnFront film(30);
  film.lay(0.0, 0.0, 1.5, 300.0).lay(0.0, 0.0, 0.63, 400.0).lay(0.73, 0.73, 0.8, 400.0);
  const StationMoment m = film.moment(0.0, 1.5);
  std::vector<double> half;
  for (const LoadStack::Slice& slice : *m.slices) half.push_back(0.5 * slice.tension[front]);
  const FaceProfile profile(m, front, 0.0, 1.5);
  CHECK(profile.least_ratio(half) == Approx(0.5));
  CHECK(profile.with(half).least_band(0.0, 1.5, 0.2).tension == Approx(250.0));
  const LeastBandSearch search(m, 0.2);
  CHECK_FALSE(search.below(249.0, front, half));
  CHECK(search.below(251.0, front, half).value().hoop_tension == Approx(250.0));
  half[2] = 0.0;  // nothing at 0.10 to 0.15 m
  CHECK(profile.least_ratio(half) == 0.0);
  CHECK(search.below(249.0, front, half) == std::nullopt);
  half[3] = 0.0;
  CHECK(search.below(249.0, front, half).value().hoop_tension == Approx(175.0));
}
