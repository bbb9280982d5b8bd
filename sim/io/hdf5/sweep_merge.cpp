// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/sweep_merge.hpp"

#include "models/error.hpp"
#include "sim/io/hdf5/sweep_file.hpp"
#include "sim/io/text/output_files.hpp"
#include "sim/io/text/part_file.hpp"

#include <algorithm>
#include <string>

namespace hoopfield {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t cases_at_once = 256;

struct Shard {
  fs::path path;
  SweepFileHead file;
  [[nodiscard]] const SweepShard& part() const { return *file.head.shard; }
  [[nodiscard]] std::string name() const {
    return std::to_string(part().number) + "/" + std::to_string(part().count) + " ('" + path.string() + "')";
  }
};

[[noreturn]] void refuse(const std::string& message) { throw InputError("cannot merge: " + message); }

Shard open_shard(const fs::path& path) {
  std::error_code none;
  fs::path part = path;
  part += ".part";
  if (!fs::exists(path, none) && fs::exists(part, none))
    refuse("'" + path.string() + "' is not finished, its cases so far are in '" + part.string() +
           "'; go on with its sweep first (resume)");
  if (!fs::is_regular_file(path, none))
    throw IoError("cannot read '" + path.string() + "': it is no file", path.string());
  Shard shard{path, read_sweep_head(path)};
  if (!shard.file.head.shard) refuse("'" + path.string() + "' is a whole sweep, not a shard of one");
  return shard;
}

/// What tells the sweeps of two shards apart.
std::string difference(const SweepHead& a, const SweepHead& b) {
  if (a.source != b.source) return "they were computed by " + a.source + " and " + b.source;
  if (a.inputs.hash != b.inputs.hash) return "their scenarios or films differ";
  return "what varies, its values or the outputs differ";
}

void check_same_sweep(const std::vector<Shard>& shards) {
  const Shard& first = shards.front();
  for (const Shard& shard : shards) {
    if (shard.part().whole_hash != first.part().whole_hash)
      refuse("'" + first.path.string() + "' and '" + shard.path.string() +
             "' are shards of different sweeps: " + difference(first.file.head, shard.file.head));
    if (shard.part().count != first.part().count)
      refuse("the sweep was divided in two ways: shard " + first.name() + " and shard " + shard.name());
  }
}

std::string listed(const std::vector<std::string>& words) {
  constexpr std::size_t shown = 8;
  std::string text;
  for (std::size_t i = 0; i < std::min(words.size(), shown); ++i) text += (i == 0 ? "" : ", ") + words[i];
  return words.size() > shown ? text + " and " + std::to_string(words.size() - shown) + " more" : text;
}

void check_complete(const std::vector<Shard>& sorted) {
  for (std::size_t i = 1; i < sorted.size(); ++i)
    if (sorted[i].part().number == sorted[i - 1].part().number)
      refuse("two files hold the same shard: " + sorted[i - 1].name() + " and " + sorted[i].name());
  std::vector<std::string> missing;
  for (std::size_t number = 1, i = 0; number <= sorted.front().part().count; ++number)
    if (i < sorted.size() && sorted[i].part().number == number)
      ++i;
    else
      missing.push_back(std::to_string(number));
  if (!missing.empty())
    refuse((missing.size() == 1 ? "shard " : "shards ") + listed(missing) + " of " +
           std::to_string(sorted.front().part().count) + (missing.size() == 1 ? " is missing" : " are missing"));
}

/// The head of the whole sweep: inputs of the first shard, values of all.
SweepFileHead whole_of(const std::vector<Shard>& sorted) {
  SweepFileHead whole = sorted.front().file;
  SweepHead& head = whole.head;
  head.hash = whole.layout.hash = sorted.front().part().whole_hash;
  head.shard.reset();
  head.first_case = 0;
  for (std::size_t i = 1; i < sorted.size(); ++i) {
    const SweepHead& next = sorted[i].file.head;
    const bool fits = next.first_case == head.case_count() && next.axes.size() == head.axes.size();
    if (!fits) refuse("the cases of shard " + sorted[i].name() + " do not follow those of the shard before");
    for (std::size_t a = 0; a < head.axes.size(); ++a) {
      SweepAxis& axis = head.axes[a];
      axis.numbers.insert(axis.numbers.end(), next.axes[a].numbers.begin(), next.axes[a].numbers.end());
      axis.texts.insert(axis.texts.end(), next.axes[a].texts.begin(), next.axes[a].texts.end());
    }
  }
  if (head.case_count() != sorted.front().part().whole_cases)
    refuse("the shards hold " + std::to_string(head.case_count()) + " cases, the sweep has " +
           std::to_string(sorted.front().part().whole_cases));
  return whole;
}

/// Copies the cases of one shard and notes how they ended.
void copy_cases(const Shard& shard, SweepFileWriter& to, SweepResult& result) {
  const SweepHead& head = shard.file.head;
  const std::size_t cases = head.case_count();
  SweepFileReader from(shard.path, cases, shard.file.layout);
  std::size_t found = 0;
  for (std::size_t i = 0; i < cases; i += cases_at_once) {
    std::vector<CaseRecord> records = from.read(i, std::min(cases_at_once, cases - i));
    found += records.size();
    for (CaseRecord& record : records) {
      record.index += head.first_case;
      result.status[record.index] = record.status;
      ++result.finished;
      if (record.status == CaseStatus::failed) ++result.failed;
    }
    to.write(records);
  }
  if (found < cases)
    refuse("shard " + shard.name() + " is not finished: " + std::to_string(cases - found) + " of its " +
           std::to_string(cases) + " cases are pending");
}

}  // namespace

SweepResult merge_sweeps(const std::vector<fs::path>& shards, const fs::path& file, bool overwrite) {
  OutputFiles outputs(overwrite);
  outputs.reads(shards);
  outputs.add("-o", file);
  outputs.check();
  if (shards.empty()) refuse("no shard was given");
  std::vector<Shard> sorted;
  for (const fs::path& path : shards) sorted.push_back(open_shard(path));
  check_same_sweep(sorted);
  std::stable_sort(sorted.begin(), sorted.end(),
                   [](const Shard& a, const Shard& b) { return a.part().number < b.part().number; });
  check_complete(sorted);
  const SweepFileHead whole = whole_of(sorted);
  SweepResult result;
  result.status.assign(whole.head.case_count(), CaseStatus::pending);
  PartFile part(file, overwrite);
  {
    SweepFileWriter writer(part.start(), whole.head, whole.layout);
    for (const Shard& shard : sorted) copy_cases(shard, writer, result);
    writer.close();
  }
  part.commit();
  return result;
}

}  // namespace hoopfield
