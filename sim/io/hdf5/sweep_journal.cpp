// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/sweep_journal.hpp"

#include "models/error.hpp"
#include "sim/base/detail/fnv.hpp"
#include "sim/base/number_text.hpp"

#include <array>
#include <cerrno>
#include <charconv>
#include <cstring>
#include <fstream>
#include <mutex>
#include <optional>
#include <utility>

#include <fcntl.h>
#include <pthread.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace hoopfield {
namespace {

/// Handles of the journals that are open. A lock belongs to an open file, which a forked child has as well: it would
/// hold the lock on when this process has ended. So the child closes its copies.
class OpenJournals {
 public:
  static OpenJournals& all() {
    static OpenJournals one;
    return one;
  }
  void add(int file) {
    const std::lock_guard lock(mutex_);
    files_.push_back(file);
  }
  void remove(int file) {
    const std::lock_guard lock(mutex_);
    std::erase(files_, file);
  }

 private:
  OpenJournals() { ::pthread_atfork(&OpenJournals::lock, &OpenJournals::unlock, &OpenJournals::close_copies); }
  static void lock() { all().mutex_.lock(); }
  static void unlock() { all().mutex_.unlock(); }
  static void close_copies() {
    for (const int file : all().files_) ::close(file);
    all().files_.clear();
    unlock();
  }
  std::mutex mutex_;
  std::vector<int> files_;
};

constexpr std::string_view header_start = "hoopfield sweep journal 1 ";

std::string escape(const std::string& text) {
  std::string out;
  for (const char c : text) {
    if (c == '\n')
      out += "\\n";
    else if (c == '\\')
      out += "\\\\";
    else
      out += c;
  }
  return out;
}

std::string unescape(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] != '\\' || i + 1 == text.size())
      out += text[i];
    else
      out += text[++i] == 'n' ? '\n' : text[i];
  }
  return out;
}

std::string group_hash(const std::string& lines) {
  Fnv hash;
  hash.add(lines);
  return hash.hex();
}

std::string line_of(const CaseRecord& record) {
  if (record.status == CaseStatus::failed)
    return "failed " + std::to_string(record.index) + " " + escape(record.message) + "\n";
  const std::string fields = field_hash(record);
  std::string line = "done " + std::to_string(record.index) + " " + (fields.empty() ? "-" : fields);
  for (const double value : record.scalars) line += " " + shortest(value);
  return line + "\n";
}

std::string_view word(std::string_view& rest) {
  const std::size_t end = std::min(rest.find(' '), rest.size());
  const std::string_view found = rest.substr(0, end);
  rest.remove_prefix(std::min(end + 1, rest.size()));
  return found;
}

template <typename Number>
bool read_number(std::string_view text, Number& value) {
  const auto [end, code] = std::from_chars(text.data(), text.data() + text.size(), value);
  return code == std::errc{} && end == text.data() + text.size();
}

std::optional<JournalRecord> parse_line(std::string_view line, std::size_t scalar_count) {
  JournalRecord out;
  const std::string_view kind = word(line);
  if (!read_number(word(line), out.record.index)) return {};
  if (kind == "failed") {
    out.record.status = CaseStatus::failed;
    out.record.message = unescape(line);
    return out;
  }
  if (kind != "done") return {};
  out.field_hash = word(line);
  if (out.field_hash == "-") out.field_hash.clear();
  while (!line.empty()) {
    double value = 0.0;
    if (!read_number(word(line), value)) return {};
    out.record.scalars.push_back(value);
  }
  if (out.record.scalars.size() != scalar_count) return {};
  return out;
}

}  // namespace

std::string field_hash(const CaseRecord& record) {
  if (record.arrays.empty()) return {};
  Fnv hash;
  for (const Field& field : record.arrays) {
    for (const std::size_t length : field.shape) hash.add(std::to_string(length));
    hash.add({reinterpret_cast<const char*>(field.data.data()), field.data.size() * sizeof(double)});
  }
  return hash.hex();
}

Journal::Journal(std::filesystem::path path) : path_(std::move(path)) {
  try {
    // Whoever held the lock before may just have removed the file it was on.
    while (!open_and_lock()) ::close(std::exchange(file_, -1));
    refuse_foreign();
    OpenJournals::all().add(file_);
  } catch (...) {
    if (file_ >= 0) ::close(file_);
    throw;
  }
}

Journal::~Journal() {
  if (file_ < 0) return;
  OpenJournals::all().remove(file_);
  ::close(file_);
}

bool Journal::open_and_lock() {
  file_ = ::open(path_.c_str(), O_RDWR | O_CREAT | O_EXCL | O_NOFOLLOW | O_CLOEXEC, 0666);
  is_new_ = file_ >= 0;
  if (file_ < 0 && errno == EEXIST) file_ = ::open(path_.c_str(), O_RDWR | O_NOFOLLOW | O_NONBLOCK | O_CLOEXEC);
  if (file_ < 0 && errno == ENOENT) return false;
  if (file_ < 0) fail("cannot write");
  if (::flock(file_, LOCK_EX | LOCK_NB) != 0) {
    if (errno == EWOULDBLOCK)
      throw IoError("'" + path_.string() + "' is in use: another sweep is writing this file", path_.string());
    fail("cannot lock");
  }
  struct stat mine {
  }, there{};
  if (::fstat(file_, &mine) != 0 || ::lstat(path_.c_str(), &there) != 0) return false;
  return mine.st_ino == there.st_ino && mine.st_dev == there.st_dev;
}

/// A journal begins with its header, or with as much of it as was written before a kill.
void Journal::refuse_foreign() const {
  std::array<char, header_start.size()> start{};
  struct stat status {};
  const bool regular = ::fstat(file_, &status) == 0 && S_ISREG(status.st_mode);
  const ssize_t count = regular ? ::pread(file_, start.data(), start.size(), 0) : -1;
  if (count >= 0 && header_start.starts_with(std::string_view(start.data(), static_cast<std::size_t>(count)))) return;
  throw IoError("'" + path_.string() + "' is in the way: it is no journal of a sweep; move it away", path_.string());
}

void Journal::fail(const char* action) const {
  throw IoError(std::string(action) + " '" + path_.string() + "': " + std::strerror(errno), path_.string());
}

void Journal::write_all(const std::string& bytes) const {
  std::string_view rest = bytes;
  while (!rest.empty()) {
    const ssize_t count = ::write(file_, rest.data(), rest.size());
    if (count >= 0)
      rest.remove_prefix(static_cast<std::size_t>(count));
    else if (errno != EINTR)
      fail("cannot write");
  }
  if (::fdatasync(file_) != 0 && errno != EINVAL) fail("cannot write");
}

void Journal::clear() {
  if (::ftruncate(file_, 0) != 0 || ::lseek(file_, 0, SEEK_SET) < 0) fail("cannot write");
}

void Journal::begin(const std::string& plan_hash) {
  clear();
  write_all(std::string(header_start) + plan_hash + "\n");
}

void Journal::check(const std::string& plan_hash) const {
  std::ifstream in(path_, std::ios::binary);
  std::string line;
  if (!std::getline(in, line) || in.eof() || !line.starts_with(header_start)) return;
  if (line.substr(header_start.size()) == plan_hash) return;
  throw IoError(
      "cannot resume '" + path_.string() +
          "': it belongs to another sweep (scenario, film, values, outputs or version differ); pass --overwrite "
          "without --resume to start again",
      path_.string());
}

bool Journal::replay(const std::string& plan_hash, std::size_t scalar_count,
                     const std::function<void(std::vector<JournalRecord>)>& take) {
  check(plan_hash);
  std::ifstream in(path_, std::ios::binary);
  std::string line;
  if (!std::getline(in, line) || in.eof() || !line.starts_with(header_start)) return false;
  std::size_t whole = line.size() + 1, at = whole;
  std::string lines;
  std::vector<JournalRecord> group;
  while (std::getline(in, line) && !in.eof()) {
    at += line.size() + 1;
    if (line.starts_with("end ")) {
      if (line.substr(4) != group_hash(lines)) break;
      take(std::move(group));
      group.clear();
      lines.clear();
      whole = at;
    } else if (auto record = parse_line(line, scalar_count)) {
      group.push_back(std::move(*record));
      lines += line + "\n";
    } else {
      break;
    }
  }
  if (::ftruncate(file_, static_cast<off_t>(whole)) != 0 || ::lseek(file_, 0, SEEK_END) < 0) fail("cannot write");
  return true;
}

void Journal::append(std::span<const CaseRecord> records) {
  if (records.empty()) return;
  std::string lines;
  for (const CaseRecord& record : records) lines += line_of(record);
  write_all(lines + "end " + group_hash(lines) + "\n");
}

void Journal::remove() {
  if (::unlink(path_.c_str()) != 0 && errno != ENOENT) fail("cannot remove");
}

}  // namespace hoopfield
