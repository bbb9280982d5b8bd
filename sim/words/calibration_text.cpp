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
  std::string text = pad_right("  line  reading", 40) + pad_left("read", 9) + pad_left("before", 9) +
                     pad_left("after", 9) + "\n";
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
  std::string text = pad_right("  reading", 46) + pad_left("band left", 12) + pad_left("minutes", 10) + '\n';
  std::size_t shown = 0;
  for (const NextReading& reading : c.next) {
    if (shown == shown_next || reading.share > 0.97) break;
    text += pad_right(clipped("  " + reading_words(reading.place, style), 46), 46) +
            pad_left(whole_percent(reading.share), 12) +
            pad_left(fixed(reading.place.quantity->minutes, 0), 10) + '\n';
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

}  // namespace hoopfield::words
