// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/transit_writer.hpp"

#include "models/caution.hpp"
#include "models/error.hpp"
#include "sim/base/build_info.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/io/hdf5/detail/hdf5_inputs.hpp"
#include "sim/io/hdf5/detail/transit_group.hpp"
#include "sim/io/text/transit_json.hpp"

#include <mutex>

namespace hoopfield {

std::string transit_hdf5(const Scenario& scenario, const TransitAnswer& answer) {
  const std::string json = transit_json(scenario, answer);
  const std::lock_guard lock(hdf5::library_mutex());
  H5::Exception::dontPrint();
  try {
    hdf5::MemoryFile file;
    {
      hdf5::Node root = file.root();
      root.attribute("Conventions", "CF-1.11");
      root.attribute("title", scenario.title.empty() ? "load in transit" : scenario.title);
      root.attribute("source", "hoopfield " + build_version());
      root.attribute("comment", std::string(short_caution) + " Missing values are NaN.");
      hdf5::Node group = root.child("transit");
      write_transit_statics(group, scenario, answer.statics, &answer.levels);
      write_transit_pulses(group, answer);
      root.child("summary").text("json", json, "the answer as one JSON object");
      write_inputs(root.child("inputs"), input_table(scenario));
    }
    return file.bytes();
  } catch (const H5::Exception& error) {
    throw IoError("HDF5 could not build the file of the load in transit: " + error.getDetailMsg());
  }
}

}  // namespace hoopfield
