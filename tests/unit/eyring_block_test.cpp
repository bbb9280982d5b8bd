// SPDX-License-Identifier: BSD-3-Clause
#include "models/film/eyring_block.hpp"
#include "models/error.hpp"
#include "models/film/simd_path.hpp"
#include "tests/support/catch.hpp"
#include "tests/support/films.hpp"

#include <cmath>
#include <random>

using namespace hoopfield;

TEST_CASE("block step: every element as the scalar step, any number of elements, slow and fast, taut and pushed",
          "[film]") {
  std::mt19937 random(21);
  std::uniform_real_distribution<double> uniform(0.0, 1.0);
  for (const FilmDescription& film : {test::general_film(), test::r1()}) {
    const auto law = make_film_law(film);
    const WidthMode mode = WidthMode::free(1.07);
    for (const std::size_t n : {1U, 2U, 3U, 4U, 5U, 7U, 8U, 13U, 40U}) {
      for (const double dt : {1e-3, 1.0, 3e4, 2e6}) {
        FilmBlock begin, end;
        begin.allocate(n + 3, law->branch_count());
        end.allocate(n + 5, law->branch_count());
        begin.size = n;
        std::vector<double> to(n);
        BlockStress stress;
        stress.allocate(n + 5, law->branch_count());
        for (std::size_t i = 0; i < n; ++i) {
          begin.stretch[i] = 2.0 + 1.5 * uniform(random);
          to[i] = i % 3 == 0 ? begin.stretch[i] : begin.stretch[i] * std::exp(0.02 * (uniform(random) - 0.5));
          for (std::size_t k = 0; k < law->branch_count(); ++k)
            begin.strain[k * begin.stride + i] = 40.0 * law->strain_scale(k) * (uniform(random) - 0.3);
        }
        law->step_block(begin, end, to.data(), dt, mode, test::room + 5, test::room + 6, stress);
        for (std::size_t i = 0; i < n; ++i) {
          FilmState state;
          state.stretch = begin.stretch[i];
          for (std::size_t k = 0; k < law->branch_count(); ++k) state.strain[k] = begin.strain[k * begin.stride + i];
          const FilmStress scalar = law->step(state, to[i], dt, mode, test::room + 5, test::room + 6);
          INFO(film.name << " n " << n << " dt " << dt << " element " << i);
          CHECK(stress.nominal[i] == Approx(scalar.nominal).epsilon(1e-12).margin(1e-4));
          CHECK(stress.slope[i] ==
                Approx(scalar.slope).epsilon(1e-3).margin(1.0));  // steers Newton; noisy where nothing moves
          CHECK(end.stretch[i] == to[i]);
          for (std::size_t k = 0; k < law->branch_count(); ++k)
            CHECK(end.strain[k * end.stride + i] ==
                  Approx(state.strain[k]).epsilon(1e-12).margin(1e-13 * law->strain_scale(k)));
        }
      }
    }
  }
}

TEST_CASE("instruction set: widest without a wish, any narrower one by name, others refused by name", "[film]") {
  const SimdPath widest = widest_simd_path();
  CHECK(choose_simd_path("") == widest);
  CHECK(choose_simd_path("baseline") == SimdPath::baseline);
  CHECK(choose_simd_path(simd_path_name(widest)) == widest);
  CHECK_THROWS_WITH(choose_simd_path("mmx"),
                    ContainsSubstring("HOOPFIELD_SIMD: 'mmx'") && ContainsSubstring("baseline"));
  if (widest != SimdPath::avx512) CHECK_THROWS_AS(choose_simd_path("avx512"), InputError);
}
