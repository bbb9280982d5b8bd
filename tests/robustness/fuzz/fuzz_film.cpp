// SPDX-License-Identifier: BSD-3-Clause
// Any bytes as a film file: a film whose law can be made and gives numbers, or an InputError with the place.
#include "models/error.hpp"
#include "models/film/film_law.hpp"
#include "sim/inputs/film_reader.hpp"

#include <cmath>
#include <cstdint>
#include <cstdlib>
#include <string>

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size);

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  using namespace hoopfield;
  const std::string text(reinterpret_cast<const char*>(data), size);
  try {
    const FilmDescription film = read_film_text({"f.toml", text});
    const auto law = make_film_law(film);
    FilmState state;
    const FilmStress stress =
        law->step(state, 1.001, 1.0, WidthMode::free(), film.reference_temperature, film.reference_temperature);
    // Moduli up to 1e308 may overflow; numbers a film could have may not.
    bool plausible = film.network.modulus < 1e12 && film.viscous_share < 1e6 && film.network.stretch_limit > 1e-3;
    for (const BranchParameters& b : film.branches)
      plausible = plausible && b["modulus"] < 1e12 && b["flow_stress"] < 1e12 && b["reference_rate"] < 1e12 &&
                  (b["flow_stress"] > 1.0 || b["relaxation_time"] > 1e-12);
    for (const CurvePoint& p : film.curve) plausible = plausible && p.nominal_stress < 1e12 && p.stretch < 1e3;
    if (plausible && !std::isfinite(stress.nominal)) std::abort();
  } catch (const InputError& error) {
    if (std::string(error.what()).rfind("f.toml:", 0) != 0) std::abort();
  }
  return 0;
}
