// SPDX-License-Identifier: BSD-3-Clause
#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/film_lab/lab_columns_detail.hpp"
#include "sim/film_lab/lab_rows_detail.hpp"

#include <algorithm>
#include <array>

namespace hoopfield::detail {

namespace {

struct Quantity {
  const char* name;
  LabMeaning meaning;
  const char* si_unit;
};
constexpr std::array<Quantity, 5> quantities = {{{"stretch", LabMeaning::stretch, ""},
                                                 {"displacement", LabMeaning::displacement, "m"},
                                                 {"force", LabMeaning::force, "N"},
                                                 {"stress", LabMeaning::stress, "Pa"},
                                                 {"time", LabMeaning::time, "s"}}};

const Quantity& quantity_of(LabMeaning meaning) {
  return *std::find_if(quantities.begin(), quantities.end(), [&](const Quantity& q) { return q.meaning == meaning; });
}

/// Refuses a name that is one of ours but for a slip of the keyboard.
void refuse_near_miss(const InputText& input, const CsvCell& cell, const std::string& name) {
  const std::size_t slips = name.size() >= 6 ? 2 : 1;
  for (const Quantity& q : quantities)
    if (name.size() > 3 && edit_distance(name, q.name) <= slips)
      fail_input(input, cell.at, cell.text,
                 {"is not a column of a curve file", curve_header_expected, std::string(q.name) + "_..."});
}

/// Whether the unit of a name is one of a quantity; if so the column becomes that quantity.
bool set_unit(LabColumn& column, LabMeaning meaning, const LabName& name) {
  const Quantity& quantity = quantity_of(meaning);
  if (meaning == LabMeaning::stretch) {
    if (name.unit == "ratio") {
      column.offset = -1.0;
    } else if (name.unit == "%") {
      column.factor = 0.01;
    } else if (name.unit != "1" || name.name == "stretch") {  // a stretch of 1 may be a ratio or a strain
      return false;
    }
  } else {
    const auto found = find_unit(name.unit);
    const auto wanted = find_unit(quantity.si_unit);
    if (name.unit.empty() || !found || !(found->dimension == wanted->dimension) || found->offset != 0.0) return false;
    column.factor = found->factor;
  }
  column.meaning = meaning;
  column.si_unit = quantity.si_unit;
  return true;
}

}  // namespace

LabColumn read_lab_column(const InputText& input, const CsvCell& cell, const CsvCell* unit_cell) {
  LabColumn column;
  column.text = cell.text;
  LabName name = take_apart(cell.text);
  if (name.name == "rate" && !name.unit.empty())
    fail_input(input, cell.at, column.text, {"makes this a series of curves", "one curve in a file", {}});
  if (name.meanings.empty()) {
    refuse_near_miss(input, cell, name.name);
    return column;
  }
  Position at = cell.at;
  if (unit_cell != nullptr && !unit_cell->text.empty()) {
    const std::string below = lab_unit(unit_cell->text);
    if (!name.unit.empty() && below != name.unit)
      fail_input(
          input, unit_cell->at, column.text,
          {"has two units, " + in_quotes(name.unit) + " and below it " + in_quotes(below), "one of the two", {}});
    name.unit = below;
    at = unit_cell->at;
  }
  for (const LabMeaning meaning : name.meanings)
    if (set_unit(column, meaning, name)) return column;
  if (name.meanings.size() == 1 && name.meanings[0] == LabMeaning::stretch)
    fail_input(input, at, column.text,
               {"does not give the unit of stretch", "stretch_percent (strain) or stretch_ratio", {}});
  const bool elsewhere = at.line != cell.at.line || cell.text.find_first_of("([") != std::string::npos;
  std::string kinds, units;
  for (const LabMeaning meaning : name.meanings) {
    const Quantity& q = quantity_of(meaning);
    kinds += (kinds.empty() ? "" : " or ") + std::string(q.name);
    units += (units.empty() ? "" : ", or ") + (elsewhere ? "one of " : std::string(q.name) + "_ and one of ") +
             (meaning == LabMeaning::stretch ? "percent or ratio" : accepted_units(q.si_unit));
  }
  fail_input(input, at, column.text,
             {name.unit.empty() ? "names no unit" : in_quotes(name.unit) + " is no unit of " + kinds, units, {}});
}

bool has_column(const std::vector<LabColumn>& columns, LabMeaning meaning) {
  return std::any_of(columns.begin(), columns.end(), [&](const LabColumn& c) { return c.meaning == meaning; });
}

void check_lab_columns(const InputText& input, int line, const std::vector<LabColumn>& columns,
                       std::string_view header) {
  const auto has = [&](LabMeaning meaning) { return has_column(columns, meaning); };
  for (const Quantity& q : quantities)
    if (std::count_if(columns.begin(), columns.end(), [&](const LabColumn& c) { return c.meaning == q.meaning; }) > 1)
      fail_line(input, line, q.name, {"is given in two columns", "one column of each kind", {}});
  const bool length = has(LabMeaning::stretch) || has(LabMeaning::displacement);
  const bool pull = has(LabMeaning::force) || has(LabMeaning::stress);
  if (!length && !pull)
    fail_line(input, line, "header",
              {in_quotes(header.substr(0, 60)) + " names no column of a curve", curve_header_expected, {}});
  if (!length)
    fail_line(input, line, "header", {"has no column for the stretch", "stretch_percent or displacement_mm", {}});
  if (!pull) fail_line(input, line, "header", {"has no column for the force", "force_N or stress_MPa", {}});
  if (has(LabMeaning::stretch) && has(LabMeaning::displacement))
    fail_line(input, line, "header", {"has both stretch and displacement", "one of the two", {}});
  if (has(LabMeaning::force) && has(LabMeaning::stress))
    fail_line(input, line, "header", {"has both force and stress", "one of the two", {}});
}

}  // namespace hoopfield::detail
