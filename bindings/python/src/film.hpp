// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// A film as Python holds it: description, law and the text it came from.
#pragma once

#include "models/film/description.hpp"
#include "models/film/film_law.hpp"

#include <memory>
#include <string>
#include <utility>

namespace hoopfield::python {

struct Film {
  Film(FilmDescription film_description, std::string film_text, std::string film_path)
      : description(std::move(film_description)),
        law(make_film_law(description)),
        text(std::move(film_text)),
        path(std::move(film_path)) {}
  FilmDescription description;
  std::shared_ptr<const FilmLaw> law;
  std::string text, path;
};

}  // namespace hoopfield::python
