// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/print_sweep.hpp"

#include "bindings/cli/words.hpp"
#include "models/caution.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/hdf5/sweep_table.hpp"
#include "sim/words/sweep_text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <map>
#include <vector>

namespace hoopfield::cli {
namespace {

/// Messages of failed cases, most frequent first: message, number of cases, first case.
struct Failure {
  std::string message;
  std::size_t count = 0, first = 0;
};

std::vector<Failure> failures(const FinishedSweep& finished) {
  const SweepResult& result = finished.result;
  std::map<std::string, Failure> by_message;
  for (std::size_t i = 0; i < result.status.size(); ++i) {
    if (result.status[i] != CaseStatus::failed) continue;
    Failure& failure =
        by_message.try_emplace(result.message[i], Failure{result.message[i], 0, finished.first_case + i}).first->second;
    ++failure.count;
  }
  std::vector<Failure> list;
  for (auto& [message, failure] : by_message) list.push_back(std::move(failure));
  std::stable_sort(list.begin(), list.end(), [](const Failure& a, const Failure& b) {
    return a.count != b.count ? a.count > b.count : a.first < b.first;
  });
  return list;
}

/// Targets as the file states them.
SweepTarget target_of(const SweepFileHead& file) {
  SweepTarget target;
  for (const InputRow& row : file.head.inputs.rows) {
    if (row.key == "target.quantity") target.quantity = row.text;
    if (row.key == "target.at") target.at = row.text;
    for (std::size_t s = 0; s < station_names.size(); ++s)
      if (row.key == std::string("target.") + station_names[s] && std::isfinite(row.number))
        target.least[s] = row.number;
  }
  return target;
}

/// Best, worst and map, from the file: no case is kept in memory but for one number.
std::string table_of(const std::string& path) {
  SweepFileHead file = read_sweep_head(path);
  const SweepTarget target = target_of(file);
  std::vector<const SummaryOutput*>& outputs = file.layout.selected.scalars;
  outputs = table_outputs(outputs, target);
  if (outputs.empty()) return {};
  SweepNumbers numbers(file.head.axes, file.head.first_case, outputs, target);
  visit_cases(path, file, [&](const CaseRecord& record) {
    if (record.status == CaseStatus::done) numbers.take(record.index, record.scalars);
  });
  return sweep_text(numbers);
}

void print_page(const SweepCommandOptions& options, const FinishedSweep& finished) {
  const SweepResult& result = finished.result;
  constexpr std::size_t shown = 3;
  std::cout << options.output << ": " << cases_text(result.status.size()) << ", " << result.finished - result.failed
            << " done, " << result.failed << " failed";
  if (result.resumed > 0) std::cout << ", " << result.resumed << " from an earlier run";
  if (finished.rate > 0.0) std::cout << " (" << rate_text(finished.rate) << ")";
  std::cout << '\n';
  const std::vector<Failure> list = failures(finished);
  for (std::size_t i = 0; i < std::min(list.size(), shown); ++i)
    std::cout << wrap(
        cases_text(list[i].count) + ", first case " + std::to_string(list[i].first) + ": " + list[i].message, "  ",
        "    ");
  if (list.size() > shown) std::cout << "  further messages are in the variable `message`\n";
  const std::string table = table_of(options.output);
  if (!table.empty()) std::cout << '\n' << table << '\n';
  if (!options.csv.empty()) std::cout << wrap("every case in " + options.csv, "", "  ");
  std::cout << wrap(std::string(short_caution), "", "");
}

void print_json(const SweepCommandOptions& options, const FinishedSweep& finished) {
  const SweepResult& result = finished.result;
  nlohmann::ordered_json json = {
      {"file", options.output},  {"cases", result.status.size()}, {"done", result.finished - result.failed},
      {"failed", result.failed}, {"resumed", result.resumed},     {"caution", short_caution}};
  json["failures"] = nlohmann::ordered_json::array();
  for (const Failure& f : failures(finished))
    json["failures"].push_back({{"message", f.message}, {"cases", f.count}, {"first_case", f.first}});
  std::cout << json.dump(2, ' ', false, nlohmann::ordered_json::error_handler_t::replace) << '\n';
}

}  // namespace

std::string rate_text(double rate) { return fixed(rate, rate < 10.0 ? 2 : 0) + " cases/s"; }

std::string cases_text(std::size_t count) { return std::to_string(count) + (count == 1 ? " case" : " cases"); }

void print_sweep(const SweepCommandOptions& options, const FinishedSweep& finished) {
  if (options.json)
    print_json(options, finished);
  else
    print_page(options, finished);
}

}  // namespace hoopfield::cli
