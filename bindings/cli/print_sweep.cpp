// SPDX-License-Identifier: BSD-3-Clause
#include "bindings/cli/print_sweep.hpp"

#include "bindings/cli/words.hpp"
#include "models/caution.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/hdf5/sweep_table.hpp"
#include "sim/transit/transit_target.hpp"
#include "sim/words/sweep_text.hpp"

#include <nlohmann/json.hpp>

#include <algorithm>
#include <cmath>
#include <iostream>
#include <map>
#include <utility>
#include <vector>

namespace hoopfield::cli {
namespace {

/// Messages of failed cases, most frequent first: message, number of cases, first case.
struct Failure {
  std::string message;
  std::size_t count = 0, first = 0;
};

/// Counts equal messages. Where every case has a message of its own, memory must not grow with the cases: then only the
/// first thousand are told apart.
class Failures {
 public:
  void add(const std::string& message, std::size_t number) {
    constexpr std::size_t most = 1000;
    const auto found = by_message_.find(message);
    if (found != by_message_.end())
      ++found->second.count;
    else if (by_message_.size() < most)
      by_message_.emplace(message, Failure{message, 1, number});
  }
  [[nodiscard]] std::vector<Failure> list() const {
    std::vector<Failure> list;
    for (const auto& [message, failure] : by_message_) list.push_back(failure);
    std::stable_sort(list.begin(), list.end(), [](const Failure& a, const Failure& b) {
      return a.count != b.count ? a.count > b.count : a.first < b.first;
    });
    return list;
  }

 private:
  std::map<std::string, Failure> by_message_;
};

/// Targets as the file states them.
SweepTarget target_of(const SweepFileHead& file) {
  SweepTarget target;
  for (const InputRow& row : file.head.inputs.rows) {
    if (row.key == "target.quantity" && row.text != transit_target_quantity) target.quantity = row.text;
    if (row.key == "target.at") target.at = row.text;
    for (std::size_t s = 0; s < station_names.size(); ++s)
      if (row.key == std::string("target.") + station_names[s] && std::isfinite(row.number))
        target.least[s] = row.number;
  }
  return target;
}

/// What the page says of the cases.
struct CasesRead {
  Failures failures;
  std::string table;  ///< best, worst and map
};

/// From the file: of a case no more than one number and its film stay in memory.
CasesRead read_cases(const std::string& path) {
  SweepFileHead file = read_sweep_head(path);
  const SweepTarget target = target_of(file);
  std::vector<const SummaryOutput*>& outputs = file.layout.selected.scalars;
  outputs = table_outputs(outputs, target);
  const std::size_t cases = file.head.case_count();
  SweepNumbers numbers(std::move(file.head.axes), file.head.first_case, outputs, target);
  CasesRead read;
  visit_cases(path, cases, file.layout, [&](const CaseRecord& record) {
    if (record.status == CaseStatus::done)
      numbers.take(record.index, record.scalars);
    else
      read.failures.add(record.message, file.head.first_case + record.index);
  });
  read.table = sweep_text(numbers);
  return read;
}

void print_page(const SweepCommandOptions& options, const FinishedSweep& finished) {
  const SweepResult& result = finished.result;
  constexpr std::size_t shown = 3;
  std::cout << options.output << ": " << cases_text(result.status.size()) << ", " << result.finished - result.failed
            << " done, " << result.failed << " failed";
  if (result.resumed > 0) std::cout << ", " << result.resumed << " from an earlier run";
  if (finished.rate > 0.0) std::cout << " (" << rate_text(finished.rate) << ")";
  std::cout << '\n';
  const CasesRead read = read_cases(options.output);
  const std::vector<Failure> list = read.failures.list();
  for (std::size_t i = 0; i < std::min(list.size(), shown); ++i)
    std::cout << wrap(
        cases_text(list[i].count) + ", first case " + std::to_string(list[i].first) + ": " + list[i].message, "  ",
        "    ");
  if (list.size() > shown) std::cout << "  further messages are in the variable `message`\n";
  if (!read.table.empty()) std::cout << '\n' << read.table << '\n';
  if (!options.csv.empty()) std::cout << wrap("every case in " + options.csv, "", "  ");
  std::cout << wrap(std::string(short_caution), "", "");
}

void print_json(const SweepCommandOptions& options, const FinishedSweep& finished) {
  const SweepResult& result = finished.result;
  nlohmann::ordered_json json = {
      {"file", options.output},  {"cases", result.status.size()}, {"done", result.finished - result.failed},
      {"failed", result.failed}, {"resumed", result.resumed},     {"caution", short_caution}};
  json["failures"] = nlohmann::ordered_json::array();
  for (const Failure& f : read_cases(options.output).failures.list())
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
