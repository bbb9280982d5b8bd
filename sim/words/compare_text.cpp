// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/compare_text.hpp"

#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/words/answer_text.hpp"
#include "sim/words/compare_text_detail.hpp"
#include "sim/words/economics_text.hpp"
#include "sim/words/inch_pound.hpp"
#include "sim/words/paired_text.hpp"
#include "sim/words/text_layout.hpp"

#include <algorithm>
#include <cmath>
#include <limits>
#include <utility>

namespace hoopfield::words {

namespace compare_page {

namespace {

std::string signed_number(double value) {
  if (!std::isfinite(value)) return "-";
  const std::string text = readable(std::abs(value));
  return (value < 0.0 ? "-" : "+") + text;
}

std::string share_row(const std::string& label, const std::vector<std::string>& cells) {
  std::string line = pad_right("  " + label, 20);
  for (const std::string& cell : cells) line += pad_left(cell, 15);
  return line.substr(0, line.find_last_not_of(' ') + 1) + '\n';
}

/// The mean of the two orders, or the one that is there.
double mean_share(const FactorShare& share, std::size_t q) {
  if (share.forward.empty()) return share.reverse.empty() ? NAN : share.reverse[q];
  return share.reverse.empty() ? share.forward[q] : 0.5 * (share.forward[q] + share.reverse[q]);
}

/// What virtual tests say of the two films: where the share of the film law comes from.
std::string film_law_text(const Comparison& c, const Difference& d, UnitStyle style) {
  constexpr std::pair<const char*, const char*> told[] = {
      {"stiffness at small strain", "film_numbers.secant_modulus"},
      {"stress at 200 %", "film_numbers.stress_at_200"},
      {"stretch on the load", "film.stretch_on_load"},
      {"unloading stiffness there", "film_numbers.unloading_stiffness"},
      {"tension kept after 24 h", "film_numbers.kept_24_h"},
      {"permanent set", "film_numbers.permanent_set"}};
  std::string list;
  for (const auto& [words, name] : told) {
    const CompareQuantity& q = compare_quantity(name);
    const auto now = q.value(c.sides[d.candidate]), then = q.value(c.sides.front());
    if (!now || !then) continue;
    const DisplayUnit unit = unit_of(q, style);
    list += (list.empty() ? "" : "; ") + std::string(words) + " " + quantity(*now, unit) + " against " +
            quantity(*then, unit);
  }
  return list.empty() ? "" : wrap("film law: " + list, "  ", "    ");
}

std::string difference_text(const Comparison& c, const Difference& d, UnitStyle style) {
  const auto place = [&](const std::string& name) {
    return static_cast<std::size_t>(std::find(c.explained.begin(), c.explained.end(), name) - c.explained.begin());
  };
  const std::size_t hoop = place("containment.after_storage.least_station.hoop_tension"), mass = place("film.mass");
  const DisplayUnits units(style);
  const auto at = [&](const std::vector<double>& values, std::size_t q, const DisplayUnit& unit) {
    return values.empty() ? std::string("-") : signed_number(values[q] * unit.per_si);
  };
  std::string text = wrap(tag(c, d.candidate) + " less " + tag(c, 0), "  ", "    ");
  text += share_row("factor", {"first to last", "last to first", "mean", "film mass"});
  text += share_row("", {units.tension.name, units.tension.name, units.tension.name, units.mass.name});
  for (const FactorShare& share : d.factors)
    text += share_row(share.factor, {at(share.forward, hoop, units.tension), at(share.reverse, hoop, units.tension),
                                     signed_number(mean_share(share, hoop) * units.tension.per_si),
                                     signed_number(mean_share(share, mass) * units.mass.per_si)});
  text += share_row("together", {signed_number(d.total[hoop] * units.tension.per_si), "", "",
                                 signed_number(d.total[mass] * units.mass.per_si)});
  for (const FactorShare& share : d.factors) {
    if (share.factor == "film law") text += film_law_text(c, d, style);
    if (share.factor != "rest") continue;
    std::string keys;
    for (const std::string& key : share.keys) keys += (keys.empty() ? "" : ", ") + key;
    text += wrap("rest: " + keys, "  ", "    ");
  }
  for (const std::string& message : {d.forward_message, d.reverse_message})
    if (!message.empty()) text += wrap("One order could not be computed " + in_style(message, style), "  ", "    ");
  return text;
}

}  // namespace

std::string why(const Comparison& c, const PrintStyle& style) {
  if (c.differences.empty()) return "";
  std::string text = heading("What makes the difference", style.styled);
  text += wrap(
      "Hoop tension of the weakest station after storage and film mass, one factor changed at a time from the "
      "present wrap to the candidate. The contribution of a factor depends on what was changed before it, so both "
      "orders are shown; in each order the contributions add up to the whole.",
      "  ", "  ");
  for (const Difference& d : c.differences) text += '\n' + difference_text(c, d, style.units);
  return text + '\n';
}

}  // namespace compare_page

namespace {

using namespace compare_page;

std::string shown(const CompareQuantity& q, double value, const ComparedSide& side, UnitStyle style) {
  if (q.unit == "money") return money(value, side.economics ? side.economics->currency : "");
  return quantity(value, unit_of(q, style));
}

/// " at the bottom" where the quantity is that of the weakest station; which one that is differs from wrap to wrap.
std::string weakest_place(const CompareQuantity& q, const ComparedSide& side) {
  const std::string name(q.name), mark = "least_station";
  const std::size_t at = name.find(mark);
  if (at == std::string::npos) return {};
  std::string least;
  double held = std::numeric_limits<double>::infinity();
  for (const char* station : station_names) {
    const auto value = compare_value(side, std::string(name).replace(at, mark.size(), station));
    if (value && *value < held) held = *value, least = station;
  }
  return least.empty() ? std::string() : " at the " + least;
}

std::string nine_of_ten(const PairedBand* paired) {
  if (paired == nullptr || !paired->ratio) return {};
  return "; nine times in ten " + change_range(paired->ratio->low, paired->ratio->high);
}

/// "It takes 21 % less film (...); a load costs ...".
std::string film_and_cost(const Comparison& c, const ComparedSide& side, UnitStyle style) {
  const ComparedSide& present = c.sides.front();
  std::string text;
  const auto film_now = compare_value(side, "film.mass"), film_then = compare_value(present, "film.mass");
  if (film_now && film_then) {
    const CompareQuantity& q = compare_quantity("film.mass");
    text += "It takes " + change(*film_now / *film_then) + " film (" + shown(q, *film_now, side, style) + " against " +
            shown(q, *film_then, present, style) + nine_of_ten(paired_band(side, "film.mass")) + ")";
  }
  if (!c.cost_measure.empty() && c.cost_measure != "film.mass") {
    const CompareQuantity& q = compare_quantity(c.cost_measure);
    text += std::string(text.empty() ? "A" : "; a") + " load costs " + shown(q, *q.value(side), side, style) +
            " against " + shown(q, *q.value(present), present, style);
  }
  return text;
}

/// Yearly savings and what stands behind the bands.
std::string bands_text(const Comparison& c, const PrintStyle& style) {
  std::string text;
  if (const std::string savings = savings_text(c, style.units); !savings.empty())
    text += heading("Saved per year against the present wrap", style.styled) + savings + '\n';
  if (c.options.band_samples == 0) return text;
  return text + heading("Bands", style.styled) +
         wrap("All sides were drawn " + std::to_string(c.options.band_samples) +
                  " times at the same points of everything that is uncertain, so what they share (load, machine, "
                  "places, the same film) drops out of a difference. A side is said to contain more or less when it "
                  "does so in " +
                  percent(c.options.words_at) +
                  " of the draws. The equations themselves are not in the bands: see the known misses of the "
                  "validation table.",
              "  ", "  ") +
         '\n';
}

std::string measure_words(const std::string& name) {
  if (name.empty()) return "";
  std::string text = compare_quantity(name).long_name;
  return text.substr(0, text.find(':'));
}

std::string sides_list(const Comparison& c, UnitStyle style) {
  std::string text;
  for (std::size_t i = 0; i < c.sides.size(); ++i) {
    const ComparedSide& side = c.sides[i];
    std::string about = side.title.empty() || side.title == side.name ? "" : ": " + side.title;
    if (side.measured) about += " (measured)";
    if (side.failed) about += " FAILED: " + in_style(side.message, style);
    text += wrap(tag(c, i) + (i == 0 && side.name != "present" ? ", present" : "") + about, "  ", "      ");
    for (const Adjustment& a : side.adjustments) {
      const Parameter* p = find_parameter(ParameterRoom::scenario, a.key);
      const std::string unit(style == UnitStyle::metric ? p->metric : p->inch_pound);
      text += wrap(a.key + " " + (a.before ? format_quantity(*a.before, unit, 4) : "not set") + " -> " +
                       format_quantity(a.after, unit, 4) + ": " + in_style(a.why, style),
                   "      ", "        ");
    }
  }
  return text;
}

/// Means of readings with what says how far to trust them.
std::string readings_text(const Comparison& c, const PrintStyle& style) {
  const DisplayUnits units(style.units);
  std::string text;
  for (std::size_t i = 0; i < c.sides.size(); ++i) {
    if (!c.sides[i].readings) continue;
    const MeasuredNumbers& r = *c.sides[i].readings;
    text += wrap(tag(c, i), "  ", "    ");
    const auto row = [&](const std::string& label, const std::optional<MeasuredValue>& v, const DisplayUnit& unit) {
      if (!v) return;
      const std::string spread = v->standard_error ? " \u00b1 " + readable(*v->standard_error * unit.per_si)
                                                   : std::string(" (spread unknown)");
      text += wrap(label + ": " + readable(v->mean * unit.per_si) + spread + " " + unit.name + ", " +
                       std::to_string(v->loads) + (v->loads == 1 ? " load" : " loads"),
                   "    ", "      ");
    };
    for (std::size_t moment = 0; moment < 2; ++moment)
      for (std::size_t s = 0; s < station_names.size(); ++s)
        row(std::string("pull force, ") + station_names[s] + (moment == 0 ? ", end of wrapping" : ", after storage"),
            r.pull_force[moment][s], units.force);
    row("film per load", r.film_mass, units.mass);
    row("stretch on the load", r.stretch_on_load, {100.0, "%"});
    row("laid width", r.laid_width, units.small_length);
  }
  if (text.empty()) return "";
  return heading("Readings: mean \u00b1 standard error over loads", style.styled) + text + '\n';
}

std::string dominance_text(const Comparison& c, const PrintStyle& style) {
  if (c.containment_measure.empty() || c.cost_measure.empty()) return "";
  std::string text = heading("Containment against cost", style.styled);
  text +=
      wrap("Judged by " + measure_words(c.containment_measure) + ", and by " + measure_words(c.cost_measure) +
               ". A side that contains at least as much for no more money, and is better in one of the two, "
               "dominates the other" +
               (c.options.band_samples > 0 ? ", if it does so in " + percent(c.options.words_at) + " of the draws, too."
                                           : std::string(".")),
           "  ", "  ");
  for (std::size_t i = 0; i < c.sides.size(); ++i) {
    const ComparedSide& side = c.sides[i];
    if (side.failed) continue;
    std::string list;
    for (const std::size_t other : side.dominated_by) list += (list.empty() ? "" : ", ") + tag(c, other);
    text += wrap(tag(c, i) + ": " + (list.empty() ? "not dominated" : "dominated by " + list), "  ", "    ");
  }
  return text + '\n';
}

std::string warnings_text(const Comparison& c, const PrintStyle& style) {
  std::string text;
  for (const Warning& w : c.warnings) text += wrap(w.severity + ": " + in_style(w.text, style.units), "  - ", "    ");
  std::vector<std::string> done;
  const auto add = [&](std::size_t i, const Warning& w) {
    if (std::find(done.begin(), done.end(), w.code + w.text) != done.end()) return;
    done.push_back(w.code + w.text);
    std::string sides;
    for (std::size_t j = i; j < c.sides.size(); ++j) {
      const ComparedSide& other = c.sides[j];
      const auto same = [&](const Warning& v) { return v.code == w.code && v.text == w.text; };
      const bool has =
          std::any_of(other.warnings.begin(), other.warnings.end(), same) ||
          (other.result && std::any_of(other.result->warnings.begin(), other.result->warnings.end(), same));
      if (has) sides += "[" + std::to_string(j + 1) + "]";
    }
    text += wrap(
        sides + " " + w.severity + ": " + in_style(w.text, style.units) + (w.key.empty() ? "" : " (" + w.key + ")"),
        "  - ", "    ");
  };
  for (std::size_t i = 0; i < c.sides.size(); ++i) {
    for (const Warning& w : c.sides[i].warnings) add(i, w);
    if (c.sides[i].result)
      for (const Warning& w : c.sides[i].result->warnings) add(i, w);
  }
  return text.empty() ? "" : heading("Warnings", style.styled) + text + '\n';
}

}  // namespace

std::string side_name(const Comparison& c, std::size_t i) { return c.sides.size() > 2 ? tag(c, i) : c.sides[i].name; }

bool is_apart(const Comparison& c, const ComparedSide& side) {
  const PairedBand* paired = c.containment_measure.empty() ? nullptr : paired_band(side, c.containment_measure);
  return paired == nullptr || paired->verdict != Verdict::not_distinguishable;
}

std::string containment_sentence(const Comparison& c, std::size_t i, UnitStyle style) {
  const ComparedSide &present = c.sides.front(), &side = c.sides[i];
  if (side.failed) return side_name(c, i) + " could not be computed.";
  std::string text = side_name(c, i);
  if (c.containment_measure.empty())
    return text + " cannot be compared in what it contains: the wraps share no measure.";
  const CompareQuantity& q = compare_quantity(c.containment_measure);
  const double now = *q.value(side), then = *q.value(present);
  text += is_apart(c, side) ? " contains " + change(now / then)
                            : " cannot be told from the present wrap by what it contains";
  return text + " (" + q.long_name + ": " + shown(q, now, side, style) + weakest_place(q, side) + " against " +
         shown(q, then, present, style) + weakest_place(q, present) +
         nine_of_ten(paired_band(side, c.containment_measure)) + ").";
}

std::string film_sentence(const Comparison& c, std::size_t i, UnitStyle style) {
  if (c.sides[i].failed) return {};
  const std::string text = film_and_cost(c, c.sides[i], style);
  return text.empty() ? text : text + ".";
}

std::string trial_sentence(const Comparison& c, std::size_t i) {
  const ComparedSide& side = c.sides[i];
  if (side.failed) return {};
  if (!side.paired_message.empty()) return "There is " + side.paired_message + ".";
  const PairedBand* paired = c.containment_measure.empty() ? nullptr : paired_band(side, c.containment_measure);
  return paired == nullptr ? std::string() : loads_text(*paired);
}

std::string compare_text(const Comparison& c, const PrintStyle& style) {
  std::string text;
  constexpr std::size_t most_sentences = 4;
  if (c.sides.size() > most_sentences + 1 && !c.containment_measure.empty())
    text = ranking(c, style);
  else
    for (std::size_t i = 1; i < c.sides.size(); ++i) {
      std::string told = first_sentence(c, i, style.units);
      for (const std::string& more : {film_sentence(c, i, style.units), trial_sentence(c, i)})
        if (!more.empty()) told += " " + more;
      text += wrap(told, "", "  ");
    }
  text += '\n' + heading("Sides", style.styled) + wrap("Compared: " + mode_text(c.options) + ".", "  ", "  ");
  text += sides_list(c, style.units) + '\n' + heading("Numbers", style.styled) + tables(c, style) + '\n';
  text += bands_text(c, style) + readings_text(c, style);
  text += why(c, style) + dominance_text(c, style) + warnings_text(c, style);
  return text + heading("Caution", style.styled) +
         wrap(std::string(short_caution) +
                  " Check each wrap on the real load. `hoopfield predict` shows the assumptions behind a side.",
              "  ", "  ");
}

}  // namespace hoopfield::words
