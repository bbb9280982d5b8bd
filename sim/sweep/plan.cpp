// SPDX-License-Identifier: BSD-3-Clause
#include "sim/sweep/plan.hpp"

#include "models/error.hpp"
#include "models/units.hpp"
#include "sim/base/build_info.hpp"
#include "sim/base/detail/fnv.hpp"
#include "sim/base/input_text.hpp"
#include "sim/base/number_text.hpp"
#include "sim/inputs/input_rows.hpp"
#include "sim/inputs/inputs_detail.hpp"
#include "sim/sweep/input_checker.hpp"
#include "sim/sweep/outputs.hpp"
#include "sim/sweep/sampling.hpp"
#include "sim/transit/transit_numbers.hpp"

#include <algorithm>
#include <cmath>
#include <set>

namespace hoopfield {
namespace {

/// A varied input with its values checked and numbers in SI.
struct Checked {
  std::string key, unit;
  std::vector<InputValue> values;  ///< empty for a range
  double from = 0.0, to = 0.0;
  std::size_t steps = 0;
  bool whole = false;
};

[[noreturn]] void fail(const std::string& key, const Complaint& complaint) { fail_input({}, {}, key, complaint); }

double range_end(InputChecker& check, const std::string& key, const InputValue& value) {
  const InputValue checked = check(value);
  if (const double* number = std::get_if<double>(&checked); number != nullptr && std::isfinite(*number)) return *number;
  fail(key, {"a range needs numbers at both ends", "a list of values", {}});
}

Checked check_varied(const Scenario& scenario, Sampling sampling, const VariedInput& varied) {
  InputChecker check(scenario, varied.key, varied.fails_outside);
  Checked out{varied.key, check.unit(), {}, 0.0, 0.0, varied.steps, check.whole()};
  if (!varied.values.empty()) {
    if (varied.from || varied.to) fail(varied.key, {"has both values and a range", "one of the two", {}});
    for (const InputValue& value : varied.values) out.values.push_back(check(value));
    return out;
  }
  if (!varied.from || !varied.to) fail(varied.key, {"has no values", "a list of values, or from and to", {}});
  if (sampling == Sampling::table) fail(varied.key, {"a table cannot hold a range", "one value per case", {}});
  out.from = range_end(check, varied.key, *varied.from);
  out.to = range_end(check, varied.key, *varied.to);
  if (out.from == out.to) fail(varied.key, {"the range has no width", "from and to that differ", {}});
  if (sampling == Sampling::grid && varied.steps < 2)
    fail(varied.key, {"a grid needs steps", "steps of 2 or more", {}});
  if (sampling != Sampling::grid && varied.steps != 0) fail(varied.key, {"steps belong to a grid", "from and to", {}});
  return out;
}

double step_value(const Checked& c, std::size_t index) {
  if (index + 1 == c.steps) return c.to;
  const double value = c.from + (c.to - c.from) / static_cast<double>(c.steps - 1) * static_cast<double>(index);
  if (c.whole && std::abs(value - std::round(value)) > 1e-9)
    fail(c.key, {"step " + shortest(value) + " is not a whole number", "steps that meet whole numbers", {}});
  return c.whole ? std::round(value) : value;
}

std::vector<InputValue> grid_values(const Checked& c) {
  if (!c.values.empty()) return c.values;
  std::vector<InputValue> values;
  for (std::size_t i = 0; i < c.steps; ++i) values.emplace_back(step_value(c, i));
  return values;
}

/// One kind of value per axis: texts as soon as one value has no number ("stuck").
SweepAxis make_axis(const Checked& c, const std::vector<InputValue>& values) {
  SweepAxis axis{c.key, c.unit, {}, {}};
  const bool numbers = std::all_of(values.begin(), values.end(), [](const InputValue& v) { return v.index() == 0; });
  if (!numbers) axis.unit.clear();
  for (const InputValue& v : values) {
    if (numbers)
      axis.numbers.push_back(std::get<double>(v));
    else
      axis.texts.push_back(v.index() == 0 ? shortest(std::get<double>(v)) + (c.unit.empty() ? "" : " " + c.unit)
                                          : std::get<std::string>(v));
  }
  return axis;
}

/// An axis whose case i takes entry `which(i)` of a short one.
template <typename Which>
SweepAxis spread(const SweepAxis& entries, std::size_t count, Which&& which) {
  SweepAxis axis{entries.key, entries.unit, {}, {}};
  for (std::size_t i = 0; i < count; ++i) {
    if (entries.texts.empty())
      axis.numbers.push_back(entries.numbers[which(i)]);
    else
      axis.texts.push_back(entries.texts[which(i)]);
  }
  return axis;
}

void check_count(std::size_t count) {
  if (count == 0) fail("sweep", {"has no cases", "at least one", {}});
  if (count > max_sweep_cases)
    fail("sweep", {"has more than 10 000 000 cases", "fewer steps, or a sample such as \"sobol\"", {}});
}

void lay_out_grid(const std::vector<Checked>& varied, SweepPlan& plan) {
  std::size_t count = 1;
  for (const Checked& c : varied) {
    plan.grid_shape.push_back(c.values.empty() ? c.steps : c.values.size());
    if (plan.grid_shape.back() > max_sweep_cases) check_count(plan.grid_shape.back());
    count *= plan.grid_shape.back();
    check_count(count);
  }
  std::size_t inner = count;
  for (const Checked& c : varied) {
    const std::vector<InputValue> steps = grid_values(c);
    inner /= steps.size();
    plan.axes.push_back(spread(make_axis(c, steps), count, [&](std::size_t i) { return i / inner % steps.size(); }));
  }
}

/// Which of `count` equal shares of the unit interval a point lies in.
std::size_t share(double u, double count) {
  return static_cast<std::size_t>(std::min(std::floor(u * count), count - 1.0));
}

void lay_out_sample(const std::vector<Checked>& varied, std::size_t samples, std::uint64_t seed, SweepPlan& plan) {
  check_count(samples);
  const std::vector<double> points = plan.sampling == Sampling::sobol ? sobol_points(samples, varied.size())
                                                                      : latin_hypercube(samples, varied.size(), seed);
  for (std::size_t a = 0; a < varied.size(); ++a) {
    const Checked& c = varied[a];
    const auto point = [&](std::size_t i) { return points[i * varied.size() + a]; };
    if (!c.values.empty()) {
      const auto count = static_cast<double>(c.values.size());
      plan.axes.push_back(
          spread(make_axis(c, c.values), samples, [&](std::size_t i) { return share(point(i), count); }));
      continue;
    }
    SweepAxis axis{c.key, c.unit, {}, {}};
    for (std::size_t i = 0; i < samples; ++i)
      axis.numbers.push_back(c.whole ? std::min(c.from, c.to) +
                                           static_cast<double>(share(point(i), std::abs(c.to - c.from) + 1.0))
                                     : c.from + (c.to - c.from) * point(i));
    plan.axes.push_back(std::move(axis));
  }
}

void lay_out_table(const std::vector<Checked>& varied, SweepPlan& plan) {
  check_count(varied.front().values.size());
  for (const Checked& c : varied) {
    if (c.values.size() != varied.front().values.size())
      fail(c.key, {"has " + std::to_string(c.values.size()) + " values beside " +
                       std::to_string(varied.front().values.size()) + " of " + varied.front().key,
                   "one value per case in every column",
                   {}});
    plan.axes.push_back(make_axis(c, c.values));
  }
}

void put_value(Scenario& scenario, const SweepAxis& axis, std::size_t index) {
  if (axis.texts.empty())
    detail::put_number(scenario, axis.key, axis.numbers[index]);
  else
    detail::put(scenario, axis.key,
                detail::node_from_text(detail::declaration_for(scenario, axis.key), axis.key, axis.texts[index]), {});
}

/// Puts the first value that lies within its bounds; nothing where none does.
void put_any(Scenario& scenario, const SweepAxis& axis) {
  for (std::size_t i = 0; i < axis.numbers.size() + axis.texts.size(); ++i) {
    try {
      return put_value(scenario, axis, i);
    } catch (const OutOfRange&) {
      continue;
    }
  }
}

/// Inputs that replace each other (pitch and overlap) cannot vary together: the later would undo the earlier.
void refuse_exclusive(const SweepPlan& plan) {
  Scenario scratch = plan.scenario;
  std::set<std::string> seen;
  for (const SweepAxis& axis : plan.axes) {
    if (!seen.insert(axis.key).second) fail(axis.key, {"varies twice", "every key once", {}});
    put_any(scratch, axis);
    for (const SweepAxis& other : plan.axes) {
      if (other.key == axis.key) break;
      if (scratch.sources.count(other.key) == 0)
        fail(axis.key, {"cannot vary together with " + other.key + ", which it replaces", "one of the two", {}});
    }
  }
}

std::string_view bytes_of(const double& value) {
  return {reinterpret_cast<const char*>(&value), sizeof value};  // exact, and quick for many cases
}

/// Numbers in transit need a mass of the goods, given or varied.
void refuse_without_mass(const SweepPlan& plan, const std::vector<VariedInput>& varied) {
  const bool varies = std::any_of(varied.begin(), varied.end(), [](const auto& v) { return v.key == "load.mass"; });
  if (select_outputs(plan.outputs).has_transit() && !varies) require_transit_inputs(plan.scenario);
}

}  // namespace

SweepPlan make_sweep_plan(Scenario scenario, Sampling sampling, const std::vector<VariedInput>& varied,
                          std::size_t samples, std::uint64_t seed, std::vector<std::string> outputs) {
  SweepPlan plan;
  plan.scenario = std::move(scenario);
  plan.sampling = sampling;
  plan.outputs = std::move(outputs);
  refuse_without_mass(plan, varied);
  if (varied.empty()) fail("vary", {"nothing varies", "at least one key", {}});
  std::vector<Checked> checked;
  for (const VariedInput& v : varied) checked.push_back(check_varied(plan.scenario, sampling, v));
  switch (sampling) {
    case Sampling::grid: lay_out_grid(checked, plan); break;
    case Sampling::table: lay_out_table(checked, plan); break;
    case Sampling::latin_hypercube:
    case Sampling::sobol: lay_out_sample(checked, samples, seed, plan); break;
  }
  refuse_exclusive(plan);
  return plan;
}

Scenario sweep_scenario(const SweepPlan& plan, std::size_t case_index) {
  std::vector<std::pair<std::string, InputValue>> values;
  for (const SweepAxis& axis : plan.axes) {
    if (axis.texts.empty())
      values.emplace_back(axis.key, axis.numbers.at(case_index));
    else
      values.emplace_back(axis.key, axis.texts.at(case_index));
  }
  Scenario scenario = plan.scenario;
  set_inputs(scenario, values);
  return scenario;
}

std::string sweep_hash(const SweepPlan& plan) {
  Fnv hash;
  if (plan.shard) {
    hash.add("shard " + std::to_string(plan.shard->number) + " of " + std::to_string(plan.shard->count));
    hash.add(plan.shard->whole_hash);
    return hash.hex();
  }
  hash.add(build_version());
  hash.add(inputs_hash(plan.scenario));
  for (const SweepAxis& axis : plan.axes) {
    hash.add(axis.key);
    hash.add(std::to_string(axis.numbers.size()));
    for (const double& number : axis.numbers) hash.add(bytes_of(number));
    for (const std::string& text : axis.texts) hash.add(text);
  }
  const SelectedOutputs selected = select_outputs(plan.outputs);
  for (const SummaryOutput* output : selected.scalars) hash.add(output->name);
  for (const FieldOutput* output : selected.fields) hash.add(output->name);
  return hash.hex();
}

}  // namespace hoopfield
