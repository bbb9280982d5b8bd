// SPDX-License-Identifier: BSD-3-Clause
/// \file
/// What a sweep file says beside the outputs of its cases. No HDF5 types show.
#pragma once

#include "sim/io/hdf5/hdf5_inputs.hpp"
#include "sim/sweep/layout.hpp"
#include "sim/sweep/plan.hpp"

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

namespace hoopfield {

struct SweepHead {
  std::string title, source, sampling, hash;
  std::optional<SweepShard> shard;
  std::size_t first_case = 0;
  std::vector<SweepAxis> axes;
  InputTable inputs;
  std::string text;  ///< the sweep file as read
  [[nodiscard]] std::size_t case_count() const {
    return axes.empty() ? 1 : axes.front().numbers.size() + axes.front().texts.size();
  }
};

[[nodiscard]] SweepHead sweep_head(const SweepPlan& plan, const SweepLayout& layout);

/// Head and layout of a file that is there.
struct SweepFileHead {
  SweepHead head;
  SweepLayout layout;
};

/// Throws IoError for what is no sweep file.
[[nodiscard]] SweepFileHead read_sweep_head(const std::filesystem::path& path);

}  // namespace hoopfield
