// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/store.hpp"

#include "models/error.hpp"
#include "sim/io/number_text.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fcntl.h>
#include <unistd.h>

namespace hoopfield {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t cases_at_once = 64;  // while copying

fs::path with_ending(fs::path path, const char* ending) {
  path += ending;
  return path;
}

std::string megabytes(double bytes) { return fixed(bytes / 1e6, bytes < 1e8 ? 1 : 0) + " MB"; }

void move_file(const fs::path& from, const fs::path& to) {
  std::error_code error;
  fs::rename(from, to, error);
  if (error) throw IoError("cannot write '" + to.string() + "': " + error.message(), to.string());
  const fs::path folder = to.has_parent_path() ? to.parent_path() : fs::path(".");
  const int handle = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (handle < 0) return;
  ::fsync(handle);
  ::close(handle);
}

}  // namespace

SweepMemory::SweepMemory(const SweepPlan& plan, const SweepLayout& layout, bool keep) : layout_(layout), keep_(keep) {
  const std::size_t cases = plan.case_count();
  result_.status.assign(cases, CaseStatus::pending);
  result_.message.resize(cases);
  if (keep) arrays_.assign(layout.fields.arrays.size(), std::vector<Field>(cases));
  for (const SummaryOutput* s : layout.selected.scalars) {
    result_.outputs.push_back({s->name, s->unit, s->long_name, {}, {}, {}});
    if (keep) result_.outputs.back().values.assign(cases, std::numeric_limits<double>::quiet_NaN());
  }
}

void SweepMemory::take(const CaseRecord& record) {
  const std::size_t i = record.index;
  if (finished(i)) return;
  result_.status[i] = record.status;
  result_.message[i] = record.message;
  ++result_.finished;
  if (record.status == CaseStatus::failed) ++result_.failed;
  if (!keep_ || record.status != CaseStatus::done) return;
  for (std::size_t s = 0; s < record.scalars.size(); ++s) result_.outputs[s].values[i] = record.scalars[s];
  for (std::size_t a = 0; a < record.arrays.size(); ++a) arrays_[a][i] = record.arrays[a];
}

void SweepMemory::pad_array(std::size_t array, SweepOutput& output) {
  std::vector<Field>& cases = arrays_[array];
  std::vector<std::size_t>& shape = output.shape;
  for (const Field& field : cases)
    for (std::size_t d = 0; d < field.shape.size(); ++d) shape[d] = std::max(shape[d], field.shape[d]);
  std::size_t size = 1;
  for (const std::size_t length : shape) size *= length;
  output.values.assign(size * cases.size(), std::numeric_limits<double>::quiet_NaN());
  for (std::size_t c = 0; c < cases.size(); ++c) {
    const Field& field = cases[c];
    for (std::size_t i = 0; i < field.data.size(); ++i) {
      std::size_t at = 0, stride = 1, rest = i;
      for (std::size_t d = shape.size(); d-- > 0; rest /= field.shape[d]) {
        at += rest % field.shape[d] * stride;
        stride *= shape[d];
      }
      output.values[c * size + at] = field.data[i];
    }
    cases[c] = {};
  }
}

SweepResult SweepMemory::finish() {
  const FieldLayout& fields = layout_.fields;
  for (std::size_t a = 0; a < fields.arrays.size(); ++a) {
    const ArrayColumn& column = fields.arrays[a];
    SweepOutput output{column.name, column.unit, column.long_name, column.dims, {}, {}};
    for (const std::string& dim : column.dims) output.shape.push_back(fields.axis(dim).values.size());
    if (keep_) pad_array(a, output);
    if (a < layout_.selected.fields.size())
      result_.outputs.push_back(std::move(output));
    else
      result_.coordinates.push_back({column.name, column.unit, true, output.shape[0], std::move(output.values)});
  }
  for (const FieldAxis& axis : fields.axes)
    if (axis.name == "time" || axis.name == "height")
      result_.coordinates.push_back({axis.name, axis.unit, false, axis.values.size(), axis.values});
  return std::move(result_);
}

SweepStore::SweepStore(const SweepPlan& plan, const SweepLayout& layout, const SweepOptions& options,
                       SweepMemory& memory)
    : plan_(plan), layout_(layout), options_(options), memory_(memory) {
  const bool may_exist = options.overwrite || options.resume;
  file_ = PartFile(options.file, may_exist).target();
  part_ = with_ending(file_, ".part");
  journal_path_ = with_ending(file_, ".journal");
  if (!options.resume) refuse_leftovers();
  if (options.resume && load_complete()) return;
  check_disk();
  journal_.emplace(journal_path_);
  if (options.resume) {
    resume();
  } else {
    writer_.emplace(part_, plan_, layout_);
    journal_->begin(layout_.hash);
  }
}

void SweepStore::refuse_leftovers() const {
  if (options_.overwrite) return;
  for (const fs::path& left : {part_, journal_path_})
    if (std::error_code none; fs::exists(left) && fs::file_size(left, none) > 0)
      throw IoError("cannot write '" + file_.string() + "': an unfinished sweep lies in '" + left.string() +
                        "'; pass --resume to go on with it or --overwrite to start again",
                    file_.string());
}

void SweepStore::check_disk() const {
  std::error_code error;
  const fs::path folder = file_.has_parent_path() ? file_.parent_path() : fs::path(".");
  const fs::space_info space = fs::space(folder, error);
  const double needed = sweep_file_size(plan_);
  if (!error && static_cast<double>(space.available) < needed)
    throw IoError("cannot write '" + file_.string() + "': the sweep may need " + megabytes(needed) +
                      " and the disk has " + megabytes(static_cast<double>(space.available)) +
                      " free; fewer cases or outputs need less",
                  file_.string());
}

bool SweepStore::load_complete() {
  if (!fs::exists(file_)) return false;
  SweepFileReader reader(file_, plan_, layout_);
  if (reader.hash() != layout_.hash) {
    if (options_.overwrite) return false;
    throw IoError(
        "cannot resume '" + file_.string() + "': the file holds another sweep; pass --overwrite to replace it",
        file_.string());
  }
  for (std::size_t i = 0; i < plan_.case_count(); i += cases_at_once)
    for (const CaseRecord& record : reader.read(i, std::min(cases_at_once, plan_.case_count() - i)))
      memory_.take(record);
  for (const fs::path& left : {part_, journal_path_, with_ending(file_, ".part.new")}) fs::remove(left);
  complete_ = true;
  return true;
}

// A killed writer may have left the part in any state, so nothing is ever added to it: what is known to be whole is
// copied to a fresh file, which then takes its place.
void SweepStore::resume() {
  std::optional<SweepFileReader> old;
  try {
    if (fs::exists(part_)) old.emplace(part_, plan_, layout_);
  } catch (const IoError&) {
    old.reset();  // not readable: the journal has to do
  }
  if (old && old->hash() != layout_.hash)
    throw IoError("cannot resume '" + part_.string() +
                      "': it belongs to another sweep (scenario, film, values, outputs or "
                      "version differ); pass --overwrite without --resume to start again",
                  part_.string());
  const fs::path fresh = with_ending(file_, ".part.new");
  journal_->check(layout_.hash);
  writer_.emplace(fresh, plan_, layout_);
  if (!copy_journal(*writer_, old ? &*old : nullptr)) {
    journal_->begin(layout_.hash);
    if (old) copy_part(*writer_, *old);
  }
  old.reset();
  move_file(fresh, part_);
  writer_->renamed(part_);
  memory_.result().resumed = memory_.result().finished;
}

bool SweepStore::copy_journal(SweepFileWriter& to, SweepFileReader* from) {
  return journal_->replay(layout_.hash, layout_.selected.scalars.size(), [&](std::vector<JournalRecord> group) {
    std::vector<CaseRecord> whole;
    for (JournalRecord& entry : group) {
      if (entry.record.index >= plan_.case_count() || memory_.finished(entry.record.index)) continue;
      if (!entry.field_hash.empty()) {
        // The journal knows fields by their hash only; a case whose fields did not reach the part is computed again.
        try {
          if (from == nullptr) continue;
          std::vector<CaseRecord> stored = from->read(entry.record.index, 1);
          if (stored.empty() || field_hash(stored[0]) != entry.field_hash) continue;
          entry.record.arrays = std::move(stored[0].arrays);
        } catch (const IoError&) {
          continue;
        }
      }
      memory_.take(entry.record);
      whole.push_back(std::move(entry.record));
    }
    std::sort(whole.begin(), whole.end(), [](const CaseRecord& a, const CaseRecord& b) { return a.index < b.index; });
    to.write(whole);
  });
}

void SweepStore::copy_part(SweepFileWriter& to, SweepFileReader& from) {
  for (std::size_t i = 0; i < plan_.case_count(); i += cases_at_once) {
    std::vector<CaseRecord> records;
    try {
      records = from.read(i, std::min(cases_at_once, plan_.case_count() - i));
    } catch (const IoError&) {
      continue;
    }
    for (const CaseRecord& record : records) memory_.take(record);
    to.write(records);
    journal_->append(records);
  }
}

void SweepStore::save(std::span<const CaseRecord> records) {
  writer_->write(records);
  journal_->append(records);
}

void SweepStore::close() { writer_->close(); }

void SweepStore::commit() {
  writer_->close();
  if (!options_.overwrite && fs::exists(file_))
    throw IoError("cannot write '" + file_.string() + "': the file appeared meanwhile; the sweep is kept in '" +
                      part_.string() + "'",
                  file_.string());
  move_file(part_, file_);
  fs::remove(with_ending(file_, ".part.new"));  // of a resume that was killed
  journal_->remove();
}

}  // namespace hoopfield
