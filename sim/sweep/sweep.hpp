// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// Many predictions in parallel. Writing them to a resumable file: sim/io/hdf5/run_sweep.hpp.
#pragma once

#include "sim/sweep/plan.hpp"

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <vector>

namespace hoopfield {

enum class CaseStatus : std::int8_t { done = 0, failed = 1, pending = 2 };

struct SweepProgress {
  std::size_t total = 0;     ///< cases of the plan
  std::size_t finished = 0;  ///< done or failed, with those found in a resumed file
  std::size_t failed = 0;
  std::size_t resumed = 0;  ///< found finished in a resumed file
  double rate = 0.0;        ///< cases/s of this run; 0 until known
  double remaining = 0.0;   ///< s; 0 until known
};

/// Receives progress up to fifty times a second, always on the thread that called run_sweep.
class SweepObserver {
 public:
  virtual ~SweepObserver() = default;
  /// Return false to stop: what is finished is kept. An exception stops as well and leaves run_sweep.
  virtual bool progress(const SweepProgress& progress) = 0;
};

struct SweepOptions {
  unsigned jobs = 0;           ///< threads that predict; 0 = one per processor
  std::filesystem::path file;  ///< HDF5 file to write; empty = none
  bool overwrite = false;      ///< replace a file, or an unfinished sweep, that is there
  bool resume = false;         ///< go on with an unfinished sweep of the same plan
  bool keep = true;            ///< return the data; false = they are in the file only, memory stays constant
};

/// One output of all cases, row-major, case first. NaN for cases that failed or are pending and beyond the end of a
/// field that is longer in another case.
struct SweepOutput {
  std::string name;  ///< "containment.after_storage.middle.hoop_tension", "hoop_tension"
  std::string unit;  ///< SI; "1" for pure numbers
  std::string long_name;
  /// After `case`; empty for scalars. Of turn, face, film_layer, time and height; `time_index` and `slice` stand for
  /// the last two when the sweep varies what they depend on (SweepCoordinate::per_case).
  std::vector<std::string> dims;
  std::vector<std::size_t> shape;  ///< lengths of `dims`
  std::vector<double> values;      ///< cases * product of shape; empty when not kept
};

/// Values along a dimension of field outputs. Per case (case-major, NaN-padded) when the sweep varies them.
struct SweepCoordinate {
  std::string name;  ///< "time" (s, 0 = end of wrapping) or "height" (m)
  std::string unit;
  bool per_case = false;
  std::size_t size = 0;
  std::vector<double> values;
};

struct SweepResult {
  std::vector<CaseStatus> status;    ///< one per case
  std::vector<std::string> message;  ///< why a case failed, one per case; none when not kept
  std::vector<SweepOutput> outputs;
  std::vector<SweepCoordinate> coordinates;
  std::size_t finished = 0, failed = 0, resumed = 0;
  bool stopped = false;  ///< the observer asked to stop before the end
};

struct CaseRecord;
struct SweepLayout;
class SweepMemory;

/// Where the records of a sweep go besides memory. Called on the thread that called compute_sweep only.
class SweepSink {
 public:
  virtual ~SweepSink() = default;
  /// Everything was there before: nothing is left to compute.
  [[nodiscard]] virtual bool complete() const = 0;
  /// Records sorted by case. After it returns they survive a kill. Throws IoError.
  virtual void save(std::span<const CaseRecord> records) = 0;
  /// Closes a sweep that stops before its end.
  virtual void close() = 0;
  /// All cases are saved: puts the result in its place.
  virtual void commit() = 0;
};

/// Called now and then in work that may take long; throws Interrupted when the sweep is to stop.
using SweepPulse = std::function<void()>;

/// Opens the sink of a sweep; cases it holds already go to the memory.
using OpenSweepSink = std::function<std::unique_ptr<SweepSink>(const SweepLayout&, SweepMemory&, const SweepPulse&)>;

/// Predicts every case of a plan. The result does not depend on the number of threads. A case that throws is `failed`
/// with the message; it never ends the sweep. Draws of the same film at the same settings are computed once. Throws
/// InputError for unknown outputs and what the sink throws; a sweep that is stopped saves for a moment at most, and
/// what is not saved by then is pending. Of `options` only `jobs` and `keep` act.
[[nodiscard]] SweepResult compute_sweep(const SweepPlan& plan, const SweepOptions& options = {},
                                        SweepObserver* observer = nullptr, const OpenSweepSink& open_sink = {});

/// Where a sweep stands, `seconds` after it began.
[[nodiscard]] SweepProgress sweep_progress(const SweepPlan& plan, const SweepMemory& memory, double seconds);

/// Greatest size of the file and its journal on disk, bytes; predicts one case when fields are wanted.
[[nodiscard]] double sweep_file_size(const SweepPlan& plan);

}  // namespace hoopfield
