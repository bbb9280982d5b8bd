// SPDX-License-Identifier: BSD-3-Clause
#include "sim/wrap/warnings.hpp"

#include "models/text.hpp"
#include "sim/inputs/inputs.hpp"
#include "sim/wrap/plausibility.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

std::string whole(double value) { return fixed(value, 0); }
std::string millimetres(double metres) { return whole(metres * 1e3) + " mm"; }
std::string newtons(double force) { return whole(force) + " N"; }
std::string percent(double share) { return whole(100.0 * share) + " %"; }

void pattern_warnings(const Result& r, std::vector<Warning>& out) {
  if (r.pattern.gap > 0.0)
    out.push_back({"bare-gap", "danger", "pattern.pitch",
                   millimetres(r.pattern.gap) + " of the load remain bare between turns of one pass: the pitch of " +
                       millimetres(r.pattern.pitch) + " is wider than the film on the load (" +
                       millimetres(r.film_path.laid_width) + ")"});
  if (r.pattern.uncovered_top > 1e-6)
    out.push_back({"bare-top", "danger", "pattern.top_overhang",
                   "the uppermost " + millimetres(r.pattern.uncovered_top) + " of the load carry no film"});
  if (r.pattern.uncovered_bottom > 1e-6)
    out.push_back({"bare-bottom", "danger", "pattern.start_height",
                   "the lowest " + millimetres(r.pattern.uncovered_bottom) + " of the load carry no film"});
}

void tier_warning(const Scenario& s, const WrapPlan& plan, std::vector<Warning>& out) {
  if (!s.load.mass || !s.load.tiers || *s.load.tiers < 1) return;
  constexpr double gravity = 9.81;
  // The top tier has only its own weight to hold it while the span pulls.
  const double holding = s.friction.between_tiers * *s.load.mass / *s.load.tiers * gravity;
  const double span_force = plan.wound.greatest_force;
  if (span_force > holding)
    out.push_back({"span-shifts-tiers", "danger", "delivery.tension.force",
                   "the span force of " + newtons(span_force) + " exceeds the friction that holds the top tier (" +
                       newtons(holding) + "): the film may pull it off while wrapping"});
}

void film_warnings(const Scenario& s, const BuildUpResult& b, const Result& r, std::vector<Warning>& out) {
  if (r.film_path.gap_sharpness > 0.0 && r.film_path.gap_sharpness < 10.0)
    out.push_back({"sharp-neck", "note", "delivery.prestretch",
                   "the film draws down within " + fixed(r.film_path.gap_sharpness, 1) +
                       " times its thickness: slender theory does not describe how the stretch develops in the gap; "
                       "the force is not affected"});
  if (s.film_description.breaking && s.delivery.prestretch > 0.8 * s.film_description.breaking->stretch)
    out.push_back({"near-break", "danger", "delivery.prestretch",
                   "the pre-stretch of " + percent(s.delivery.prestretch) +
                       " is more than 80 % (own assumption) of the break stretch of " +
                       percent(s.film_description.breaking->stretch) + "; breaks are not predicted"});
  const double on_load = r.film_path.stretch_on_load_max - 1.0;
  if (s.film_description.breaking &&
      on_load > std::max(0.8 * s.film_description.breaking->stretch, s.delivery.prestretch))
    out.push_back({"near-break-on-load", "danger", "delivery.tension.force",
                   "the span force stretches the film to " + percent(on_load) +
                       ", more than 80 % (own assumption) of its break stretch of " +
                       percent(s.film_description.breaking->stretch) + "; breaks are not predicted"});
  if (s.delivery.prestretch > 0.0 && on_load > s.delivery.prestretch)
    out.push_back({"draws-in-span", "caution", "delivery.tension.force",
                   "the span force draws the film further, from " + percent(s.delivery.prestretch) + " to " +
                       percent(on_load) +
                       ", as the pre-stretch did: a small increase of force causes a large increase of stretch"});
  const auto elements = static_cast<double>(std::max<std::size_t>(b.elements, 1));
  if (b.slack_elements_storage > 0)
    out.push_back({"slack-film", "caution", "load.stiffness_along_length",
                   percent(static_cast<double>(b.slack_elements_end) / elements) +
                       " of the film is slack at the end of wrapping, " +
                       percent(static_cast<double>(b.slack_elements_storage) / elements) +
                       " after storage: outer layers have closed the load away from inner ones"});
  if (s.film_description.provenance.illustrative)
    out.push_back({"illustrative-film", "caution", "film.file",
                   "the film data are illustrative, not measured: fit them to curves of the real film before use"});
}

void load_warnings(const Scenario& s, const Result& r, std::vector<Warning>& out) {
  if (s.load.edge_pressure_limit && r.load.edge_pressure > *s.load.edge_pressure_limit)
    out.push_back({"corner-pressure", "danger", "load.edge_pressure_limit",
                   "the film presses on the edges with " + whole(r.load.edge_pressure * 1e-3) + " kPa, the limit is " +
                       whole(*s.load.edge_pressure_limit * 1e-3) + " kPa"});
}

/// Says how far film that slipped round corners after lay-down has evened the faces out (CornerRecheck).
void corner_note(const Scenario& s, const BuildUpResult& b, std::vector<Warning>& out) {
  if (b.unsettled_slips > 0)
    out.push_back({"corner-slip-unsettled", "caution", "friction.film_on_load",
                   std::to_string(b.unsettled_slips) +
                       " times the film exceeded corner friction and no equilibrium was found, because most of it "
                       "is slack; it was held in place, permanently after three times in a slice (in the whole load "
                       "when the load shears), so faces differ more than they should, and these "
                       "numbers may change by tens of per cent with the last digit of an input"});
  if (b.counters.corner_slips == 0) return;
  const std::size_t slices = b.at_end.size();
  std::size_t slipped = 0, slice = 0, face = 0;
  for (std::size_t i = 0; i < slices; ++i) {
    bool moved = false;
    for (std::size_t f = 0; f < face_count; ++f) {
      const double change = std::abs(b.slip_tension.at(f, i));
      // Slices that shear are settled together, which moves the last digits of those where nothing slipped.
      moved = moved || change > 1e-6 * b.at_end[i].tension[f];
      if (change > std::abs(b.slip_tension.at(face, slice))) {
        slice = i;
        face = f;
      }
    }
    slipped += moved ? 1 : 0;
  }
  const double change = b.slip_tension.at(face, slice);
  const double height = (static_cast<double>(slice) + 0.5) * s.load.height / static_cast<double>(slices);
  out.push_back({"corner-slip", "note", "friction.film_on_load",
                 "film slipped round the corners after it was laid, in " + std::to_string(slipped) + " of " +
                     std::to_string(slices) + " slices, and evened out the faces; most at a height of " +
                     fixed(height, 2) + " m, where the " + face_names.at(face) + " face " +
                     (change < 0.0 ? "lost " : "gained ") + significant(std::abs(change), 3) + " N/m (it carries " +
                     whole(b.at_end[slice].tension[face]) + " N/m at the end of wrapping)"});
}

int rank(const Warning& w) { return w.severity == "danger" ? 0 : w.severity == "caution" ? 1 : 2; }

}  // namespace

std::vector<Warning> collect_warnings(const Scenario& s, const WrapPlan& plan, const BuildUpResult& built,
                                      const Result& result) {
  std::vector<Warning> out;
  pattern_warnings(result, out);
  tier_warning(s, plan, out);
  film_warnings(s, built, result, out);
  load_warnings(s, result, out);
  plausibility_warnings(s, plan, result, out);
  corner_note(s, built, out);
  for (const Warning& warning : input_warnings(s)) out.push_back(warning);
  std::stable_sort(out.begin(), out.end(), [](const Warning& a, const Warning& b) { return rank(a) < rank(b); });
  return out;
}

}  // namespace hoopfield
