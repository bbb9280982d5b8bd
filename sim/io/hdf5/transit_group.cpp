// SPDX-License-Identifier: BSD-3-Clause
#include "sim/io/hdf5/detail/transit_group.hpp"

#include "models/output_names.hpp"
#include "sim/outputs/outputs.hpp"
#include "sim/transit/transit_numbers.hpp"

#include <limits>
#include <numeric>
#include <string_view>

namespace hoopfield {
namespace {

using Names = std::vector<std::string>;
constexpr double nothing = std::numeric_limits<double>::quiet_NaN();

std::vector<std::int32_t> counted(std::size_t count) {
  std::vector<std::int32_t> numbers(count);
  std::iota(numbers.begin(), numbers.end(), 1);
  return numbers;
}

/// A number of every moment and direction.
template <typename OfSide>
auto over_sides(const TransitStatics& statics, OfSide&& of_side) {
  std::vector<decltype(of_side(statics.at[0][0], std::size_t{}))> values;
  for (const auto& moment : statics.at)
    for (std::size_t d = 0; d < moment.size(); ++d) values.push_back(of_side(moment[d], d));
  return values;
}

void write_interface(const hdf5::Node& group, const TransitStatics& statics, const char* name,
                     double InterfaceStatics::*member, const char* units, const char* words) {
  std::vector<double> values;
  for (const auto& moment : statics.at)
    for (const TransitSide& side : moment)
      for (const InterfaceStatics& at : side.statics.interfaces) values.push_back(at.*member);
  group.variable(name, {"moment", "direction", "interface"}, values, units, words);
}

void write_interfaces(hdf5::Node& group, const TransitStatics& statics) {
  std::vector<double> heights;
  for (const InterfaceStatics& at : statics.at[weakest_moment][0].statics.interfaces) heights.push_back(at.height);
  group.dimension("interface", counted(heights.size()), "interface under the tier of that number, 1 = on the pallet");
  group.variable("interface_height", {"interface"}, heights, "m", "height of the interface above the deck");
  using I = InterfaceStatics;
  write_interface(group, statics, "interface_first_slip", &I::first_slip, "m/s^2",
                  "slow push at which the interface starts to slip");
  write_interface(group, statics, "interface_held", &I::held, "m/s^2", "slow push held with the allowed slip");
  write_interface(group, statics, "interface_tipping", &I::tipping, "m/s^2",
                  "slow push at which what stands on the interface tips");
  write_interface(group, statics, "interface_film_force", &I::film_force, "N",
                  "film force across the interface at the allowed slip");
}

std::vector<double> over_directions(const TransitAnswer& answer, double (*of)(const DirectionAnswer&)) {
  return {of(answer.direction[0]), of(answer.direction[1])};
}

void write_tiers(const hdf5::Node& group, const TransitAnswer& answer, const char* name, double RideTier::*member,
                 const char* dimension, const char* units, const char* words) {
  std::vector<double> values;
  for (const DirectionAnswer& one : answer.direction)
    for (const RideTier& tier : one.ride.tiers) values.push_back(tier.*member);
  group.variable(name, {"direction", dimension}, values, units, words);
}

/// Both directions keep the same moments, until one falls.
class Courses {
 public:
  Courses(hdf5::Node& group, const TransitAnswer& answer) : group_(group), answer_(answer) {
    const std::vector<double>&a = answer.direction[0].ride.time, &b = answer.direction[1].ride.time;
    const std::vector<double>& longer = a.size() < b.size() ? b : a;
    rows_ = longer.size();
    group_.dimension("transit_time", longer, "s", "time since the start of the pulse");
  }
  void write(const char* name, std::vector<double> Ride::*member, Names dimensions, const char* units,
             const char* words) {
    std::vector<double> values;
    const std::size_t columns = dimensions.size() > 2 ? answer_.direction[0].ride.tiers.size() : 1;
    for (std::size_t d = 0; d < answer_.direction.size(); ++d) {
      const std::vector<double>& kept = answer_.direction[d].ride.*member;
      values.insert(values.end(), kept.begin(), kept.end());
      values.resize((d + 1) * rows_ * columns, nothing);
    }
    group_.variable(name, dimensions, values, units, words);
  }

 private:
  hdf5::Node& group_;
  const TransitAnswer& answer_;
  std::size_t rows_ = 0;
};

}  // namespace

void write_transit_statics(hdf5::Node& group, const Scenario& s, const TransitStatics& statics,
                           const std::vector<LevelAnswer>* levels) {
  if (!statics.missing.empty()) {
    group.attribute("missing", statics.missing.front());
    return;
  }
  group.dimension("moment", axis_names("moment"),
                  "end of wrapping, least hoop tension of each height until the end of storage, or after storage");
  group.dimension("direction", Names(load_direction_names.begin(), load_direction_names.end()),
                  "direction of the load that the push acts in");
  for (std::size_t leaf = 0; leaf < transit_leaves().size(); ++leaf) {
    const Parameter& declared =
        *find_parameter(ParameterRoom::output, std::string("transit.") + transit_leaves()[leaf]);
    auto values = over_sides(
        statics, [&](const TransitSide& side, std::size_t d) { return transit_number(s.transit, side, d, leaf); });
    if (levels != nullptr && std::string_view(transit_leaves()[leaf]) == "margin")
      for (std::size_t d = 0; d < 2; ++d) values[2 * weakest_moment + d] = least_margin(*levels, d).value_or(nothing);
    group.variable(transit_leaves()[leaf], {"moment", "direction"}, values, file_unit(declared),
                   std::string(declared.label));
  }
  const auto weakest = over_sides(statics, [](const TransitSide& side, std::size_t) {
    return static_cast<std::int32_t>(side.statics.weakest + 1);
  });
  group.variable("weakest_interface", {"moment", "direction"}, weakest, "interface that holds least, from below");
  write_interfaces(group, statics);
}

void write_transit_pulses(hdf5::Node& group, const TransitAnswer& answer) {
  const auto of_directions = [&](const char* name, double (*of)(const DirectionAnswer&), const char* units,
                                 const char* words) {
    group.variable(name, {"direction"}, over_directions(answer, of), units, words);
  };
  of_directions(
      "largest_pulse", [](const DirectionAnswer& d) { return d.largest_blow; }, "m/s^2", "largest pulse held");
  of_directions(
      "pulse_level", [](const DirectionAnswer& d) { return d.ridden; }, "m/s^2",
      "level of the pulse whose course is told");
  of_directions(
      "lean", [](const DirectionAnswer& d) { return d.ride.lean; }, "m", "greatest displacement of the top edge");
  group.dimension("tier", counted(answer.direction[0].ride.tiers.size()), "tier, 1 stands on the pallet");
  using T = RideTier;
  write_tiers(group, answer, "peak", &T::peak, "tier", "m", "greatest displacement of the tier's centre");
  write_tiers(group, answer, "permanent", &T::permanent, "tier", "m", "displacement that stays");
  write_tiers(group, answer, "final_slip", &T::slip, "interface", "m", "slip on the tier below at the end");
  write_tiers(group, answer, "film_force_peak", &T::film_force, "interface", "N", "greatest film force");
  Courses courses(group, answer);
  courses.write("base_acceleration", &Ride::along, {"direction", "transit_time"}, "m/s^2",
                "acceleration of the pulse, as it acts on the goods along the motion");
  const Names tiers = {"direction", "transit_time", "tier"}, interfaces = {"direction", "transit_time", "interface"};
  courses.write("displacement", &Ride::shift, tiers, "m", "displacement of the tier's centre");
  courses.write("rotation", &Ride::turn, tiers, "rad", "rotation of the tier");
  courses.write("slip", &Ride::slip, interfaces, "m", "slip on the tier below");
  courses.write("film_force", &Ride::film_force, interfaces, "N", "film force across the interface");
}

}  // namespace hoopfield
