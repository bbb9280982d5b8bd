// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// The film between delivery and load as a row of bodies of different age under one force.
#pragma once

#include "models/film/film_law.hpp"

#include <array>
#include <cstddef>
#include <memory>
#include <vector>

namespace hoopfield {

/// What the film of the span is: its law, width and section on the roll.
struct SpanFilm {
  std::shared_ptr<const FilmLaw> law;
  WidthMode mode = WidthMode::free();
  double section = 0.0;         ///< roll width times roll thickness, m^2
  double temperature = 296.15;  ///< K
  [[nodiscard]] double force(const FilmState& state) const;
};

inline constexpr std::size_t most_young = 6;

/// Film of the span from the last roller to the load: bodies of younger film, then the film that will be laid.
struct SpanRow {
  std::array<FilmState, most_young> young{};
  FilmState laid;
};

/// Film that is drawn, and what it has become after a time at the reference force.
struct SpanReference {
  FilmState laid;                  ///< as it arrives at the load
  std::vector<FilmState> young;    ///< at the mean age of each younger body, at most most_young of them
  std::vector<double> young_mass;  ///< unstretched film of each, m on the roll
};

/// How a row answers.
struct RowAnswer {
  FilmStress stress;  ///< common stress; slope = -d stress / d ln(film) at held length, film added at the load, Pa
  std::size_t film_steps = 0;
};

/// Mechanics of the row. Each body is followed by its deviation from the reference film of its age:
/// `dv_j/dt = f_j - (feed/feed_ref) f_j,ref + (feed/m_j) [(v_(j-1) - v_(j-1),ref) - (v_j - v_j,ref)]`,
/// v the viscous log strains `ln l - e_k`, which elastic jumps leave alone, and the deviation of the film that is fed
/// zero. The edges of the younger bodies stand at fixed unstretched lengths from the last roller, so what passes them
/// is the feed; the last body has what is left. All bodies carry one nominal stress, and `sum m_j l_j` is the length.
/// Two instants apart the film law's own step moves each body, between two half steps of feed and reference flow.
class SpanRowLaw {
 public:
  SpanRowLaw(SpanFilm film, SpanReference reference);

  using Strains = std::array<double, max_branches>;
  /// Half the flow of each reference body over a step of dt, the film to be laid last.
  struct Drift {
    std::array<Strains, most_young + 1> body{};
  };
  [[nodiscard]] Drift half_drift(double dt) const;

  /// The reference film with every body at a nominal stress by an elastic jump.
  [[nodiscard]] SpanRow at_stress(double nominal) const;
  /// Unstretched film of a row that fills a length, m on the roll.
  [[nodiscard]] double mass(const SpanRow& row, double length) const;
  /// Moves a row elastically until its bodies carry one stress and fill a length with the film given.
  RowAnswer settle(SpanRow& row, double mass, double length) const;
  /// The slope that settle() would return, Pa.
  [[nodiscard]] double slope(const SpanRow& row, double mass) const;

  /// Viscous strains and ln l straight between two rows; its bodies need settle() for one stress.
  [[nodiscard]] SpanRow between(const SpanRow& a, const SpanRow& b, double share) const;
  /// `fine + (fine - coarse)/3` of every strain and ln l: what two solutions of a second-order step tell together.
  [[nodiscard]] SpanRow extrapolated(const SpanRow& coarse, const SpanRow& fine) const;

  /// What one step needs beside the row at its beginning.
  struct Step {
    double dt = 0.0, pace = 1.0;  ///< s; feed over that of the reference
    double begin_mass = 0.0, begin_feed = 0.0, end_mass = 0.0, end_feed = 0.0, end_length = 0.0;
    const Drift* drift = nullptr;
  };
  RowAnswer move(SpanRow& row, const Step& step) const;

  [[nodiscard]] std::size_t young_count() const { return reference_.young.size(); }
  [[nodiscard]] double young_mass() const { return young_mass_; }
  [[nodiscard]] const SpanFilm& film() const { return film_; }
  [[nodiscard]] const SpanReference& reference() const { return reference_; }

 private:
  struct Feeding;
  [[nodiscard]] FilmState& body(SpanRow& row, std::size_t j) const {
    return j < young_count() ? row.young[j] : row.laid;
  }
  [[nodiscard]] const FilmState& body(const SpanRow& row, std::size_t j) const {
    return j < young_count() ? row.young[j] : row.laid;
  }
  [[nodiscard]] double body_mass(std::size_t j, double mass) const;
  [[nodiscard]] Feeding feeding(double fed, double mass) const;
  void feed(SpanRow& row, const Feeding& feeding) const;
  void flow(SpanRow& row, double pace, const Drift& drift) const;
  [[nodiscard]] Strains half_drift_of(const FilmState& reference, double dt) const;

  SpanFilm film_;
  SpanReference reference_;
  std::array<Strains, most_young + 1> viscous_{};  ///< of the reference bodies
  double young_mass_ = 0.0;
};

}  // namespace hoopfield
