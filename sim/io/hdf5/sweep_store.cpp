// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/sweep_store.hpp"

#include "models/error.hpp"
#include "sim/base/new_file.hpp"
#include "sim/base/number_text.hpp"

#include <algorithm>

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
  sync_folder(folder_of(to));
}

}  // namespace

SweepStore::SweepStore(const SweepPlan& plan, const SweepLayout& layout, const SweepOptions& options,
                       SweepMemory& memory, const SweepPulse& pulse)
    : plan_(plan), layout_(layout), options_(options), memory_(memory), pulse_(pulse) {
  const bool may_exist = options.overwrite || options.resume;
  file_ = PartFile(options.file, may_exist).target();
  part_ = with_ending(file_, ".part");
  journal_path_ = with_ending(file_, ".journal");
  if (options.resume && load_complete()) return;
  check_disk();
  journal_.emplace(journal_path_);
  try {
    refuse_leftovers();
    remove_stale();
    if (options.resume)
      resume();
    else
      start();
  } catch (...) {
    forget_start();
    throw;
  }
}

SweepStore::~SweepStore() { forget_start(); }

/// A sweep that never came to its first case leaves nothing that would be in the way of the next try.
void SweepStore::forget_start() noexcept {
  writer_.reset();
  if (!fresh_.empty()) remove_new_file(fresh_);
  fresh_.clear();
  if (!journal_ || !journal_->is_new() || kept_) return;
  std::error_code ignored;
  if (started_) fs::remove(part_, ignored);
  fs::remove(journal_path_, ignored);
  kept_ = true;
}

/// The part belongs to a sweep when its journal stands beside it, or when it says so itself.
bool SweepStore::part_is_ours() const {
  std::error_code none;
  if (fs::symlink_status(part_, none).type() != fs::file_type::regular) return false;
  if (!journal_->is_new() && fs::file_size(journal_path_, none) > 0) return true;
  try {
    return !SweepFileReader(part_, plan_.case_count(), layout_).hash().empty();
  } catch (const IoError&) {
    return false;
  }
}

void SweepStore::refuse_leftovers() const {
  std::error_code none;
  const bool part = fs::symlink_status(part_, none).type() != fs::file_type::not_found;
  if (part && !part_is_ours())
    throw IoError("cannot write '" + file_.string() + "': '" + part_.string() +
                      "' is in the way and is no unfinished sweep; move it away",
                  file_.string());
  if (options_.overwrite || options_.resume) return;
  const bool journal = !journal_->is_new() && fs::file_size(journal_path_, none) > 0;
  if (!part && !journal) return;
  throw IoError("cannot write '" + file_.string() + "': an unfinished sweep lies in '" +
                    (part ? part_ : journal_path_).string() +
                    "'; pass --resume to go on with it or --overwrite to start again",
                file_.string());
}

/// Fresh files of sweeps that were killed; nobody else writes while the journal is locked.
void SweepStore::remove_stale() const {
  std::error_code error;
  std::vector<fs::path> stale;
  for (const auto& entry : fs::directory_iterator(folder_of(file_), error))
    if (is_new_file_of(entry.path(), part_)) stale.push_back(entry.path());
  for (const fs::path& path : stale) fs::remove(path, error);
}

/// An empty file that is written to before it gets the name of the part.
void SweepStore::open_fresh() {
  const NewFile file = create_new_file(part_);
  ::close(file.handle);
  fresh_ = file.path;
  writer_.emplace(fresh_, sweep_head(plan_, layout_), layout_);
}

void SweepStore::place_fresh() {
  move_file(fresh_, part_);
  keep_new_file(fresh_);
  fresh_.clear();
  started_ = true;
  writer_->renamed(part_);
}

void SweepStore::start() {
  open_fresh();
  journal_->begin(layout_.hash);
  place_fresh();
}

void SweepStore::check_disk() const {
  std::error_code error;
  const fs::space_info space = fs::space(folder_of(file_), error);
  const double needed = sweep_file_size(plan_);
  if (!error && static_cast<double>(space.available) < needed)
    throw IoError("cannot write '" + file_.string() + "': the sweep may need " + megabytes(needed) +
                      " and the disk has " + megabytes(static_cast<double>(space.available)) +
                      " free; fewer cases or outputs need less",
                  file_.string());
}

bool SweepStore::load_complete() {
  if (std::error_code none; !fs::exists(file_, none)) return false;
  SweepFileReader reader(file_, plan_.case_count(), layout_);
  if (reader.hash() != layout_.hash) {
    if (options_.overwrite) return false;
    throw IoError(
        "cannot resume '" + file_.string() + "': the file holds another sweep; pass --overwrite to replace it",
        file_.string());
  }
  for (std::size_t i = 0; i < plan_.case_count(); i += cases_at_once, pulse_())
    for (const CaseRecord& record : reader.read(i, std::min(cases_at_once, plan_.case_count() - i)))
      memory_.take(record);
  complete_ = true;
  if (std::error_code none; !fs::exists(journal_path_, none)) return true;
  // Killed between the move to the finished file and the end.
  journal_.emplace(journal_path_);
  if (part_is_ours()) fs::remove(part_);
  remove_stale();
  journal_->remove();
  journal_.reset();
  return true;
}

// A killed writer may have left the part in any state, so nothing is ever added to it: what is known to be whole is
// copied to a fresh file, which then takes its place.
void SweepStore::resume() {
  std::optional<SweepFileReader> old;
  try {
    if (std::error_code none; fs::exists(part_, none)) old.emplace(part_, plan_.case_count(), layout_);
  } catch (const IoError&) {
    old.reset();  // not readable: the journal has to do
  }
  if (old && old->hash() != layout_.hash)
    throw IoError("cannot resume '" + part_.string() +
                      "': it belongs to another sweep (scenario, film, values, outputs or "
                      "version differ); pass --overwrite without --resume to start again",
                  part_.string());
  kept_ = !journal_->is_new() || old;
  journal_->check(layout_.hash);
  open_fresh();
  if (copy_journal(*writer_, old ? &*old : nullptr)) {
    old.reset();
    place_fresh();
  } else {
    journal_->begin(layout_.hash);
    try {
      if (old) copy_part(*writer_, *old);
    } catch (...) {
      journal_->clear();  // the part is still the whole of what is known
      throw;
    }
    old.reset();
    place_fresh();
  }
  memory_.result().resumed = memory_.result().finished;
}

bool SweepStore::copy_journal(SweepFileWriter& to, SweepFileReader* from) {
  return journal_->replay(layout_.hash, layout_.selected.scalars.size(), [&](std::vector<JournalRecord> group) {
    std::vector<CaseRecord> whole;
    for (JournalRecord& entry : group) {
      if (entry.record.index >= plan_.case_count() || memory_.finished(entry.record.index)) continue;
      if (!entry.field_hash.empty()) {
        pulse_();
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
    pulse_();
  });
}

void SweepStore::copy_part(SweepFileWriter& to, SweepFileReader& from) {
  for (std::size_t i = 0; i < plan_.case_count(); i += cases_at_once, pulse_()) {
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
  kept_ = kept_ || !records.empty();
}

void SweepStore::close() {
  kept_ = true;
  writer_->close();
}

void SweepStore::commit() {
  writer_->close();
  kept_ = true;
  if (std::error_code none; !options_.overwrite && fs::exists(file_, none))
    throw IoError("cannot write '" + file_.string() + "': the file appeared meanwhile; the sweep is kept in '" +
                      part_.string() + "'",
                  file_.string());
  move_file(part_, file_);
  journal_->remove();
}

}  // namespace hoopfield
