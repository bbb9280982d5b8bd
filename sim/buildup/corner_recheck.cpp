// SPDX-License-Identifier: BSD-3-Clause
#include "sim/buildup/corner_recheck.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <numbers>
#include <utility>

namespace hoopfield {
namespace {

constexpr double right_angle = 0.5 * std::numbers::pi;
constexpr double settled = 1e-9;       // in ln(B/A): what is left when slip ends
constexpr double let_be = 0.01;        // times the tolerance: how far beyond a limit film does not yet slip
constexpr double last_digits = 1e-7;   // as good as it gets when shear makes the load stiff against itself
constexpr double slack_share = 1e-10;  // of the greatest tension of a piece: next to nothing
constexpr double slack_strain = 1e-7;  // elastic, of the tightest film: all of it as good as slack
constexpr double edge_share = 1e-3;    // of the greatest weight: an edge that just grazes the slice
constexpr int most_rounds = 80;
constexpr std::size_t most_failures = 3;  // of one stack; then it is left alone
constexpr int most_halvings = 12;
constexpr double first_reach = 0.05;  // share of a piece's film that may pass in a round; halved every so many
constexpr int rounds_per_reach = 15;

double limit_of(double friction) { return std::isinf(friction) ? friction : friction * right_angle; }

/// Elements come in the order of their patches: neighbours of following patches are one strand.
bool goes_on(const LoadStack::Slice& slice, std::size_t i) { return slice.patch[i + 1] == slice.patch[i] + 1; }

double common_weight(const LoadStack::Slice& slice, std::size_t i) {
  return std::min(slice.weight[i], slice.weight[i + 1]);
}

double unstretched(const LoadStack::Slice& slice, std::size_t i) {
  return slice.reference_path[i] / slice.reference_stretch[i];
}

/// Film through both corners of every piece, m of its own height.
struct Passing {
  double from_behind = 0.0, from_ahead = 0.0;  // comes in
  double change = 0.0;                         // of the unstretched length
};

std::vector<Passing> passing(const LayerSlip& p, const std::vector<double>& length) {
  std::vector<Passing> out(p.pieces.size());
  for (std::size_t k = 0; k < length.size(); ++k) {
    const Crossing& c = p.crossings[k];
    const double out_of = c.weight / p.pieces[c.from].weight * length[k];
    const double into = c.weight / p.pieces[c.to].weight * length[k];
    out[c.from].change -= out_of;
    out[c.to].change += into;
    out[c.from].from_ahead = std::max(-out_of, 0.0);
    out[c.to].from_behind = std::max(into, 0.0);
  }
  return out;
}

/// Share of the way from one set of slips to another on which no piece gains or loses more than `reach` of its film.
double safe_share(const LayerSlip& p, const std::vector<double>& from, const std::vector<double>& to, double reach) {
  std::vector<double> step(to.size());
  for (std::size_t k = 0; k < to.size(); ++k) step[k] = to[k] - from[k];
  const std::vector<Passing> film = passing(p, crossing_lengths(p, step));
  double share = 1.0;
  for (std::size_t i = 0; i < film.size(); ++i)
    if (std::abs(film[i].change) > reach * p.pieces[i].mass)
      share = std::min(share, reach * p.pieces[i].mass / std::abs(film[i].change));
  return share;
}

using Slips = std::vector<std::vector<double>>;  // per slice and crossing

void go_towards(const LayerSlip& p, const std::vector<double>& from, const std::vector<double>& wanted, double reach,
                double relaxed, std::vector<double>& to) {
  const double share = relaxed * safe_share(p, from, wanted, reach);
  for (std::size_t k = 0; k < wanted.size(); ++k)  // no slip stays none: it need not stand at its limit
    to[k] = share == 1.0 || wanted[k] == 0.0 ? wanted[k] : from[k] + share * (wanted[k] - from[k]);
}

/// How far to go towards the slips wanted: all the way, less where steps go to and fro (film that turns slack or taut;
/// slices that shear, whose neighbours stiffen the load), more where they creep. Secant rule over all unknowns, the
/// vector form of Aitken's (Irons and Tuck 1969, from memory).
class Relaxation {
 public:
  double factor(const Slips& total, const Slips& wanted) {
    double turn = 0.0, square = 0.0;
    Slips step(total.size());
    for (std::size_t s = 0; s < total.size(); ++s) {
      step[s].resize(total[s].size());
      for (std::size_t k = 0; k < total[s].size(); ++k) {
        step[s][k] = wanted[s][k] - total[s][k];
        if (last_.empty()) continue;
        const double change = step[s][k] - last_[s][k];
        turn += last_[s][k] * change;
        square += change * change;
      }
    }
    if (square > 0.0) factor_ = std::clamp(-factor_ * turn / square, 0.1, 2.0);
    if (std::abs(factor_ - 1.0) < 0.05) factor_ = 1.0;
    last_ = std::move(step);
    return factor_;
  }

 private:
  Slips last_;
  double factor_ = 1.0;
};

}  // namespace

CornerRecheck::CornerRecheck(const StackSetup& setup, const CornerFriction& friction)
    : setup_(setup),
      load_limit_(limit_of(friction.film_on_load)),
      film_limit_(limit_of(friction.film_on_film)),
      load_ratio_(std::exp(load_limit_ + let_be * setup.tolerance)),
      film_ratio_(std::exp(film_limit_ + let_be * setup.tolerance)),
      slack_stress_(slack_strain * setup.law->stress({}, setup.mode, Surroundings().temperature_mid).slope),
      stuck_(std::isinf(load_limit_) && std::isinf(film_limit_)) {}

bool CornerRecheck::holds(const LoadStack::Slice& slice) const {
  // Sums differ by no more than single layers do.
  double least = std::numeric_limits<double>::infinity(), greatest = 0.0;
  for (std::size_t i = 0; i < slice.film.size; ++i) {
    const double stress = slice.nominal[i];
    least = stress < least ? stress : least;
    greatest = stress > greatest ? stress : greatest;
  }
  if (greatest <= std::min(load_ratio_, film_ratio_) * least || greatest <= slack_stress_) return true;
  double greatest_tension = 0.0, greatest_weight = 0.0;
  for (std::size_t i = 0; i < slice.film.size; ++i) {
    greatest_tension = std::max(greatest_tension, slice.weight[i] * slice.nominal[i]);
    greatest_weight = std::max(greatest_weight, slice.weight[i]);
  }
  const double slack = slack_share * greatest_tension;
  std::array<double, face_count> before{}, behind{};
  const auto beyond = [&](std::size_t corner, double ratio) {
    return before[corner] > ratio * behind[corner] + slack || behind[corner] > ratio * before[corner] + slack;
  };
  const bool film_slips = std::isfinite(film_limit_);
  for (std::size_t i = slice.film.size > 0 ? slice.film.size - 1 : 0; i-- > 0;) {  // outermost first
    const double weight = common_weight(slice, i);
    if (!goes_on(slice, i) || weight < edge_share * greatest_weight) continue;
    const std::size_t corner = slice.face[i];
    if (film_slips && beyond(corner, film_ratio_)) return false;  // all that lies outside this layer
    before[corner] += weight * slice.nominal[i];
    behind[corner] += weight * slice.nominal[i + 1];
  }
  for (std::size_t corner = 0; corner < face_count; ++corner)
    if (beyond(corner, load_ratio_)) return false;
  return true;
}

bool CornerRecheck::holds(const LoadStack& stack) const {
  if (stuck_ || failures_ >= most_failures) return true;
  return std::all_of(stack.slices().begin(), stack.slices().end(), [&](const LoadStack::Slice& s) { return holds(s); });
}

LayerSlip CornerRecheck::problem(const LoadStack::Slice& slice, double temperature) const {
  LayerSlip p;
  const std::size_t branches = setup_.law->branch_count();
  for (std::size_t i = 0; i < slice.film.size; ++i) {
    const FilmState state = slice.film.state_of(i, branches);
    // Slack film answers to the first film that leaves it only when it is taut again: a little slope keeps it in the
    // sums.
    const double share = slice.nominal[i] > 0.0 ? 1.0 : 1e-3;
    const double slope = share * setup_.law->stress(state, setup_.mode, temperature).slope;
    const std::size_t direction = direction_of(slice.face[i]);
    p.slack = std::max(p.slack, slack_share * slice.weight[i] * slice.nominal[i]);
    p.pieces.push_back({slice.weight[i], unstretched(slice, i), slice.nominal[i], slope, direction});
  }
  std::array<bool, face_count> on_film{};
  double greatest_weight = 0.0;
  for (const StrandPiece& piece : p.pieces) greatest_weight = std::max(greatest_weight, piece.weight);
  for (std::size_t i = 0; i + 1 < slice.film.size; ++i) {
    const double weight = common_weight(slice, i);
    if (!goes_on(slice, i) || weight < edge_share * greatest_weight) continue;
    const std::size_t corner = slice.face[i];
    p.crossings.push_back({i, i + 1, weight, corner, on_film[corner] ? film_limit_ : load_limit_});
    on_film[corner] = true;
  }
  const ClosingCompliance& c = setup_.compliance;
  const double along = setup_.length - slice.closing[0], across = setup_.width - slice.closing[1];
  p.give = {{{c.length_length / along, c.length_width / along}, {c.length_width / across, c.width_width / across}}};
  return p;
}

bool CornerRecheck::move_film(const LayerSlip& p, const std::vector<double>& slip, LoadStack::Slice& slice) const {
  const std::vector<Passing> film = passing(p, crossing_lengths(p, slip));
  const std::size_t n = slice.film.size, stride = slice.film.stride;
  for (std::size_t i = 0; i < n; ++i)
    if (!(p.pieces[i].mass + film[i].change > 0.0)) return false;
  std::vector<double> viscous(n);
  for (std::size_t k = 0; k < setup_.law->branch_count(); ++k) {
    double* strain = slice.film.strain.data() + k * stride;
    for (std::size_t i = 0; i < n; ++i) viscous[i] = std::log(slice.film.stretch[i]) - strain[i];
    for (std::size_t i = 0; i < n; ++i) {
      const Passing& f = film[i];
      double come = 0.0;
      if (f.from_behind > 0.0) come += f.from_behind * (viscous[i - 1] - viscous[i]);
      if (f.from_ahead > 0.0) come += f.from_ahead * (viscous[i + 1] - viscous[i]);
      if (come != 0.0) strain[i] -= come / (p.pieces[i].mass + f.change);
    }
  }
  for (std::size_t i = 0; i < n; ++i)
    if (film[i].change != 0.0)
      slice.reference_stretch[i] = slice.reference_path[i] / (p.pieces[i].mass + film[i].change);
  return true;
}

/// Film moved by so much from where it was, and the load in equilibrium with it; false when there is none.
bool CornerRecheck::settle_with(const std::vector<LayerSlip>& at_start, const Slips& slip,
                                const std::vector<LoadStack::Slice>& start, LoadStack& stack, double temperature,
                                double path_factor) const {
  std::vector<LoadStack::Slice> moved = start;
  for (std::size_t s = 0; s < moved.size(); ++s)
    if (!move_film(at_start[s], slip[s], moved[s])) return false;
  stack.restore(moved);
  try {
    // The second settling finds nothing to move, so that tensions are those of the law and not of its tangent.
    for (int i = 0; i < 2; ++i) stack.settle(temperature, path_factor);
  } catch (const SolverError&) {
    return false;
  }
  return true;
}

double CornerRecheck::slip(LoadStack& stack, double temperature, double path_factor) {
  if (holds(stack)) return 0.0;
  const std::vector<LoadStack::Slice> start = stack.slices();
  const LoadStack::Balance before = stack.balance_so_far();
  const bool found = find_rest(start, stack, temperature, path_factor);
  stack.forget_balances_since(before);
  if (!found) {
    stack.restore(start);
    ++failures_;
    return 0.0;
  }
  stack.settle(temperature, path_factor);  // moves nothing; its balance counts
  ++slips_;
  return note_change(stack, start);
}

bool CornerRecheck::find_rest(const std::vector<LoadStack::Slice>& start, LoadStack& stack, double temperature,
                              double path_factor) {
  const std::size_t n = start.size();
  std::vector<LayerSlip> at_start(n), now(n);
  Slips total(n);
  for (std::size_t s = 0; s < n; ++s) {
    at_start[s] = problem(start[s], temperature);
    total[s].assign(at_start[s].crossings.size(), 0.0);
  }
  Relaxation relaxation;
  double last = std::numeric_limits<double>::infinity();
  if (!settle_with(at_start, total, start, stack, temperature, path_factor)) return false;
  for (int round = 0;; ++round) {
    double left_over = 0.0;
    for (std::size_t s = 0; s < n; ++s) {
      now[s] = problem(stack.slices()[s], temperature);
      const double violation = layer_slip_violation(now[s], total[s]);
      if (!(violation <= left_over) && !std::isnan(left_over)) left_over = violation;  // no number stays none
    }
    if (left_over <= settled || (left_over <= last_digits && left_over > 0.5 * last)) return true;
    if (round == most_rounds) return left_over <= let_be * setup_.tolerance;
    last = left_over;
    Slips wanted(n);
    for (std::size_t s = 0; s < n; ++s) wanted[s] = solve_layer_slip(now[s], total[s], &products_);
    if (work() > most_work_) return false;
    // Film that turns slack or taut puts kinks in the curves, over which full steps may go round in circles.
    const double reach = first_reach * std::pow(0.5, round / rounds_per_reach);
    double relaxed = relaxation.factor(total, wanted);
    const Slips from = total;
    for (int halving = 0;; ++halving, relaxed *= 0.5) {
      for (std::size_t s = 0; s < n; ++s) go_towards(now[s], from[s], wanted[s], reach, relaxed, total[s]);
      if (settle_with(at_start, total, start, stack, temperature, path_factor)) break;
      if (halving == most_halvings) return false;
    }
  }
}

double CornerRecheck::note_change(const LoadStack& stack, const std::vector<LoadStack::Slice>& start) {
  change_.resize(start.size());
  double most = 0.0, greatest = 1e-300;
  for (std::size_t s = 0; s < start.size(); ++s)
    for (std::size_t f = 0; f < face_count; ++f) {
      const double change = stack.hoop_tension(s, f) - start[s].tension[f];
      change_[s][f] += change;
      most = std::max(most, std::abs(change));
      greatest = std::max(greatest, start[s].tension[f]);
    }
  return most / greatest;
}

}  // namespace hoopfield
