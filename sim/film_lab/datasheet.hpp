// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A film law from the few numbers of a data sheet, with the wide uncertainty such numbers leave.
///
/// Sheet file (TOML): `source` (required), `name`, `illustrative`, `thickness`, `width` (of the specimen), `rate` (grip
/// speed over starting length), `temperature`, `density`, `neck_in`; `modulus` (secant, 0 to 1 %); `force_at_N` or
/// `stress_at_N`, N = 25, 50, 100, 150, 200, 250, 300, 400; `break_stretch`, and with it `break_force` or
/// `break_stress` (over the section on the roll); `kept` with `kept_time` and `kept_stretch` (share of force left after
/// a hold); `error` (relative, of all these numbers; default 10 %); `price_per_roll` (money, a bare number) with
/// `roll_mass`, or with `roll_length`, `roll_width`, `thickness` and `density`.
#pragma once

#include "sim/base/input_text.hpp"
#include "sim/film_lab/film_fit.hpp"

#include <optional>
#include <string>
#include <utility>
#include <vector>

namespace hoopfield {

/// SI; stretch as strain.
struct FilmSheet {
  FilmDescription base;  ///< name, density, neck_in, reference temperature, source, illustrative
  double rate = 0.167;   ///< 1/s
  bool rate_assumed = true;
  std::optional<double> modulus;                     ///< Pa
  std::vector<std::pair<double, double>> stress_at;  ///< strain and nominal stress (Pa), rising; the break last
  std::optional<double> break_stretch;               ///< strain
  struct Hold {
    double stretch = 0.0, time = 0.0, kept = 0.0;
  };
  std::optional<Hold> hold;
  double error = 0.10;
  std::optional<double> price;  ///< money per kg of film
};

/// Throws IoError, InputError or OutOfRange with the place.
[[nodiscard]] FilmSheet read_film_sheet(const std::string& path);
[[nodiscard]] FilmSheet read_film_sheet_text(const InputText& input);

/// What a film file from a sheet is good for, in two plain sentences.
[[nodiscard]] std::string sheet_verdict(const FilmSheet& sheet);
/// The price per mass and where it belongs; empty when the sheet gives none.
[[nodiscard]] std::string sheet_price_text(const FilmSheet& sheet);

/// Three branches with the shape of the illustrative general film as prior, moved as little as the sheet asks for. The
/// covariance says what the sheet does not: relaxation, recovery and temperature stay at the prior unless it speaks of
/// them. Throws SolverError when the numbers cannot go together.
[[nodiscard]] FilmFit film_from_sheet(const FilmSheet& sheet, const FitOptions& options = {},
                                      Observer* observer = nullptr);

}  // namespace hoopfield
