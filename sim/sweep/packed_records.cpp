// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/packed_records.hpp"

#include "models/error.hpp"

#include <algorithm>
#include <cstdint>
#include <cstring>

namespace hoopfield {
namespace {

class Packer {
 public:
  void count(std::size_t value) {
    const auto number = static_cast<std::uint64_t>(value);
    bytes_.append(reinterpret_cast<const char*>(&number), sizeof number);
  }
  void numbers(const std::vector<double>& values) {
    count(values.size());
    bytes_.append(reinterpret_cast<const char*>(values.data()), values.size() * sizeof(double));
  }
  void text(const std::string& value) {
    count(value.size());
    bytes_ += value;
  }
  [[nodiscard]] std::string take() { return std::move(bytes_); }

 private:
  std::string bytes_;
};

class Unpacker {
 public:
  explicit Unpacker(std::string_view bytes) : rest_(bytes) {}
  [[nodiscard]] bool at_end() const { return rest_.empty(); }
  std::size_t count() {
    std::uint64_t number = 0;
    std::memcpy(&number, piece(sizeof number).data(), sizeof number);
    return static_cast<std::size_t>(number);
  }
  std::vector<double> numbers() {
    const std::size_t size = count();
    require(size <= rest_.size() / sizeof(double));
    std::vector<double> values(size);
    if (size > 0) std::memcpy(values.data(), piece(size * sizeof(double)).data(), size * sizeof(double));
    return values;
  }
  std::string text() { return std::string(piece(count())); }
  static void require(bool holds) {
    if (!holds) throw InputError("cases came back that do not belong to this sweep");
  }

 private:
  std::string_view piece(std::size_t size) {
    require(size <= rest_.size());
    const std::string_view found = rest_.substr(0, size);
    rest_.remove_prefix(size);
    return found;
  }
  std::string_view rest_;
};

void pack(Packer& to, const CaseRecord& record, std::size_t first_case) {
  to.count(first_case + record.index);
  to.count(static_cast<std::size_t>(record.status));
  to.text(record.message);
  to.numbers(record.scalars);
  to.count(record.arrays.size());
  for (const Field& field : record.arrays) {
    to.count(field.shape.size());
    for (const std::size_t length : field.shape) to.count(length);
    to.numbers(field.data);
  }
}

Field unpack_field(Unpacker& from, std::size_t dimensions) {
  Field field;
  Unpacker::require(from.count() == dimensions);
  std::size_t size = 1;
  for (std::size_t d = 0; d < dimensions; ++d) {
    field.shape.push_back(from.count());
    size *= field.shape.back();
  }
  field.data = from.numbers();
  Unpacker::require(field.data.size() == size);
  return field;
}

CaseRecord unpack(Unpacker& from, const SweepPlan& plan, const SweepLayout& layout) {
  CaseRecord record;
  record.index = from.count() - plan.first_case;
  Unpacker::require(record.index < plan.case_count());
  const std::size_t status = from.count();
  Unpacker::require(status <= static_cast<std::size_t>(CaseStatus::failed));
  record.status = static_cast<CaseStatus>(status);
  record.message = from.text();
  record.scalars = from.numbers();
  const std::size_t arrays = from.count();
  const bool done = record.status == CaseStatus::done;
  Unpacker::require(record.scalars.size() == (done ? layout.selected.scalars.size() : 0));
  Unpacker::require(arrays == (done ? layout.fields.arrays.size() : 0));
  for (std::size_t a = 0; a < arrays; ++a)
    record.arrays.push_back(unpack_field(from, layout.fields.arrays[a].dims.size()));
  return record;
}

/// Keeps the records of a sweep as bytes.
class PackingSink : public SweepSink {
 public:
  PackingSink(std::string& bytes, std::size_t first_case) : bytes_(bytes), first_case_(first_case) {}
  [[nodiscard]] bool complete() const override { return false; }
  void save(std::span<const CaseRecord> records) override { bytes_ += pack_records(records, first_case_); }
  void close() override {}
  void commit() override {}

 private:
  std::string& bytes_;
  std::size_t first_case_;
};

}  // namespace

std::string pack_records(std::span<const CaseRecord> records, std::size_t first_case) {
  Packer to;
  for (const CaseRecord& record : records) pack(to, record, first_case);
  return to.take();
}

std::vector<CaseRecord> unpack_records(std::string_view bytes, const SweepPlan& plan, const SweepLayout& layout) {
  Unpacker from(bytes);
  std::vector<CaseRecord> records;
  while (!from.at_end()) records.push_back(unpack(from, plan, layout));
  return records;
}

std::string compute_packed(const SweepPlan& plan, unsigned jobs) {
  std::string bytes;
  SweepOptions options;
  options.jobs = jobs;
  options.keep = false;
  static_cast<void>(compute_sweep(plan, options, nullptr, [&](const SweepLayout&, SweepMemory&, const SweepPulse&) {
    return std::make_unique<PackingSink>(bytes, plan.first_case);
  }));
  return bytes;
}

}  // namespace hoopfield
