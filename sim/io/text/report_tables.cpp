// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/report_tables.hpp"

#include "models/output_names.hpp"
#include "models/units.hpp"
#include "sim/base/faces.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/text/detail/report_parts.hpp"
#include "sim/words/display_units.hpp"
#include "sim/words/inch_pound.hpp"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

namespace hoopfield {

namespace {

using detail::Json;
using Row = std::vector<std::string>;

/// The outputs of the table "Film and turns", by key.
constexpr const char* film_rows[] = {"film.mass",       "film.length_on_roll",   "film.stretch_on_load",
                                     "film.laid_width", "film.prestretch_force", "span.force_mean",
                                     "pattern.turns",   "pattern.rotation_time", "load.edge_line_force"};

/// Four significant digits, no exponent for what a report holds.
std::string readable(double shown) {
  if (shown == 0.0) return "0";
  shown = words::four_digits(shown);
  const int power = static_cast<int>(std::floor(std::log10(std::abs(shown))));
  return power < -6 ? shortest(shown) : fixed(shown, std::max(0, 3 - power));
}

std::string text_of(const Json& json) {
  if (json.is_string()) return json.get<std::string>();
  if (json.is_number_float()) return readable(json.get<double>());
  if (json.is_boolean()) return json.get<bool>() ? "yes" : "no";
  return json.is_number_integer() ? std::to_string(json.get<long long>()) : "-";
}

std::string readable(const Json& value) { return value.is_number() ? readable(value.get<double>()) : "-"; }

/// An SI number in a unit people write.
std::string readable(const Json& value, std::string_view unit) {
  return value.is_number() ? readable(to_unit(value.get<double>(), unit)) : "-";
}

double converted(double value, const std::string& from, const std::string& to) {
  const Unit unit = *find_unit(from);
  return to_unit(value * unit.factor + unit.offset, to);
}

class Html {
 public:
  explicit Html(bool inch_pound) : inch_(inch_pound) {}

  void heading(std::string_view title) { text_ += "<h2>" + html_text(title) + "</h2>\n"; }
  void paragraph(const std::string& words) { text_ += "<p>" + html_text(styled(words)) + "</p>\n"; }
  /// A person's own words, in which nothing is converted.
  void as_written(const std::string& words) { text_ += "<p>" + html_text(words) + "</p>\n"; }
  void table(const std::string& caption, const Row& head, const std::vector<Row>& rows) {
    text_ += "<table><caption>" + html_text(caption) + "</caption><thead><tr>";
    for (const std::string& cell : head) text_ += "<th scope=\"col\">" + html_text(styled(cell)) + "</th>";
    text_ += "</tr></thead><tbody>\n";
    for (const Row& row : rows) {
      text_ += "<tr>";
      for (std::size_t i = 0; i < row.size(); ++i)
        text_ += (i == 0 ? "<th scope=\"row\">" : "<td>") + html_text(styled(row[i])) + (i == 0 ? "</th>" : "</td>");
      text_ += "</tr>\n";
    }
    text_ += "</tbody></table>\n";
  }
  [[nodiscard]] std::string tension(const Json& v) const { return readable(v, tension_unit()); }
  [[nodiscard]] std::string force(const Json& v) const { return readable(v, force_unit()); }
  [[nodiscard]] std::string temperature(const Json& v) const {
    return v.is_number() ? readable(converted(v.get<double>(), "degC", temperature_unit())) : "-";
  }
  [[nodiscard]] const char* temperature_unit() const { return inch_ ? "degF" : "degC"; }
  [[nodiscard]] const char* tension_unit() const { return inch_ ? "lbf/in" : "N/m"; }
  [[nodiscard]] const char* force_unit() const { return inch_ ? "lbf" : "N"; }
  [[nodiscard]] bool inch() const { return inch_; }
  [[nodiscard]] const std::string& text() const { return text_; }

 private:
  [[nodiscard]] std::string styled(const std::string& words) const {
    return inch_ ? words::in_inch_pound(words) : words;
  }

  bool inch_;
  std::string text_;
};

/// " (483 to 624)": the ends between which a number lies in nine of ten draws; empty without draws.
std::string band_text(const Html& html, const Json& summary, const std::string& name, bool tension) {
  if (!summary.contains("band") || summary.at("band").is_null()) return {};
  const Json& values = summary.at("band").at("values");
  if (!values.contains(name)) return {};
  const auto shown = [&](const char* end) {
    return tension ? html.tension(values.at(name).at(end)) : html.force(values.at(name).at(end));
  };
  return " (" + shown("p05") + " to " + shown("p95") + ")";
}

void containment_table(Html& html, const Json& summary) {
  const Json& containment = summary.at("containment");
  std::vector<Row> rows;
  const auto row = [&](const std::string& label, const char* moment, const char* key, bool tension) {
    Row cells = {label};
    for (const char* station : station_names) {
      const Json& value = containment.at(moment).at(station).at(key);
      const std::string name = std::string("containment.") + moment + "." + station + "." + key;
      cells.push_back((tension ? html.tension(value) : html.force(value)) + band_text(html, summary, name, tension));
    }
    rows.push_back(cells);
  };
  for (const auto& [moment, words] :
       {std::pair{"end", "at the end of wrapping"}, std::pair{"weakest", "when weakest in storage"},
        std::pair{"after_storage", "after storage"}}) {
    row(std::string("hoop tension ") + words + ", " + html.tension_unit(), moment, "hoop_tension_N_per_m", true);
    row(std::string("pull force ") + words + ", " + html.force_unit(), moment, "pull_force_N", false);
  }
  Row time = {"time when weakest, h"}, warmth = {std::string("temperature when weakest, ") + html.temperature_unit()};
  for (const char* station : station_names) {
    const Json& weakest = containment.at("weakest").at(station);
    time.push_back(readable(weakest.at("time_s"), "h"));
    warmth.push_back(html.temperature(weakest.at("temperature_C")));
  }
  rows.push_back(time);
  rows.push_back(warmth);
  Row layers = {"film layers"};
  for (const char* station : station_names)
    layers.push_back(readable(containment.at("end").at(station).at("film_layers")));
  rows.push_back(layers);
  html.table("Containment", {"", "top", "middle", "bottom"}, rows);
}

void targets_table(Html& html, const Json& targets) {
  std::vector<Row> rows;
  for (const Json& t : targets) {
    const bool force = t.at("unit") == "N";
    rows.push_back({t.at("station").get<std::string>(), text_of(t.at("quantity")) + ", " + text_of(t.at("at")),
                    force ? html.force(t.at("wanted")) : html.tension(t.at("wanted")),
                    force ? html.force(t.at("predicted")) : html.tension(t.at("predicted")),
                    force ? html.force_unit() : html.tension_unit(), t.at("met").get<bool>() ? "met" : "missed"});
  }
  if (!rows.empty()) html.table("Targets", {"station", "quantity", "wanted", "predicted", "unit", ""}, rows);
}

void film_table(Html& html, const Json& side) {
  std::vector<Row> rows;
  for (const char* key : film_rows) {
    const Parameter& p = *find_parameter(ParameterRoom::output, key);
    std::string place = "/summary/" + json_key(p);
    std::replace(place.begin(), place.end(), '.', '/');
    const Json& value = side.at(Json::json_pointer(place));
    const std::string_view unit = html.inch() ? p.inch_pound : p.metric;
    rows.push_back({std::string(p.label),
                    value.is_number() ? readable(to_unit(si_of_json(p, value.get<double>()), unit)) : "-",
                    std::string(unit)});
  }
  html.table("Film and turns", {"quantity", "value", "unit"}, rows);
}

void unknowns_table(Html& html, const Json& assumed) {
  std::vector<Row> rows;
  for (const Json& u : assumed)
    rows.push_back({text_of(u.at("key")), text_of(u.at("value")), text_of(u.at("low")) + " to " + text_of(u.at("high")),
                    u.at("failed").get<bool>() ? "cannot be computed: " + text_of(u.at("message"))
                                               : html.tension(u.at("containment_low_N_per_m")) + " to " +
                                                     html.tension(u.at("containment_high_N_per_m")),
                    text_of(u.at("how_to_measure")), text_of(u.at("caution"))});
  if (rows.empty()) return;
  html.heading("Largest unknowns");
  html.table("Assumed inputs, largest effect first",
             {"input", "assumed", "range", std::string("weakest station after storage, ") + html.tension_unit(),
              "how to measure it", "caution"},
             rows);
}

void inputs_table(Html& html, const Json& inputs) {
  std::vector<Row> rows;
  for (const Json& row : inputs) {
    rows.push_back({text_of(row.at("key")), text_of(row.at(html.inch() ? "inch_pound" : "metric")),
                    text_of(row.at("origin")), text_of(row.at("source"))});
  }
  html.heading("Inputs");
  html.table("Every input with its source", {"input", "value", "origin", "source"}, rows);
}

void side_tables(Html& html, const Json& side, bool with_inputs) {
  if (side.at("failed").get<bool>()) {
    html.paragraph("This wrap could not be computed: " + text_of(side.at("message")));
  } else if (side.at("measured").get<bool>()) {
    html.paragraph("This wrap is known only from readings; its numbers are in the comparison.");
  } else {
    const Json& summary = side.at("summary");
    for (const char* told : {"first_sentence", "bands_note"})
      if (const std::string words = side.at("detail").at("findings").at(told); !words.empty()) html.paragraph(words);
    containment_table(html, summary);
    targets_table(html, summary.at("targets"));
    film_table(html, side);
    const std::vector<Row> amounts = detail::cost_rows(summary, html.inch());
    if (!amounts.empty()) html.table("Cost and footprint", {"quantity", "value"}, amounts);
    unknowns_table(html, summary.at("assumed"));
    std::vector<Row> rows;
    for (const Json& w : summary.at("warnings"))
      rows.push_back({text_of(w.at("severity")), text_of(w.at("text")), text_of(w.at("key"))});
    if (!rows.empty()) html.heading("Warnings");
    if (!rows.empty()) html.table("Warnings", {"severity", "what", "input"}, rows);
  }
  if (with_inputs && !side.at("inputs").empty()) inputs_table(html, side.at("inputs"));
}

/// Site, author, customer and date, as far as they are given.
void report_words(Html& html, const Json& words) {
  for (const char* name : {"site", "author", "customer", "date"}) {
    const Parameter& p = *find_parameter(ParameterRoom::scenario, std::string("report.") + name);
    if (const std::string value = words.at(name); !value.empty()) html.as_written(std::string(p.label) + ": " + value);
  }
}

/// One row per quantity, one column per side, in the units of the object.
/// The verdict on every candidate, with its band and what it saves.
void verdicts(Html& html, const Json& comparison) {
  for (const Json& side : comparison.at("sides"))
    for (const char* key : {"sentence", "savings_sentence"})
      if (side.contains(key) && side.at(key) != "") html.paragraph(side.at(key).get<std::string>());
}

void comparison_table(Html& html, const Json& comparison) {
  Row head = {"quantity", "unit"};
  for (const Json& side : comparison.at("sides")) head.push_back(text_of(side.at("name")));
  std::vector<Row> rows;
  for (const Json& quantity : comparison.at("quantities")) {
    const std::string name = text_of(quantity.at("name")), metric = text_of(quantity.at("unit"));
    const std::string inch(html.inch() ? words::inch_pound_unit(metric) : "");
    Row row = {text_of(quantity.at("long_name")), inch.empty() ? metric : inch};
    for (const Json& side : comparison.at("sides")) {
      const Json& numbers = side.at("numbers");
      if (!numbers.contains(name) || !numbers.at(name).is_number())
        row.emplace_back("-");
      else if (inch.empty())
        row.push_back(readable(numbers.at(name)));
      else
        row.push_back(readable(converted(numbers.at(name).get<double>(), metric, inch)));
    }
    rows.push_back(row);
  }
  html.heading("All wraps");
  html.table("All wraps", head, rows);
}

/// Warnings of the comparison; those of a prediction stand in the tables of its side.
void comparison_warnings(Html& html, const Json& json) {
  const Json& comparison = json.at("comparison");
  std::vector<Row> rows;
  const auto add = [&](const std::string& side, const Json& w) {
    rows.push_back({side, text_of(w.at("severity")), text_of(w.at("text")), text_of(w.at("key"))});
  };
  for (const Json& w : comparison.at("warnings")) add("all", w);
  for (std::size_t i = 0; i < comparison.at("sides").size(); ++i) {
    const Json& side = json.at("sides").at(i);
    const Json shown = side.contains("summary") ? side.at("summary").at("warnings") : Json::array();
    for (const Json& w : comparison.at("sides")[i].at("warnings"))
      if (std::find(shown.begin(), shown.end(), w) == shown.end()) add(text_of(side.at("name")), w);
  }
  if (rows.empty()) return;
  html.heading("Warnings of the comparison");
  html.table("Warnings of the comparison", {"wrap", "severity", "what", "input"}, rows);
}

}  // namespace

std::string html_text(std::string_view text) {
  std::string safe;
  for (const char c : text) {
    if (c == '&')
      safe += "&amp;";
    else if (c == '<')
      safe += "&lt;";
    else if (c == '>')
      safe += "&gt;";
    else if (c == '"')
      safe += "&quot;";
    else if (c == '\'')
      safe += "&#39;";
    else
      safe += c;
  }
  return safe;
}

std::string detail::plain_tables(const Json& json, bool with_inputs) {
  Html html(json.at("units") == "inch-pound");
  report_words(html, json.at("report"));
  for (const Json& side : json.at("sides")) {
    html.heading(side.at("name").get<std::string>());
    side_tables(html, side, with_inputs);
  }
  if (!json.at("comparison").is_null()) {
    verdicts(html, json.at("comparison"));
    comparison_table(html, json.at("comparison"));
    comparison_warnings(html, json);
  }
  if (!json.at("validation").empty()) {
    std::vector<Row> rows;
    for (const Json& v : json.at("validation"))
      rows.push_back({text_of(v.at("title")), text_of(v.at("label")), text_of(v.at("result"))});
    html.heading("Validation status");
    html.table("What the computation was compared with", {"case", "kind of truth", "result"}, rows);
  }
  html.heading("Caution");
  for (const Json& words : json.at("cautions")) html.paragraph(words.get<std::string>());
  return html.text();
}

}  // namespace hoopfield
