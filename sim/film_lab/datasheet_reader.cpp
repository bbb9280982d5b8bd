// SPDX-License-Identifier: BSD-3-Clause
#include "sim/film_lab/datasheet.hpp"

#include "models/parameter.hpp"
#include "models/units.hpp"
#include "sim/base/raw_node.hpp"

#include <algorithm>
#include <array>

namespace hoopfield {

namespace {

constexpr std::array<int, 8> strains = {25, 50, 100, 150, 200, 250, 300, 400};

class SheetReader {
 public:
  explicit SheetReader(const InputText& input)
      : input_(input), root_(parse_toml_file(input, {"a data sheet", "name, thickness, ..."})) {}

  FilmSheet read() {
    check_keys();
    FilmSheet sheet;
    sheet.base = assumed_film();
    sheet.base.name = text("name").value_or("film from a data sheet");
    const auto source = text("source");
    if (!source || source->empty())
      fail_input(input_, {}, "source", {"is missing", "where the numbers come from, as a text", {}});
    sheet.base.provenance.source = *source;
    if (const RawNode* node = root_.find("illustrative")) {
      if (node->kind != RawNode::Kind::flag) fail(*node, "illustrative", {"is not true or false", "true or false", {}});
      sheet.base.provenance.illustrative = node->flag;
    }
    set_known(sheet.base, "density", sheet.base.density, quantity("density", "kg/m^3", 0.0, 1e5));
    set_known(sheet.base, "neck_in", sheet.base.neck_in, quantity("neck_in", "", -1e-9, 0.5));
    sheet.base.reference_temperature = quantity("temperature", "K", 0.0, 450.0).value_or(296.15);
    if (const auto rate = quantity("rate", "1/s", 0.0, 1e3)) {
      sheet.rate = *rate;
      sheet.rate_assumed = false;
    }
    sheet.error = quantity("error", "", 0.0, 1.0).value_or(sheet.error);
    sheet.modulus = quantity("modulus", "Pa", 0.0, 1e10);
    sheet.break_stretch = quantity("break_stretch", "", 0.0, 20.0);
    read_stresses(sheet);
    read_break(sheet);
    read_hold(sheet);
    read_price(sheet);
    if (!sheet.modulus || sheet.stress_at.empty())
      fail_input(input_, {}, !sheet.modulus ? "modulus" : "stress_at_100",
                 {"is missing", "a modulus and at least one force or stress at a strain", {}});
    return sheet;
  }

 private:
  /// A number the sheet gives is no longer assumed.
  static void set_known(FilmDescription& film, const char* key, double& number, const std::optional<double>& given) {
    if (!given) return;
    number = *given;
    film.assumed.erase(key);
  }

  [[noreturn]] void fail(const RawNode& node, const std::string& key, const Complaint& complaint) const {
    fail_input(input_, node.value_at, key, complaint);
  }

  void check_keys() const {
    std::vector<std::string> known = {
        "name",    "source",      "illustrative", "thickness",      "width",     "rate",        "temperature",
        "density", "neck_in",     "modulus",      "break_stretch",  "kept",      "kept_time",   "kept_stretch",
        "error",   "break_force", "break_stress", "price_per_roll", "roll_mass", "roll_length", "roll_width"};
    for (const int strain : strains)
      for (const char* what : {"force_at_", "stress_at_"}) known.push_back(what + std::to_string(strain));
    const std::vector<std::string_view> views(known.begin(), known.end());
    for (const RawNode& node : root_.children)
      if (std::find(known.begin(), known.end(), node.key) == known.end())
        fail_input(input_, node.key_at, node.key,
                   {"is not a key of a data sheet", "modulus, force_at_100, break_stretch and the like",
                    nearest_key(node.key, views)});
  }

  std::optional<std::string> text(const char* key) const {
    const RawNode* node = root_.find(key);
    if (node == nullptr) return std::nullopt;
    if (node->kind != RawNode::Kind::text) fail(*node, key, {"is " + kind_word(*node), "a text in quotes", {}});
    return node->text;
  }

  /// A quantity more than `low` and at most `high`, SI.
  std::optional<double> quantity(const std::string& key, const char* unit, double low, double high) const {
    const RawNode* node = root_.find(key);
    if (node == nullptr) return std::nullopt;
    UnitProblem problem;
    std::optional<double> value;
    const bool number = node->kind == RawNode::Kind::number || node->kind == RawNode::Kind::integer;
    if (number && key == "neck_in") value = node->number;
    if (node->kind == RawNode::Kind::text) value = read_quantity(node->text, unit, problem);
    if (!value && node->kind == RawNode::Kind::text) fail(*node, key, {problem.what, problem.expected, problem.hint});
    const std::string units = *unit == '\0' ? "%" : accepted_units(unit);
    if (!value) fail(*node, key, {"has no unit", "a text with a number and one of " + units, {}});
    if (!(*value > low && *value <= high))
      fail_range(input_, node->value_at, key,
                 {"\"" + node->text + "\" is out of bounds",
                  "more than " + format_number(std::max(low, 0.0)) + " and at most " + format_number(high) +
                      (*unit == '\0' ? "" : std::string(" ") + unit),
                  {}});
    return value;
  }

  /// A force over the section of the specimen, or a stress.
  std::optional<double> stress(const std::string& force_key, const std::string& stress_key) const {
    const auto force = quantity(force_key, "N", 0.0, 1e6);
    const auto given = quantity(stress_key, "Pa", 0.0, 1e10);
    if (force && given)
      fail(*root_.find(stress_key), stress_key, {"is combined with " + force_key, "one of the two", {}});
    if (!force) return given;
    const auto width = quantity("width", "m", 0.0, 10.0), thickness = quantity("thickness", "m", 0.0, 0.01);
    if (!width || !thickness)
      fail(*root_.find(force_key), force_key, {"needs the section of the specimen", "width and thickness", {}});
    return *force / (*width * *thickness);
  }

  void read_stresses(FilmSheet& sheet) const {
    for (const int strain : strains) {
      const std::string at = "_at_" + std::to_string(strain);
      if (const auto given = stress("force" + at, "stress" + at)) sheet.stress_at.emplace_back(0.01 * strain, *given);
    }
  }

  void read_break(FilmSheet& sheet) const {
    const auto given = stress("break_force", "break_stress");
    const char* key = root_.find("break_force") != nullptr ? "break_force" : "break_stress";
    if (given && !sheet.break_stretch)
      fail(*root_.find(key), key, {"does not say at which strain", "break_stretch beside it", {}});
    if (!sheet.break_stretch) return;
    const double last = sheet.stress_at.empty() ? 0.0 : sheet.stress_at.back().first;
    if (*sheet.break_stretch < last)
      fail(*root_.find("break_stretch"), "break_stretch",
           {"lies below a strain at which a force is given", "the strain at break", {}});
    if (!given) return;
    if (*sheet.break_stretch <= last)
      fail(*root_.find(key), key, {"is given beside a force at the same strain", "one of the two", {}});
    if (!sheet.stress_at.empty()) sheet.stress_at.emplace_back(*sheet.break_stretch, *given);
  }

  void read_price(FilmSheet& sheet) const {
    const RawNode* node = root_.find("price_per_roll");
    const auto mass = quantity("roll_mass", "kg", 0.0, 1e5);
    const auto length = quantity("roll_length", "m", 0.0, 1e6), width = quantity("roll_width", "m", 0.0, 10.0);
    for (const char* key : {"roll_mass", "roll_length", "roll_width"})
      if (const RawNode* part = root_.find(key); part != nullptr && node == nullptr)
        fail(*part, key, {"is given without price_per_roll", "the price of the roll as well", {}});
    if (node == nullptr) return;
    if ((node->kind != RawNode::Kind::number && node->kind != RawNode::Kind::integer) || !(node->number > 0.0))
      fail(*node, "price_per_roll", {"is no price", "a bare number of money, more than 0", {}});
    const auto thickness = quantity("thickness", "m", 0.0, 0.01);
    if (mass && (length || width))
      fail(*root_.find("roll_mass"), "roll_mass", {"is combined with the size of the roll", "one of the two", {}});
    if (!mass && !(length && width && thickness))
      fail(*node, "price_per_roll",
           {"needs the film on the roll", "roll_mass, or roll_length, roll_width and thickness", {}});
    sheet.price = node->number / (mass ? *mass : *length * *width * *thickness * sheet.base.density);
  }

  void read_hold(FilmSheet& sheet) const {
    const auto kept = quantity("kept", "", 0.0, 1.0);
    for (const char* key : {"kept_time", "kept_stretch"})
      if (const RawNode* node = root_.find(key); node != nullptr && !kept)
        fail(*node, key, {"is given without kept", "kept as well, the share of force left after the hold", {}});
    if (!kept) return;
    const auto time = quantity("kept_time", "s", 0.0, 1e9), stretch = quantity("kept_stretch", "", 0.0, 20.0);
    if (!time || !stretch)
      fail(*root_.find("kept"), "kept", {"does not say when and where", "kept_time and kept_stretch beside it", {}});
    if (sheet.break_stretch && *stretch > *sheet.break_stretch)
      fail(*root_.find("kept_stretch"), "kept_stretch", {"lies above break_stretch", "a strain the film reaches", {}});
    sheet.hold = FilmSheet::Hold{*stretch, *time, *kept};
  }

  const InputText& input_;
  RawNode root_;
};

}  // namespace

FilmSheet read_film_sheet(const std::string& path) { return read_film_sheet_text(read_input_text(path)); }

FilmSheet read_film_sheet_text(const InputText& input) { return SheetReader(input).read(); }

}  // namespace hoopfield
