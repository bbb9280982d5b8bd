// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/lab_builder_detail.hpp"

#include <cmath>
#include <utility>

namespace hoopfield::detail {

CurveBuilder::CurveBuilder(const InputText& input, const LabSettings& settings, std::vector<LabColumn> columns,
                           int line, std::string_view names, const char* row_word, LabCurve& curve)
    : input_(input),
      settings_(settings),
      columns_(std::move(columns)),
      line_(line),
      row_word_(row_word),
      curve_(curve) {
  check_lab_columns(input, line, columns_, names);
  std::string ignored;
  for (const LabColumn& column : columns_)
    if (column.meaning == LabMeaning::none && column.text != "-" && !column.text.empty())
      ignored += (ignored.empty() ? "" : ", ") + column.text;
  if (!ignored.empty()) curve_.warnings.push_back("columns not used: " + ignored);
  use_settings(line);
}

void CurveBuilder::use_settings(int line) {
  settings_.describe();
  const auto need = [&](const char* key, const char* example, const char* why) {
    return settings_.need(key, example, why, line);
  };
  if (has(LabMeaning::displacement)) grip_ = need("grip distance", "50 mm", "displacement needs it to become stretch");
  if (has(LabMeaning::force))
    section_ = need("width", "25 mm", "force needs it to become stress") *
               need("thickness", "20 um", "force needs it to become stress");
  if (has(LabMeaning::time)) return;
  if (settings_.kind_given() && curve_.kind != FilmTestKind::tensile)
    fail_line(input_, line, "header", {"has no column time_s", "times; only a tensile curve may leave them out", {}});
  if (const auto rate = settings_.value("rate")) {
    rate_ = *rate;
  } else {
    rate_ = need("speed", "500 mm/min", "without times it gives the rate") /
            need("grip distance", "50 mm", "speed needs it to become a rate");
  }
}

/// The give of the machine goes with the force, so a stress needs the section.
RowFacts CurveBuilder::facts(int line) const {
  RowFacts facts;
  facts.timed = has(LabMeaning::time);
  facts.travel = has(LabMeaning::displacement);
  facts.compliance = settings_.value("machine compliance");
  facts.grip = settings_.value("grip distance");
  facts.row_word = row_word_;
  if (facts.compliance && !facts.travel)
    curve_.warnings.push_back("machine compliance not used: the table gives the stretch, not the travel of the grips");
  if (facts.travel && facts.compliance.value_or(0.0) > 0.0) {
    const char* why = "machine compliance goes with the force";
    facts.give = *facts.compliance / grip_ * settings_.need("width", "25 mm", why, line) *
                 settings_.need("thickness", "20 um", why, line);
  }
  return facts;
}

void CurveBuilder::add(const std::vector<std::optional<double>>& values, int line) {
  ++curve_.rows_read;
  LabRow row;
  row.line = line;
  for (std::size_t i = 0; i < columns_.size(); ++i) {
    if (columns_[i].meaning == LabMeaning::none) continue;
    if (!values[i]) return missing_.count(line);
    const double value = *values[i];
    switch (columns_[i].meaning) {
      case LabMeaning::stretch: row.stretch = 1.0 + value; break;
      case LabMeaning::displacement: row.stretch = 1.0 + value / grip_; break;
      case LabMeaning::force: row.stress = value / section_; break;
      case LabMeaning::stress: row.stress = value; break;
      case LabMeaning::time: row.time = value; break;
      case LabMeaning::none: break;
    }
  }
  if (!(row.stretch > 0.0))
    fail_line(input_, line, "row", {"leaves no length of film", "a stretch of -100 % or more", {}});
  if (!has(LabMeaning::time)) row.time = (row.stretch - 1.0) / rate_;
  if (!std::isfinite(row.stretch) || !std::isfinite(row.stress) || !std::isfinite(row.time))
    return missing_.count(line);
  rows_.push_back(row);
}

void CurveBuilder::finish() {
  const auto warn = [&](const Tally& tally, const std::string& what) {
    if (tally.rows > 0)
      curve_.warnings.push_back(std::to_string(tally.rows) + " " + what + ", the first in " + row_word_ + " " +
                                std::to_string(tally.first));
  };
  warn(missing_, "rows without a number were left out");
  warn(commas, "decimal commas were read as points");
  warn(units, "cells with their own unit were converted");
  warn(cut, "row cut short at the end of the file was left out");
  if (2 * missing_.rows > curve_.rows_read)
    fail_line(input_, missing_.first, "rows",
              {std::to_string(missing_.rows) + " of " + std::to_string(curve_.rows_read) + " rows lack a number",
               "a table with numbers in most rows",
               {}});
  repair_rows(input_, rows_, facts(line_), curve_);
}

}  // namespace hoopfield::detail
