// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/text/calibration_json.hpp"

#include "models/caution.hpp"
#include "models/units.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/faces.hpp"
#include "sim/io/text/detail/json_parts.hpp"
#include "sim/outputs/outputs.hpp"

#include <algorithm>
#include <cmath>

namespace hoopfield {
namespace {

using detail::Json;

Json finite(double value) { return std::isfinite(value) ? Json(value) : Json(nullptr); }

Json banded_json(const Banded& b) {
  return {{"p05", finite(b.low)}, {"value", finite(b.value)}, {"p95", finite(b.high)}};
}

Json unknown_json(const CalibratedInput& input) {
  Json json = {{"key", input.key},
               {"before", banded_json(input.before)},
               {"after", banded_json(input.after)},
               {"width_share", finite(input.share)},
               {"pull", finite(input.pull)},
               {"verdict", settled_word(input.settled)}};
  if (input.is_share) json["unit"] = "share of the tent factor's formula";
  json["would_determine"] = input.would_determine.empty() ? Json(nullptr) : Json(input.would_determine);
  return json;
}

void put_place(Json& json, const ReadingPlace& place) {
  json["quantity"] = place.quantity->name;
  json["height_m"] = place.height;
  json["face"] = place.face ? Json(face_names[*place.face]) : Json(nullptr);
  json["time_s"] = place.time;
}

Json reading_json(const CalibratedReading& r) {
  Json json = {{"file", r.reading.file}, {"line", r.reading.line}, {"load_id", r.reading.load_id}};
  put_place(json, r.place);
  json["unit"] = r.place.quantity->unit.empty() ? "1" : r.place.quantity->unit;
  json["value"] = r.reading.value;
  json["before"] = banded_json(r.before);
  json["after"] = banded_json(r.after);
  json["residual"] = finite(r.residual);
  json["weight"] = finite(r.weight);
  json["flag"] = r.is_off ? Json("reading-off") : Json(nullptr);
  return json;
}

Json next_list(const std::vector<NextReading>& next) {
  Json list = Json::array();
  for (const NextReading& reading : next) {
    Json json;
    put_place(json, reading.place);
    json["band_share"] = finite(reading.share);
    json["minutes"] = reading.place.quantity->minutes;
    json["how_to_measure"] = reading.place.quantity->measure.text;
    json["caution"] = caution_text(reading.place.quantity->measure.hazards);
    list.push_back(std::move(json));
  }
  return list;
}

/// Summary numbers of a prediction with their bands, SI.
Json prediction_json(const Result& result) {
  Json json;
  const std::vector<double> numbers = summary_numbers(result);
  for (const SummaryOutput& output : summary_outputs()) {
    if (output.per_face || !output.name.starts_with("containment.")) continue;
    Banded b{std::nan(""), numbers[output.place], std::nan("")};
    if (result.band)
      if (const auto band = result.band->band(output.name)) b.low = band->low, b.high = band->high;
    json[output.name] = banded_json(b);
  }
  return json;
}

std::string cell(double value, std::string_view unit) { return format_quantity(value, unit, 4); }

}  // namespace

std::string calibration_json(const Calibration& c) {
  Json json = {{"hoopfield", build_version()}, {"caution", short_caution}};
  Json& out = json["calibration"];
  for (const char* list : {"unknowns", "confounded", "readings", "flags"}) out[list] = Json::array();
  for (const CalibratedInput& input : c.inputs) out["unknowns"].push_back(unknown_json(input));
  for (const ConfoundedInputs& pair : c.confounded)
    out["confounded"].push_back({{"keys", {pair.first, pair.second}}, {"correlation", pair.correlation}});
  for (const CalibratedReading& reading : c.readings) out["readings"].push_back(reading_json(reading));
  for (const CalibrationFlag& flag : c.flags) out["flags"].push_back({{"code", flag.code}, {"text", flag.text}});
  out["load_scatter"] = c.load_scatter;
  out["loads"] = c.loads;
  out["measure"] = c.measure;
  out["next"] = next_list(c.next);
  json["before"] = prediction_json(c.before);
  json["after"] = prediction_json(c.after);
  return detail::json_text(json);
}

std::string next_json(const std::vector<NextReading>& next) {
  return detail::json_text(Json{{"next", next_list(next)}});
}

std::string trial_json(const Trial& trial) {
  Json json;
  Json& out = json["trial"] = {{"loads", trial.options.loads}, {"minutes_per_load", trial.minutes_per_load}};
  out["readings"] = Json::array();
  for (const TrialReading& reading : trial.readings) {
    Json item;
    put_place(item, reading.place);
    item["unit"] = reading.place.quantity->unit.empty() ? "1" : reading.place.quantity->unit;
    item["present"] = finite(reading.present);
    item["candidate"] = finite(reading.candidate);
    item["loads_needed"] = finite(reading.loads_needed);
    item["power"] = finite(reading.power);
    item["minutes"] = reading.place.quantity->minutes;
    item["chosen"] = reading.is_chosen;
    item["how_to_measure"] = reading.place.quantity->measure.text;
    item["caution"] = caution_text(reading.place.quantity->measure.hazards);
    out["readings"].push_back(std::move(item));
  }
  return detail::json_text(json);
}

std::string readings_form(const std::vector<ReadingPlace>& places, std::size_t loads) {
  std::string text = "# Fill in the column value; delete lines that were not read. Errors: half of the central 90 %.\n";
  for (const ReadingPlace& place : places) {
    const std::string caution = caution_text(place.quantity->measure.hazards);
    const std::string line = "# " + std::string(place.quantity->name) + ": " +
                             std::string(place.quantity->measure.text) + (caution.empty() ? "" : " " + caution) + "\n";
    if (text.find(line) == std::string::npos) text += line;
  }
  text += "quantity,height,face,value,unit,load_id,error,time,instrument,note\n";
  for (std::size_t load = 1; load <= loads; ++load)
    for (const ReadingPlace& place : places) {
      const ReadingQuantity& q = *place.quantity;
      const bool has_height = q.needs_height || q.name == "girth_after";
      text += std::string(q.name) + "," + (has_height ? cell(place.height, "m") : "") + ",,," +
              std::string(q.metric.empty() ? q.unit : q.metric) + ",load " + std::to_string(load) + ",," +
              (place.time == usual_reading_time ? "5 min" : cell(place.time, "h")) + ",,\n";
    }
  return text;
}

}  // namespace hoopfield
