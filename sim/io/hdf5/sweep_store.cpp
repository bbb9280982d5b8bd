// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/sweep_store.hpp"

#include "models/error.hpp"
#include "sim/base/number_text.hpp"

#include <algorithm>

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
