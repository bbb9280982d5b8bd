// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/calibration_text.hpp"

#include "models/caution.hpp"
#include "models/parameter.hpp"
#include "models/text.hpp"
#include "sim/base/faces.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/words/text_layout.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield::words {
namespace {

constexpr std::size_t shown_next = 6;

std::string sentence(const std::string& text) { return wrap(text, "  ", "  "); }

DisplayUnit unit_of(const ReadingQuantity& q, UnitStyle style) {
  return display_unit(std::string(q.metric).c_str(), style);
}

/// "61 (52 to 70)"
std::string banded(const Banded& b, const DisplayUnit& unit) {
  return number(b.value, unit) + " (" + number(b.low, unit) + " to " + number(b.high, unit) + ")";
}

DisplayUnit unit_of(const CalibratedInput& input, UnitStyle style) {
  if (input.is_film) return {};
  if (input.is_share) return display_unit("%", style);
  return display_unit(std::string(find_parameter(ParameterRoom::scenario, input.key)->metric).c_str(), style);
}

std::string settled_cell(Settled settled) {
  return settled == Settled::determined ? "determined" : settled == Settled::narrowed ? "narrowed" : "not determined";
}

std::string input_rows(const Calibration& c, UnitStyle style) {
  std::string text;
  std::size_t film = 0, silent = 0;
  std::string undetermined;
  for (const CalibratedInput& input : c.inputs) {
    if (input.is_film) {
      film += input.settled != Settled::not_determined ? 1 : 0;
      continue;
    }
    if (input.settled == Settled::not_determined) {
      undetermined += (silent++ == 0 ? "" : ", ") + input.key;
      continue;
    }
    const DisplayUnit unit = unit_of(input, style);
    const std::string name = input.is_share ? "share of the tent formula" : input.key;
    text += clipped("  " + name + (*unit.name != '\0' ? std::string(", ") + unit.name : ""), terminal_width) + '\n';
    text += "    " + pad_right(banded(input.before, unit), 28) + pad_right(banded(input.after, unit), 28) +
            settled_cell(input.settled) + '\n';
  }
  if (!text.empty()) text = "    " + pad_right("before", 28) + pad_right("after", 28) + "verdict\n" + text;
  if (film > 0) text += sentence(std::to_string(film) + " numbers of the film file were narrowed, too.");
  if (silent > 0) text += sentence("Not determined by these readings: " + undetermined + ".");
  return text;
}

std::string reading_table(const Calibration& c, UnitStyle style) {
  std::string text =
      pad_right("  line  reading", 40) + pad_left("read", 9) + pad_left("before", 9) + pad_left("after", 9) + "\n";
  for (const CalibratedReading& r : c.readings) {
    const DisplayUnit unit = unit_of(*r.place.quantity, style);
    const std::string label = pad_left(std::to_string(r.reading.line), 6) + "  " + reading_words(r.place, style);
    text += pad_right(clipped(label, 40), 40) + pad_left(number(r.reading.value, unit), 9) +
            pad_left(number(r.before.value, unit), 9) + pad_left(number(r.after.value, unit), 9) + "  " + unit.name +
            (r.is_off ? "  OFF" : "") + '\n';
  }
  return text;
}

std::string station_rows(const Calibration& c, const DisplayUnits& units) {
  std::string text = pad_right("  hoop tension after storage, " + std::string(units.tension.name), 36) +
                     pad_right("before", 20) + "after\n";
  for (std::size_t i = 0; i < station_names.size(); ++i) {
    const auto cell = [&](const Result& result) {
      const double value = result.after_storage.stations[i].hoop_tension;
      std::string shown = number(value, units.tension);
      const std::string name = std::string("containment.after_storage.") + station_names[i] + ".hoop_tension";
      if (result.band)
        if (const auto band = result.band->band(name))
          shown += " (" + number(band->low, units.tension) + " to " + number(band->high, units.tension) + ")";
      return shown;
    };
    text += pad_right(std::string("  ") + station_names[i], 36) + pad_right(cell(c.before), 20) + cell(c.after) + '\n';
  }
  return text;
}

std::string next_rows(const Calibration& c, UnitStyle style) {
  std::string text = pad_right("  reading", 48) + pad_left("band left", 12) + pad_left("minutes", 10) + '\n';
  std::size_t shown = 0;
  for (const NextReading& reading : c.next) {
    if (shown == shown_next || reading.share > 0.97) break;
    text += pad_right(clipped("  " + reading_words(reading.place, style), 48), 48) +
            pad_left(whole_percent(reading.share), 12) + pad_left(fixed(reading.place.quantity->minutes, 0), 10) + '\n';
    ++shown;
  }
  if (shown == 0) return sentence("No single reading would narrow it by more than 3 %.");
  return text + sentence(caution_text(c.next.front().place.quantity->measure.hazards));
}

}  // namespace

std::string reading_words(const ReadingPlace& place, UnitStyle style) {
  const ReadingQuantity& q = *place.quantity;
  std::string text(q.label);
  if (q.needs_height) text += " at " + quantity(place.height, DisplayUnits(style).height);
  if (place.face) text += std::string(", ") + face_names[*place.face];
  if (q.is_of_wrap && place.time != usual_reading_time) text += ", after " + duration(place.time);
  return text;
}

std::string calibration_text(const Calibration& c, const PrintStyle& style) {
  const DisplayUnits units(style.units);
  std::string text = heading("What the readings said of the inputs", style.styled) + '\n' + input_rows(c, style.units);
  for (const ConfoundedInputs& pair : c.confounded)
    text += sentence("Told apart badly: " + pair.first + " and " + pair.second + " (correlation " +
                     fixed(pair.correlation, 2) + "); what they do together is known better than each.");
  if (c.loads > 1)
    text += sentence("From load to load hoop tension differs by " + percent(c.load_scatter) + " (standard deviation, " +
                     std::to_string(c.loads) + " loads).");
  for (const CalibrationFlag& flag : c.flags) text += sentence("Caution: " + flag.text + ".");
  text += '\n' + heading("Readings beside the prediction", style.styled) + '\n' + reading_table(c, style.units);
  text += '\n' + heading("Prediction", style.styled) + '\n' + station_rows(c, units);
  text += '\n' + heading("What to read next", style.styled) + '\n' +
          sentence("Width that is left of the band of " + c.measure + " after one more reading:") +
          next_rows(c, style.units);
  return text + '\n' + sentence(std::string(short_caution));
}

namespace {

std::string loads_cell(double needed) { return needed > 999.0 ? "> 999" : fixed(std::ceil(needed), 0); }

std::string trial_table(const Trial& trial, UnitStyle style) {
  std::string text = pad_right("  reading", 44) + pad_left("present", 9) + pad_left("cand.", 9) + pad_left("", 5) +
                     pad_left("loads", 7) + pad_left("min", 5) + '\n';
  for (const TrialReading& r : trial.readings) {
    if (r.loads_needed > 999.0) continue;
    const DisplayUnit unit = unit_of(*r.place.quantity, style);
    text += pad_right(clipped((r.is_chosen ? "* " : "  ") + reading_words(r.place, style), 44), 44) +
            pad_left(number(r.present, unit), 9) + pad_left(number(r.candidate, unit), 9) + " " +
            pad_right(unit.name, 4) + pad_left(loads_cell(r.loads_needed), 7) +
            pad_left(fixed(r.place.quantity->minutes, 0), 5) + '\n';
  }
  return text;
}

std::string form(const Trial& trial, UnitStyle style) {
  std::string text = pad_right("  reading", 44);
  const std::size_t columns = std::min<std::size_t>(trial.options.loads, 3);
  for (std::size_t load = 1; load <= columns; ++load) text += pad_left("load " + std::to_string(load), 11);
  text += '\n';
  for (const TrialReading& r : trial.readings) {
    if (!r.is_chosen) continue;
    const DisplayUnit unit = unit_of(*r.place.quantity, style);
    text += pad_right(clipped("  " + reading_words(r.place, style) + ", " + unit.name, 44), 44);
    for (std::size_t load = 0; load < columns; ++load) text += "  _________";
    text += '\n';
  }
  return text + pad_right("  turns, counted", 44) + (columns > 0 ? "  _________" : "") + '\n';
}

}  // namespace

std::string trial_text(const Trial& trial, const PrintStyle& style) {
  std::string text = heading("Which readings tell the two sides apart", style.styled) + '\n';
  text += sentence("Loads of each side until the difference shows nine times in ten, read with one instrument, at " +
                   percent(trial.options.load_scatter) + " scatter from load to load; * stands on the form for " +
                   std::to_string(trial.options.loads) + " loads of each side, " + fixed(trial.minutes_per_load, 0) +
                   " minutes of reading a load.");
  text += trial_table(trial, style.units);
  const bool any = std::any_of(trial.readings.begin(), trial.readings.end(), [&](const TrialReading& r) {
    return r.loads_needed <= static_cast<double>(trial.options.loads);
  });
  if (!any) text += sentence("No single reading tells them apart with so many loads; the nearest is on the form.");
  text += '\n' + heading("Form, one for each side", style.styled) + '\n' + form(trial, style.units) + '\n';
  text += heading("How to read, and what can hurt", style.styled) + '\n';
  std::string told;
  for (const TrialReading& r : trial.readings) {
    const ReadingQuantity& q = *r.place.quantity;
    if (!r.is_chosen || told.find(q.label) != std::string::npos) continue;
    told += std::string(q.label) + ";";
    text += sentence(std::string(q.label) + ": " + std::string(q.measure.text) + " " + caution_text(q.measure.hazards));
  }
  return text + '\n' + sentence(std::string(short_caution));
}

}  // namespace hoopfield::words
