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
  /// Unstretched film between roller and load up to which the reference is known, m on the roll.
  double farthest = 0.0;
  std::vector<FilmState> placed;  ///< the drawn film at place(i), at the reference force; none without young film
  /// From the end of the young film to the farthest, evenly spaced Chebyshev points in the logarithm of the place.
  [[nodiscard]] double place(std::size_t i, std::size_t count) const;
  [[nodiscard]] double young_end() const;
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
/// Pinned by tests/unit/span_test.cpp (even take-up keeps the film) and tests/consistency/test_parcels.py.
class SpanRowLaw {
 public:
  SpanRowLaw(SpanFilm film, SpanReference reference);

  using Strains = std::array<double, max_branches>;
  /// Half the flow of each reference body over a step of dt; that of the last body at two amounts of film in the span.
  struct Drift {
    std::array<Strains, most_young> young{};
    std::array<Strains, 2> last{};
    std::array<double, 2> mass{};
  };
  [[nodiscard]] Drift half_drift(double dt, double begin_mass, double end_mass) const;

  /// The reference film filling a length, with every body at a nominal stress by an elastic jump.
  [[nodiscard]] SpanRow at_stress(double nominal, double length) const;
  /// The film of the last `length` of a row, and the row without it, which fills `left` at the same stress.
  struct Laying {
    FilmState film;
    double mass = 0.0;  ///< m on the roll, of what is left in the row
  };
  [[nodiscard]] Laying lay(SpanRow& row, double mass, double length, double left) const;
  /// Unstretched film of a row that fills a length, m on the roll.
  [[nodiscard]] double mass(const SpanRow& row, double length) const;
  /// Stretch of the oldest film of a row, which the rounds of the corners take.
  [[nodiscard]] double stretch_at_load(const SpanRow& row, double mass) const;
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
    double end_mass_unslipped = 0.0;  ///< end_mass without what slips in at the load
    const Drift* drift = nullptr;
  };
  RowAnswer move(SpanRow& row, const Step& step) const;

  /// The reference of the last body from one amount of film in the span to another; its deviation stays.
  void age(SpanRow& row, double from_mass, double to_mass) const;

  [[nodiscard]] std::size_t young_count() const { return reference_.young.size(); }
  [[nodiscard]] double young_mass() const { return young_mass_; }
  [[nodiscard]] const SpanFilm& film() const { return film_; }
  [[nodiscard]] const SpanReference& reference() const { return reference_; }

 private:
  struct Feeding;
  struct Bodies;
  using Placed = std::array<double, max_branches + 1>;  ///< viscous strains and, last, ln l of reference film
  [[nodiscard]] FilmState& body(SpanRow& row, std::size_t j) const {
    return j < young_count() ? row.young[j] : row.laid;
  }
  [[nodiscard]] const FilmState& body(const SpanRow& row, std::size_t j) const {
    return j < young_count() ? row.young[j] : row.laid;
  }
  [[nodiscard]] double body_mass(std::size_t j, double mass) const;
  [[nodiscard]] double young_length(const SpanRow& row) const;
  [[nodiscard]] Bodies bodies_of(const SpanRow& row, double mass) const;
  [[nodiscard]] Feeding feeding(double fed, double mass) const;
  void feed(SpanRow& row, const Feeding& feeding, const Strains& last_viscous) const;
  void flow(SpanRow& row, double pace, const Drift& drift, double mass) const;
  void fit(FilmState& film, double stretch, double nominal) const;
  [[nodiscard]] Strains mean_viscous(double from, double to) const;
  [[nodiscard]] Strains last_viscous(double mass) const;
  [[nodiscard]] FilmState reference_last(double mass) const;
  [[nodiscard]] Placed integral(double place) const;
  [[nodiscard]] Placed at_place(double place) const;
  [[nodiscard]] Strains half_drift_of(const FilmState& reference, double dt) const;

  SpanFilm film_;
  SpanReference reference_;
  std::array<Strains, most_young + 1> viscous_{};  ///< of the reference bodies, and of the film as it is laid
  std::vector<Placed> polynomial_;                 ///< of `placed` in powers of ln(place/young)/ln(farthest/young)
  double young_mass_ = 0.0;
};

}  // namespace hoopfield
