// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/sweep_table.hpp"

#include "models/error.hpp"
#include "models/output_names.hpp"
#include "models/units.hpp"
#include "sim/base/number_text.hpp"
#include "sim/io/hdf5/sweep_file.hpp"
#include "sim/io/text/part_file.hpp"

#include <cerrno>
#include <cmath>
#include <cstring>
#include <fstream>
#include <string>

#include <fcntl.h>
#include <unistd.h>

namespace hoopfield {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t cases_at_once = 1024;

std::string cell(double number) { return std::isfinite(number) ? shortest(number) : std::string(); }

std::string_view unit_people_write(const SweepAxis& axis) {
  const Parameter* declared = find_parameter(ParameterRoom::scenario, axis.key);
  return declared != nullptr && !declared->metric.empty() ? declared->metric : std::string_view(axis.unit);
}

/// "rotation.speed_rpm"
std::string input_name(const SweepAxis& axis) {
  return axis.texts.empty() ? axis.key + unit_ending(unit_people_write(axis)) : axis.key;
}

class CsvWriter {
 public:
  CsvWriter(const fs::path& path, const fs::path& shown) : path_(path), shown_(shown), out_(path, std::ios::binary) {}

  void head(const SweepFileHead& file) {
    out_ << "case,status,message";
    for (const SweepAxis& axis : file.head.axes) out_ << ',' << csv_cell(input_name(axis));
    for (const SummaryOutput* output : file.layout.selected.scalars)
      out_ << ',' << csv_cell(named_with_unit(output->name, *output->declaration));
    out_ << '\n';
  }

  void line(const SweepFileHead& file, const CaseRecord& record) {
    const bool is_done = record.status == CaseStatus::done;
    out_ << file.head.first_case + record.index << ',' << (is_done ? "done" : "failed") << ','
         << csv_cell(record.message);
    for (const SweepAxis& axis : file.head.axes)
      out_ << ','
           << (axis.texts.empty() ? cell(to_unit(axis.numbers[record.index], unit_people_write(axis)))
                                  : csv_cell(axis.texts[record.index]));
    const std::vector<const SummaryOutput*>& outputs = file.layout.selected.scalars;
    for (std::size_t i = 0; i < outputs.size(); ++i)
      out_ << ',' << (is_done ? cell(json_number(*outputs[i]->declaration, record.scalars[i])) : std::string());
    out_ << '\n';
    if (!out_) fail();
  }

  /// Everything to the disk.
  void close() {
    out_.close();
    const int file = out_ ? ::open(path_.c_str(), O_RDONLY | O_CLOEXEC) : -1;
    const bool synced = file >= 0 && ::fsync(file) == 0;
    if (file >= 0) ::close(file);
    if (!synced) fail();
  }

 private:
  [[noreturn]] void fail() const {
    throw IoError("cannot write '" + shown_.string() + "': " + std::strerror(errno), shown_.string());
  }
  fs::path path_, shown_;
  std::ofstream out_;
};

}  // namespace

void visit_cases(const fs::path& path, std::size_t cases, const SweepLayout& layout,
                 const std::function<void(const CaseRecord&)>& visit) {
  SweepLayout numbers = layout;
  numbers.fields = {};
  SweepFileReader reader(path, cases, numbers);
  for (std::size_t i = 0; i < cases; i += cases_at_once)
    for (const CaseRecord& record : reader.read(i, std::min(cases_at_once, cases - i))) visit(record);
}

void write_sweep_csv(const fs::path& sweep, const fs::path& csv, bool overwrite) {
  const SweepFileHead head = read_sweep_head(sweep);
  PartFile part(csv, overwrite);
  CsvWriter writer(part.start(), csv);
  writer.head(head);
  visit_cases(sweep, head.head.case_count(), head.layout, [&](const CaseRecord& record) { writer.line(head, record); });
  writer.close();
  part.commit();
}

}  // namespace hoopfield
