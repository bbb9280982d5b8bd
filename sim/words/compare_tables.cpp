// SPDX-License-Identifier: BSD-3-Clause
#include "sim/base/number_text.hpp"
#include "sim/words/compare_text_detail.hpp"
#include "sim/words/economics_text.hpp"
#include "sim/words/moments.hpp"
#include "sim/words/text_layout.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace hoopfield::words::compare_page {

namespace {

constexpr std::size_t label_width = 32;
constexpr std::size_t column_width = 12;
constexpr std::size_t candidates_at_once = 3;

struct Row {
  const char* label;
  const char* quantity;
};

struct Section {
  const char* title;
  std::vector<Row> rows;
  bool is_weakest = false;  ///< shown only where a side is weaker in storage than at both ends of it
};

const std::vector<Section>& sections() {
  static const std::vector<Section> list = {{"At the end of wrapping",
                                             {{"hoop tension, top", "containment.end.top.hoop_tension"},
                                              {"hoop tension, middle", "containment.end.middle.hoop_tension"},
                                              {"hoop tension, bottom", "containment.end.bottom.hoop_tension"},
                                              {"pull force, top", "containment.end.top.pull_force"},
                                              {"pull force, middle", "containment.end.middle.pull_force"},
                                              {"pull force, bottom", "containment.end.bottom.pull_force"},
                                              {"d ln(hoop)/d ln(span force)", "sensitivity.end"}}},
                                            {"When each station is weakest in storage",
                                             {{"hoop tension, top", "containment.weakest.top.hoop_tension"},
                                              {"hoop tension, middle", "containment.weakest.middle.hoop_tension"},
                                              {"hoop tension, bottom", "containment.weakest.bottom.hoop_tension"},
                                              {"pull force, top", "containment.weakest.top.pull_force"},
                                              {"pull force, middle", "containment.weakest.middle.pull_force"},
                                              {"pull force, bottom", "containment.weakest.bottom.pull_force"}},
                                             true},
                                            {"After storage",
                                             {{"hoop tension, top", "containment.after_storage.top.hoop_tension"},
                                              {"hoop tension, middle", "containment.after_storage.middle.hoop_tension"},
                                              {"hoop tension, bottom", "containment.after_storage.bottom.hoop_tension"},
                                              {"pull force, top", "containment.after_storage.top.pull_force"},
                                              {"pull force, middle", "containment.after_storage.middle.pull_force"},
                                              {"pull force, bottom", "containment.after_storage.bottom.pull_force"},
                                              {"d ln(hoop)/d ln(span force)", "sensitivity.after_storage"},
                                              {"targets met", "targets.met"},
                                              {"targets missed", "targets.missed"}}},
                                            {"In transit, pushed slowly, at the least hoop tension",
                                             {{"first slip, length", "transit.weakest.along_length.first_slip"},
                                              {"first slip, width", "transit.weakest.along_width.first_slip"},
                                              {"held with slip, length", "transit.weakest.along_length.held"},
                                              {"held with slip, width", "transit.weakest.along_width.held"},
                                              {"tipping, length", "transit.weakest.along_length.tipping"},
                                              {"tipping, width", "transit.weakest.along_width.tipping"},
                                              {"over required, length", "transit.weakest.along_length.margin"},
                                              {"over required, width", "transit.weakest.along_width.margin"}}},
                                            {"Film and settings",
                                             {{"pre-stretch", "film.prestretch"},
                                              {"stretch on the load", "film.stretch_on_load"},
                                              {"span force", "span.force_set"},
                                              {"turns", "pattern.turns"},
                                              {"cycle time", "pattern.rotation_time"},
                                              {"laid width", "film.laid_width"},
                                              {"pre-stretch force", "film.prestretch_force"},
                                              {"stiffness EA/N on the load", "film.stiffness_over_force"},
                                              {"corner force", "load.edge_line_force"},
                                              {"film per load", "film.mass"}}},
                                            {"Film alone, virtual tests at its stretch on the load, drawn at 1 1/s",
                                             {{"secant modulus", "film_numbers.secant_modulus"},
                                              {"stress at 200 %", "film_numbers.stress_at_200"},
                                              {"unloading stiffness", "film_numbers.unloading_stiffness"},
                                              {"tension kept after 24 h", "film_numbers.kept_24_h"},
                                              {"tension kept after 30 d", "film_numbers.kept_30_d"},
                                              {"permanent set", "film_numbers.permanent_set"},
                                              {"break stretch", "film_numbers.break_stretch"}}},
                                            {"Cost and footprint",
                                             {{"film price", "cost.film_price"},
                                              {"film cost per load", "cost.film_per_load"},
                                              {"cost with roll changes", "cost.per_load"},
                                              {"break-even film price", "cost.break_even_price"},
                                              {"loads per roll", "cost.loads_per_roll"},
                                              {"CO2e per load, low", "cost.co2e_low"},
                                              {"CO2e per load, high", "cost.co2e_high"},
                                              {"film per year", "cost.year.film_mass"},
                                              {"rolls per year", "cost.year.rolls"},
                                              {"roll changes per year", "cost.year.roll_change_time"},
                                              {"cost per year", "cost.year.total"},
                                              {"CO2e per year, low", "cost.year.co2e_low"},
                                              {"CO2e per year, high", "cost.year.co2e_high"}}}};
  return list;
}

/// A name in up to four lines of at most `width`, cut behind a blank, hyphen or underline where there is one.
std::vector<std::string> name_lines(const std::string& name, std::size_t width) {
  constexpr std::size_t most_lines = 4;
  std::vector<std::string> lines;
  std::string rest = clipped(name, most_lines * width);
  while (display_width(rest) > width && lines.size() + 1 < most_lines) {
    std::string line = clipped(rest, width);
    const std::size_t mark = line.find_last_of(" -_");
    if (mark != std::string::npos && mark > 0) line.resize(mark + 1);
    lines.push_back(line);
    rest.erase(0, line.size());
  }
  lines.push_back(clipped(rest, width));
  return lines;
}

std::string cell(const CompareQuantity& quantity, const ComparedSide& side, UnitStyle style) {
  const auto value = quantity.value(side);
  if (!value) return side.failed ? "failed" : "-";
  if (quantity.name == "cost.break_even_price" && *value < 0.0) return "none";
  const DisplayUnit unit = unit_of(quantity, style);
  const double shown = *value * unit.per_si + unit.offset;
  if (!quantity.unit.starts_with("money")) return readable(shown);
  const std::string currency =
      side.economics && !side.economics->currency.empty() ? side.economics->currency : unnamed_currency;
  const std::string digits = money_digits(shown) + " ";
  return digits + clipped(currency, column_width - 1 - std::min(column_width - 2, display_width(digits)));
}

/// "-12 to +32" percent of the present wrap; "-" without draws.
std::string band_cell(const PairedBand* paired) {
  if (paired == nullptr || !paired->ratio) return "-";
  const auto end = [](double ratio) {
    const double change = 100.0 * (ratio - 1.0);
    return (change < 0.0 ? "-" : "+") + fixed(std::abs(change), 0);
  };
  return end(paired->ratio->low) + " to " + end(paired->ratio->high);
}

class TableBlock {
 public:
  TableBlock(const Comparison& comparison, std::vector<std::size_t> sides, const PrintStyle& style)
      : comparison_(comparison), sides_(std::move(sides)), style_(style) {}

  std::string text() const {
    std::string out = line("", [](std::size_t i) { return "[" + std::to_string(i + 1) + "]"; });
    out += names();
    const auto& all = comparison_.sides;
    const bool is_weaker = std::any_of(all.begin(), all.end(), [](const ComparedSide& side) {
      return side.result && is_weaker_in_storage(*side.result);
    });
    for (const Section& section : sections()) {
      if (section.is_weakest && !is_weaker) continue;
      const std::string rows = section_rows(section);
      if (!rows.empty()) out += "  " + std::string(section.title) + "\n" + rows;
    }
    return out + line("  warnings", [&](std::size_t i) {
             const ComparedSide& side = comparison_.sides[i];
             return std::to_string(side.warnings.size() + (side.result ? side.result->warnings.size() : 0));
           });
  }

 private:
  template <typename Cell>
  std::string line(const std::string& label, Cell&& text_of) const {
    std::string out = pad_right(label, label_width);
    for (const std::size_t i : sides_) out += pad_left(text_of(i), column_width);
    return out.substr(0, out.find_last_not_of(' ') + 1) + '\n';
  }

  std::string names() const {
    std::size_t most = 0;
    const auto lines_of = [&](std::size_t i) { return name_lines(comparison_.sides[i].name, column_width - 1); };
    for (const std::size_t i : sides_) most = std::max(most, lines_of(i).size());
    std::string out;
    for (std::size_t row = 0; row < most; ++row)
      out += line("", [&](std::size_t i) {
        const auto lines = lines_of(i);
        return row < lines.size() ? lines[row] : std::string();
      });
    return out;
  }

  /// Rows nobody has a number for are left out.
  std::string section_rows(const Section& section) const {
    std::string out;
    for (const Row& row : section.rows) {
      const CompareQuantity& quantity = compare_quantity(row.quantity);
      const auto& all = comparison_.sides;
      if (std::none_of(all.begin(), all.end(), [&](const ComparedSide& a) { return quantity.value(a).has_value(); }))
        continue;
      const std::string unit = unit_of(quantity, style_.units).name;
      const std::string label = std::string("    ") + row.label + (unit.empty() ? "" : ", " + unit);
      out += line(label, [&](std::size_t i) { return cell(quantity, all[i], style_.units); });
    }
    return out;
  }

  const Comparison& comparison_;
  std::vector<std::size_t> sides_;
  const PrintStyle& style_;
};

}  // namespace

std::string tag(const Comparison& comparison, std::size_t side) {
  return "[" + std::to_string(side + 1) + "] " + comparison.sides[side].name;
}

DisplayUnit unit_of(const CompareQuantity& q, UnitStyle style) {
  const DisplayUnits units(style);
  if (q.name == "film.mass") return units.mass;
  if (q.unit == "m/s^2") return {q.per_si, "gn"};
  if (q.unit == "Pa") return units.stress;
  if (q.unit == "N/m") return units.tension;
  if (q.unit == "N") return units.force;
  if (q.unit == "kg") return large_mass(style);
  if (q.unit == "money/kg") return {1.0 / large_mass(style).per_si, style == UnitStyle::metric ? "/kg" : "/lb"};
  if (q.unit == "m") return q.per_si == 1.0 ? units.film_length : units.small_length;
  if (q.unit == "s") return q.per_si == 1.0 ? DisplayUnit{1.0, "s"} : DisplayUnit{1.0 / 3600.0, "h"};
  return q.per_si == 100.0 ? DisplayUnit{100.0, "%"} : DisplayUnit{1.0, ""};
}

std::string ranking(const Comparison& c, const PrintStyle& style) {
  const CompareQuantity& measure = compare_quantity(c.containment_measure);
  std::vector<const CompareQuantity*> columns = {&measure, &compare_quantity("film.mass")};
  if (!c.cost_measure.empty() && c.cost_measure != "film.mass") columns.push_back(&compare_quantity(c.cost_measure));
  std::vector<std::size_t> order(c.sides.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  const auto contained = [&](std::size_t i) { return measure.value(c.sides[i]).value_or(-1.0); };
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return contained(a) > contained(b); });

  std::vector<std::string> heads;
  for (const CompareQuantity* q : columns) {
    const std::string unit = unit_of(*q, style.units).name;
    const char* const word = q == &measure ? "contains" : q->name == "film.mass" ? "film" : "cost";
    heads.push_back(word + (unit.empty() ? "" : ", " + unit));
  }
  heads.emplace_back("to [1]");
  const bool drawn =
      std::any_of(c.sides.begin(), c.sides.end(), [](const ComparedSide& s) { return !s.paired.empty(); });
  if (drawn) heads.emplace_back("5 to 95 %");
  std::string line;
  for (std::string& head : heads) line += head = pad_left(head, std::max(column_width, display_width(head) + 2));
  const std::size_t name_width = terminal_width - display_width(line);
  std::string text =
      wrap("Best first, by " + measure.long_name + "; [1] is the present wrap; = marks ties in the digits shown.", "",
           "") +
      pad_right("", name_width) + line + '\n';
  const double present = contained(0);
  const auto containment = [&](std::size_t at) { return cell(measure, c.sides[order[at]], style.units); };
  std::size_t rank = 0;
  for (std::size_t at = 0; at < order.size(); ++at) {
    const std::size_t i = order[at];
    const ComparedSide& side = c.sides[i];
    const bool ties_above = at > 0 && containment(at) == containment(at - 1);
    const bool ties_below = at + 1 < order.size() && containment(at) == containment(at + 1);
    if (!ties_above) rank = at + 1;
    const std::string place = pad_left(std::to_string(rank), 2) + (ties_above || ties_below ? "= " : "  ");
    text += pad_right(clipped(place + tag(c, i), name_width - 1), name_width);
    for (std::size_t j = 0; j < columns.size(); ++j)
      text += pad_left(cell(*columns[j], side, style.units), display_width(heads[j]));
    const double change = 100.0 * (contained(i) / present - 1.0);
    const bool has_change = i > 0 && contained(i) > 0.0 && present > 0.0;
    text += pad_left(has_change ? (change < 0.0 ? "-" : "+") + fixed(std::abs(change), 1) + " %" : "-", column_width);
    if (drawn) text += pad_left(band_cell(paired_band(side, c.containment_measure)), column_width);
    text += '\n';
  }
  return text;
}

std::string tables(const Comparison& comparison, const PrintStyle& style) {
  std::string text;
  const std::size_t count = comparison.sides.size();
  for (std::size_t first = 1; first < count; first += candidates_at_once) {
    std::vector<std::size_t> sides = {0};
    for (std::size_t i = first; i < std::min(count, first + candidates_at_once); ++i) sides.push_back(i);
    text += (text.empty() ? "" : "\n") + TableBlock(comparison, sides, style).text();
  }
  if (text.find(unnamed_currency) != std::string::npos)
    text += wrap(std::string(unnamed_currency) + ": the currency of film.price; cost.currency names it", "  ", "    ");
  for (const ComparedSide& side : comparison.sides)
    if (side.break_even_price.value_or(0.0) < 0.0) {
      text += "  no break-even film price: roll changes alone cost more\n";
      break;
    }
  return text;
}

}  // namespace hoopfield::words::compare_page
