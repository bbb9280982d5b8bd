// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// How the test behind a curve was made: `# key: value` lines of a file, or conditions handed over beside it.
#pragma once

#include "sim/film_lab/lab_curve.hpp"

#include <map>
#include <optional>
#include <string>
#include <string_view>

namespace hoopfield::detail {

class LabSettings {
 public:
  /// `line_form`: whether messages ask for a line above the table, or for a keyword.
  LabSettings(const InputText& input, LabCurve& curve, bool line_form)
      : input_(input), curve_(curve), line_form_(line_form) {}

  /// The text behind the # of a line.
  void read_remark(std::string_view text, int line);
  /// Sets a key that is not set yet; InputError for one that is no key of a curve. "grip_distance" is "grip distance".
  void read_condition(const LabCondition& condition);

  /// SI.
  [[nodiscard]] std::optional<double> value(const std::string& key) const;
  /// The same; InputError when it is not set. `why` says what needs it.
  [[nodiscard]] double need(const std::string& key, const char* example, const std::string& why, int line) const;
  [[nodiscard]] bool kind_given() const { return kind_given_; }
  /// Puts temperature, width exponent and area into the curve.
  void describe() const;

 private:
  [[noreturn]] void fail(const std::string& key, const Complaint& complaint, int line) const;
  void read_kind(const std::string& value, int line);
  void read_setting(const std::string& key, const std::string& value, int line);

  const InputText& input_;
  LabCurve& curve_;
  bool line_form_;
  bool kind_given_ = false;
  std::map<std::string, double> values_;
};

}  // namespace hoopfield::detail
