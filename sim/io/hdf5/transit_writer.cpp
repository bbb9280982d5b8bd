// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/transit_writer.hpp"

#include "models/caution.hpp"
#include "models/error.hpp"
#include "sim/base/build_info.hpp"
#include "sim/io/hdf5/detail/hdf5_file.hpp"
#include "sim/io/text/transit_json.hpp"

#include <mutex>
#include <numeric>

namespace hoopfield {
namespace {

void write_direction(hdf5::Node node, const TransitSide& side, const DirectionAnswer& answer) {
  const Ride& ride = answer.ride;
  std::vector<std::int32_t> counted(side.stack.tiers.size());
  std::iota(counted.begin(), counted.end(), 1);
  node.dimension("transit_time", ride.time, "s", "time since the start of the pulse");
  node.dimension("tier", counted, "tier, 1 stands on the pallet");
  node.dimension("interface", counted, "interface under the tier of that number");
  node.scalar("pulse_level", answer.ridden, "m/s^2", "level of the pulse whose course is told");
  node.variable("displacement", {"transit_time", "tier"}, ride.shift, "m", "displacement of a tier's centre");
  node.variable("rotation", {"transit_time", "tier"}, ride.turn, "rad", "rotation of a tier");
  node.variable("slip", {"transit_time", "interface"}, ride.slip, "m", "slip on the tier below");
  node.variable("film_force", {"transit_time", "interface"}, ride.film_force, "N", "film force across the interface");
  const auto of_interfaces = [&](double InterfaceStatics::*member) {
    std::vector<double> values;
    for (const InterfaceStatics& at : side.statics.interfaces) values.push_back(at.*member);
    return values;
  };
  node.variable("first_slip", {"interface"}, of_interfaces(&InterfaceStatics::first_slip), "m/s^2",
                "slow push at which it starts to slip");
  node.variable("held", {"interface"}, of_interfaces(&InterfaceStatics::held), "m/s^2",
                "slow push held with the allowed slip");
  node.variable("tipping", {"interface"}, of_interfaces(&InterfaceStatics::tipping), "m/s^2",
                "slow push at which what stands on it tips");
}

}  // namespace

std::string transit_hdf5(const Scenario& scenario, const TransitAnswer& answer) {
  const std::string json = transit_json(scenario, answer);
  const std::lock_guard lock(hdf5::library_mutex());
  H5::Exception::dontPrint();
  try {
    hdf5::MemoryFile file;
    {
      hdf5::Node root = file.root();
      root.attribute("title", scenario.title.empty() ? "load in transit" : scenario.title);
      root.attribute("source", "hoopfield " + build_version());
      root.attribute("comment", std::string(short_caution));
      root.text("json", json, "the answer as one JSON object");
      for (std::size_t d = 0; d < load_direction_names.size(); ++d)
        write_direction(root.child(load_direction_names[d]), answer.statics.at[weakest_moment][d], answer.direction[d]);
    }
    return file.bytes();
  } catch (const H5::Exception& error) {
    throw IoError("HDF5 could not build the file of the load in transit: " + error.getDetailMsg());
  }
}

}  // namespace hoopfield
