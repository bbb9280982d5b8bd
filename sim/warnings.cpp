// SPDX-License-Identifier: BSD-3-Clause
#include "sim/warnings.hpp"

#include "sim/io/inputs.hpp"

#include <algorithm>
#include <cmath>
#include <cstdio>
#include <numbers>

namespace hoopfield {
namespace {

template <class... Values>
std::string text(const char* format, Values... values) {
  char buffer[512];
  std::snprintf(buffer, sizeof buffer, format, values...);
  return buffer;
}

void pattern_warnings(const Result& r, std::vector<Warning>& out) {
  if (r.pattern.gap > 0.0)
    out.push_back({"bare-gap", "danger", "pattern.pitch",
                   text("%.0f mm of the load stay bare between turns of one pass: the pitch of %.0f mm is wider than the "
                        "film on the load (%.0f mm)",
                        r.pattern.gap * 1e3, r.pattern.pitch * 1e3, r.film_path.laid_width * 1e3)});
  if (r.pattern.uncovered_top > 1e-6)
    out.push_back({"bare-top", "danger", "pattern.top_overhang",
                   text("the uppermost %.0f mm of the load carry no film", r.pattern.uncovered_top * 1e3)});
  if (r.pattern.uncovered_bottom > 1e-6)
    out.push_back({"bare-bottom", "danger", "pattern.start_height",
                   text("the lowest %.0f mm of the load carry no film", r.pattern.uncovered_bottom * 1e3)});
}

void tier_warning(const Scenario& s, const WrapPlan& plan, std::vector<Warning>& out) {
  if (!s.load.mass || !s.load.tiers || *s.load.tiers < 1) return;
  constexpr double gravity = 9.81;
  // The top tier has only its own weight to hold it while the span pulls.
  const double holding = s.friction.between_tiers * *s.load.mass / *s.load.tiers * gravity;
  if (plan.span_force > holding)
    out.push_back({"span-shifts-tiers", "danger", "delivery.tension.force",
                   text("the span force of %.0f N exceeds the friction that holds the top tier (%.0f N): the film may pull "
                        "it off while wrapping",
                        plan.span_force, holding)});
}

void film_warnings(const Scenario& s, const BuildUpResult& b, const Result& r, std::vector<Warning>& out) {
  if (r.film_path.gap_sharpness > 0.0 && r.film_path.gap_sharpness < 10.0)
    out.push_back({"sharp-neck", "note", "delivery.prestretch",
                   text("the film draws down within %.1f of its thicknesses: the course of the stretch in the gap is beyond "
                        "slender theory, its force is not",
                        r.film_path.gap_sharpness)});
  if (s.film_description.breaking && s.delivery.prestretch > 0.8 * s.film_description.breaking->stretch)
    out.push_back({"near-break", "danger", "delivery.prestretch",
                   text("the pre-stretch of %.0f %% is more than 80 %% of the break stretch of %.0f %%; breaks are not "
                        "predicted here",
                        100.0 * s.delivery.prestretch, 100.0 * s.film_description.breaking->stretch)});
  const double on_load = r.film_path.stretch_on_load - 1.0;
  if (s.film_description.breaking && on_load > std::max(0.8 * s.film_description.breaking->stretch, s.delivery.prestretch))
    out.push_back({"near-break-on-load", "danger", "delivery.tension.force",
                   text("the span force stretches the film to %.0f %%, more than 80 %% of its break stretch of %.0f %%; breaks "
                        "are not predicted here",
                        100.0 * on_load, 100.0 * s.film_description.breaking->stretch)});
  if (s.delivery.prestretch > 0.0 && on_load > s.delivery.prestretch)
    out.push_back({"draws-in-span", "caution", "delivery.tension.force",
                   text("the span force draws the film on from %.0f %% to %.0f %%, as the pre-stretch did: a little more force "
                        "is much more stretch",
                        100.0 * s.delivery.prestretch, 100.0 * on_load)});
  const auto elements = static_cast<double>(std::max<std::size_t>(b.elements, 1));
  if (b.slack_elements_storage > 0)
    out.push_back({"slack-film", "caution", "load.stiffness_along_length",
                   text("%.0f %% of the film is slack at the end of wrapping, %.0f %% after storage: outer layers have "
                        "closed the load away from inner ones",
                        100.0 * static_cast<double>(b.slack_elements_end) / elements,
                        100.0 * static_cast<double>(b.slack_elements_storage) / elements)});
  if (s.film_description.provenance.illustrative)
    out.push_back({"illustrative-film", "caution", "film.file",
                   "the film data are illustrative, not measured: fit them to curves of the real film before use"});
}

void load_warnings(const Scenario& s, const Result& r, std::vector<Warning>& out) {
  if (s.load.corner_pressure_limit && r.load.corner_pressure > *s.load.corner_pressure_limit)
    out.push_back({"corner-pressure", "danger", "load.corner_pressure_limit",
                   text("the film presses on the edges with %.0f kPa, the limit is %.0f kPa", r.load.corner_pressure * 1e-3,
                        *s.load.corner_pressure_limit * 1e-3)});
}

/// Corner friction was applied while winding. Closing, creep and storage change the faces afterwards: where the totals of
/// two faces part by more than the capstan limit of film on load, film would slip again, and the faces would even out.
void corner_warning(const Scenario& s, const BuildUpResult& b, std::vector<Warning>& out) {
  if (!s.friction.film_on_load) return;
  const double limit = std::exp(*s.friction.film_on_load * 0.5 * std::numbers::pi);
  double worst = 1.0, height = 0.0;
  for (const auto* slices : {&b.at_end, &b.after_storage})
    for (std::size_t i = 0; i < slices->size(); ++i)
      for (std::size_t f = 0; f < face_count; ++f) {
        const std::size_t next = (f + 1) % face_count;
        // Part-covered slices at the edges of a helix are no closed band.
        if (b.film_layers.at(f, i) < 1.0 || b.film_layers.at(next, i) < 1.0) continue;
        const double layers = b.film_layers.at(f, i) / b.film_layers.at(next, i);
        const double ratio = (*slices)[i].tension[f] / (*slices)[i].tension[next] / layers;
        if (std::max(ratio, 1.0 / ratio) <= worst) continue;
        worst = std::max(ratio, 1.0 / ratio);
        height = static_cast<double>(i);
      }
  if (worst > limit)
    out.push_back({"corner-slip", "caution", "friction.film_on_load",
                   text("tension per layer of neighbouring faces differs %.2f-fold in slice %.0f from below, more than corner "
                        "friction holds (%.2f-fold): film will slip and even the faces out, which is not computed after winding",
                        worst, height + 1.0, limit)});
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
  corner_warning(s, built, out);
  for (const Warning& warning : input_warnings(s)) out.push_back(warning);
  std::stable_sort(out.begin(), out.end(), [](const Warning& a, const Warning& b) { return rank(a) < rank(b); });
  return out;
}

}  // namespace hoopfield
