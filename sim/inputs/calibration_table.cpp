// SPDX-License-Identifier: BSD-3-Clause
#include "sim/inputs/calibration_table.hpp"

#include "models/text.hpp"
#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/base/toml_text.hpp"
#include "sim/inputs/correlation.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/inputs/unknowns.hpp"

#include <array>
#include <cmath>
#include <string_view>

namespace hoopfield {
namespace {

constexpr std::array<std::string_view, 6> known_keys = {"keys",        "film_mean",    "film_deviation",
                                                        "correlation", "load_scatter", "readings"};

class CalibrationReader {
 public:
  CalibrationReader(const InputText& input, const RawNode& table) : input_(input), table_(table) {}

  CalibrationInput read() const {
    if (table_.kind != RawNode::Kind::table)
      fail_input(input_, table_.value_at, "calibration", {"is " + kind_word(table_), "a table [calibration]", {}});
    for (const RawNode& child : table_.children)
      if (std::find(known_keys.begin(), known_keys.end(), child.key) == known_keys.end())
        fail_input(input_, child.key_at, shown(child.key),
                   {"unknown key", "a table as hoopfield calibrate writes it", nearest_key(child.key, known_keys)});
    CalibrationInput out;
    out.keys = texts("keys");
    out.film_mean = numbers("film_mean", -10.0, 10.0);
    out.film_deviation = numbers("film_deviation", 0.0, 10.0);
    out.readings = texts("readings");
    if (const auto scatter = numbers("load_scatter", 0.0, 1.0); !scatter.empty()) out.load_scatter = scatter.front();
    if (out.film_mean.size() != out.film_deviation.size())
      fail(*table_.find("film_mean"), "has another length than film_deviation", "one number of each per film number");
    read_correlation(out);
    return out;
  }

 private:
  static std::string shown(const std::string& key) { return "calibration." + key; }

  [[noreturn]] void fail(const RawNode& node, const std::string& what, const std::string& expected) const {
    fail_input(input_, node.value_at, node.key.empty() ? "calibration" : shown(node.key), {what, expected, {}});
  }

  [[nodiscard]] std::vector<std::string> texts(const char* key) const {
    std::vector<std::string> out;
    const RawNode* list = table_.find(key);
    if (list == nullptr) return out;
    if (list->kind != RawNode::Kind::array) fail(*list, "is " + kind_word(*list), "a list of texts");
    for (const RawNode& item : list->children) {
      if (item.kind != RawNode::Kind::text) fail(*list, "holds " + kind_word(item), "a list of texts");
      out.push_back(item.text);
    }
    return out;
  }

  [[nodiscard]] double number(const RawNode& list, const RawNode& item, double least, double most) const {
    const bool is_number = item.kind == RawNode::Kind::number || item.kind == RawNode::Kind::integer;
    if (!is_number || !(item.number >= least && item.number <= most))
      fail(list, "holds " + (is_number ? item.text : kind_word(item)),
           "numbers from " + short_number(least) + " to " + short_number(most));
    return item.number;
  }

  /// A list, or one number.
  [[nodiscard]] std::vector<double> numbers(const char* key, double least, double most) const {
    const RawNode* list = table_.find(key);
    if (list == nullptr) return {};
    if (list->kind != RawNode::Kind::array) return {number(*list, *list, least, most)};
    std::vector<double> out;
    for (const RawNode& item : list->children) out.push_back(number(*list, item, least, most));
    return out;
  }

  void read_correlation(CalibrationInput& out) const {
    const std::size_t n = out.keys.size() + out.film_mean.size();
    const RawNode* rows = table_.find("correlation");
    if (rows == nullptr) {
      for (std::size_t i = 0; i < n * n; ++i) out.correlation.push_back(i % (n + 1) == 0 ? 1.0 : 0.0);
      return;
    }
    out.correlation = hoopfield::read_correlation(*rows, n, [this](const RawNode& at, const char* expected) {
      fail_input(input_, at.value_at, shown("correlation"), {"does not go with calibration.keys", expected, {}});
    });
  }

  const InputText& input_;
  const RawNode& table_;
};

template <typename List, typename Written>
std::string toml_list(const List& list, Written&& written) {
  std::string text;
  for (const auto& item : list) text += (text.empty() ? "" : ", ") + written(item);
  return "[" + text + "]";
}

std::string four_digits(double value) { return format_number(std::round(value * 1e4) / 1e4); }

}  // namespace

CalibrationInput read_calibration(const InputText& input, const RawNode& table) {
  return CalibrationReader(input, table).read();
}

std::string calibration_text(const CalibrationInput& c) {
  std::string text = "keys = " + toml_list(c.keys, [](const std::string& key) { return toml_text(key); });
  if (!c.film_mean.empty())
    text += "\nfilm_mean = " + toml_list(c.film_mean, four_digits) +
            "\nfilm_deviation = " + toml_list(c.film_deviation, four_digits);
  const std::size_t n = c.keys.size() + c.film_mean.size();
  if (n > 1) text += "\ncorrelation = " + correlation_text(c.correlation, n);
  text += "\nload_scatter = " + four_digits(c.load_scatter);
  text += "\nreadings = " + toml_list(c.readings, [](const std::string& file) { return toml_text(file); });
  return text;
}

void check_calibration(const Scenario& s) {
  if (!s.calibration) return;
  for (const std::string& key : s.calibration->keys)
    if (find_parameter(ParameterRoom::scenario, key) == nullptr)
      detail::fail_at(s, "calibration", {in_quotes(key) + " is not a key of a scenario", "keys that were fitted", {}});
  const std::size_t numbers = s.calibration->film_mean.size();
  if (numbers > 0 && numbers != FilmSpread(s.film_description).size())
    detail::fail_at(s, "calibration",
                    {"speaks of " + std::to_string(numbers) + " numbers of the film file, which has " +
                         std::to_string(FilmSpread(s.film_description).size()) + " that are uncertain",
                     "the film file the calibration was made with",
                     {}});
}

}  // namespace hoopfield
