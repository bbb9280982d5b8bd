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

}  // namespace

LabColumn read_lab_column(const InputText& input, const CsvCell& cell) {
  LabColumn column;
  std::string text = cell.text;
  text.erase(std::remove_if(text.begin(), text.end(), [](char c) { return c == '"' || c == ']' || c == ')'; }),
             text.end());
  const std::size_t cut = text.find_first_of("_[(");
  column.text = cell.text;
  const std::string name = lower(trim(std::string_view(text).substr(0, cut)));
  if (name == "rate" && cut != std::string::npos)
    fail_input(input, cell.at, column.text, {"makes this a series of curves", "one curve in a file", {}});
  const Quantity* quantity = nullptr;
  for (const Quantity& q : quantities)
    if (name == q.name) quantity = &q;
  if (quantity == nullptr) {
    for (const Quantity& q : quantities)
      if (name.size() > 3 && edit_distance(name, q.name) <= 2)
        fail_input(input, cell.at, column.text,
                   {"is not a column of a curve file", curve_header_expected, std::string(q.name) + "_..."});
    return column;
  }
  column.meaning = quantity->meaning;
  column.si_unit = quantity->si_unit;
  const std::string unit(cut == std::string::npos ? std::string_view{} : trim(std::string_view(text).substr(cut + 1)));
  if (quantity->meaning == LabMeaning::stretch) {
    if (unit == "ratio") {
      column.offset = -1.0;
    } else if (unit == "percent" || unit == "%") {
      column.factor = 0.01;
    } else {
      fail_input(input, cell.at, column.text,
                 {"does not give the unit of stretch", "stretch_percent (strain) or stretch_ratio", {}});
    }
    return column;
  }
  UnitProblem problem;
  const auto found = find_unit(unit, &problem);
  const auto wanted = find_unit(quantity->si_unit);
  if (unit.empty() || !found || !(found->dimension == wanted->dimension) || found->offset != 0.0)
    fail_input(input, cell.at, column.text,
               {unit.empty() ? "names no unit" : in_quotes(unit) + " is no unit of " + quantity->name,
                std::string(quantity->name) + "_ and one of " + accepted_units(quantity->si_unit),
                {}});
  column.factor = found->factor;
  return column;
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
