// SPDX-License-Identifier: BSD-3-Clause
// The table of a sweep: best, worst, the least film that does, and the map.
#include "sim/words/sweep_text.hpp"
#include "sim/words/text_layout.hpp"
#include "tests/support/catch.hpp"

#include <cmath>
#include <limits>
#include <sstream>

using namespace hoopfield;
using namespace hoopfield::words;

namespace {

constexpr double missing = std::numeric_limits<double>::quiet_NaN();

std::vector<const SummaryOutput*> outputs_named(const std::vector<std::string>& names) {
  std::vector<const SummaryOutput*> outputs;
  for (const std::string& name : names)
    for (const SummaryOutput& output : summary_outputs())
      if (output.name == name) outputs.push_back(&output);
  REQUIRE(outputs.size() == names.size());
  return outputs;
}

const std::vector<std::string> kept = {"containment.after_storage.top.hoop_tension",
                                       "containment.after_storage.middle.hoop_tension",
                                       "containment.after_storage.bottom.hoop_tension", "film.mass"};

/// Force by pre-stretch, the latter fastest; the bottom holds least, film rises with force. The last case has failed.
SweepNumbers grid(const SweepTarget& target = {}) {
  std::vector<SweepAxis> axes(2);
  axes[0] = {"delivery.tension.force", "N", {50, 50, 60, 60, 70, 70}, {}};
  axes[1] = {"delivery.prestretch", "", {2.0, 2.5, 2.0, 2.5, 2.0, 2.5}, {}};
  SweepNumbers sweep(axes, 0, outputs_named(kept), target);
  for (std::size_t i = 0; i < 5; ++i) {
    const double force = axes[0].numbers[i], stretch = axes[1].numbers[i];
    sweep.take(i, {20.0 * force, 15.0 * force, 10.0 * force - 20.0 * stretch, 0.2 + 0.001 * force});
  }
  return sweep;
}

std::string line_with(const std::string& text, const std::string& start) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);)
    if (line.starts_with(start)) return line;
  return "no such line";
}

void check_width(const std::string& text) {
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    CHECK(display_width(line) <= terminal_width);
  }
}

}  // namespace

TEST_CASE("best and worst are by the station that holds least", "[sweep][text]") {
  const std::string text = sweep_text(grid());
  check_width(text);
  CHECK_THAT(text, ContainsSubstring("hoop tension after storage, least of top, middle and bottom"));
  CHECK_THAT(line_with(text, "  value"), ContainsSubstring("660 N/m") && ContainsSubstring("450 N/m"));
  CHECK_THAT(line_with(text, "  case"), ContainsSubstring("4  ") && ContainsSubstring("1"));
  CHECK_THAT(line_with(text, "  delivery.tension.force"), ContainsSubstring("70 N") && ContainsSubstring("50 N"));
  CHECK_THAT(line_with(text, "  delivery.prestretch"), ContainsSubstring("200 %") && ContainsSubstring("250 %"));
  CHECK_THAT(line_with(text, "  film per load"), ContainsSubstring("0.27 kg") && ContainsSubstring("0.25 kg"));
  CHECK_THAT(text, !ContainsSubstring("targets met"));
}

TEST_CASE("the map has the input that moves most down and the other across", "[sweep][text]") {
  const std::string map = sweep_map(grid());
  CHECK_THAT(map, ContainsSubstring("delivery.tension.force, N down; delivery.prestretch, %"));
  CHECK(line_with(map, "  50 ") == "  50                460      450");
  CHECK(line_with(map, "  60 ") == "  60                560      550");
  CHECK(line_with(map, "  70 ") == "  70                660        -");
}

TEST_CASE("targets bring the case with the least film", "[sweep][text]") {
  SweepTarget target;
  target.least = {1000.0, {}, 540.0};
  const std::string text = sweep_text(grid(target));
  check_width(text);
  CHECK_THAT(text, ContainsSubstring("least film *"));
  CHECK_THAT(text, ContainsSubstring("3 of 5 cases"));
  const std::string cases = line_with(text, "  case");
  CHECK(cases.ends_with("2"));
  target.least = {5000.0, {}, {}};
  const std::string none = sweep_text(grid(target));
  CHECK_THAT(none, ContainsSubstring("0 of 5 cases"));
  CHECK_THAT(none, !ContainsSubstring("least film *"));
}

TEST_CASE("many values of an input are put together in equal parts", "[sweep][text]") {
  std::vector<SweepAxis> axes(3);
  axes[0] = {"delivery.tension.force", "N", {}, {}};
  axes[1] = {"rotation.speed", "rad/s", {}, {}};
  axes[2] = {"load.kind", "", {}, {}};
  for (int i = 0; i < 240; ++i) {
    axes[0].numbers.push_back(50.0 + 0.1 * i);
    axes[1].numbers.push_back(1.0 + 0.01 * ((i * 7) % 40));
    axes[2].texts.push_back(i % 2 == 0 ? "cased" : "bagged");
  }
  SweepNumbers sweep(axes, 0, outputs_named({"film.mass"}), {});
  for (std::size_t i = 0; i < 240; ++i)
    if (i != 100) sweep.take(i, {axes[0].numbers[i]});
  const std::string text = sweep_text(sweep);
  check_width(text);
  CHECK_THAT(text, ContainsSubstring("film per load"));
  CHECK_THAT(text, ContainsSubstring("most") && ContainsSubstring("least"));
  const std::string map = sweep_map(sweep);
  CHECK_THAT(map, ContainsSubstring("delivery.tension.force, N, in equal parts down"));
  CHECK_THAT(map, ContainsSubstring("means of the cases in a cell"));
  CHECK_THAT(map, ContainsSubstring("* some cases of the cell failed"));
  CHECK_THAT(map, ContainsSubstring("  51 "));  // the middle of the first of twelve parts of 50 to 73.9 N
}

TEST_CASE("one input, words, and no value at all", "[sweep][text]") {
  std::vector<SweepAxis> words(1);
  words[0] = {"load.kind", "", {}, {"cased", "bagged", "rigid"}};
  SweepNumbers sweep(words, 8, outputs_named({"containment.end.top.pull_force"}), {"pull_force", "end", {}});
  CHECK(sweep_text(sweep).empty());
  sweep.take(0, {70.0});
  sweep.take(1, {missing});
  sweep.take(2, {80.0});
  const std::string text = sweep_text(sweep);
  check_width(text);
  CHECK_THAT(text, ContainsSubstring("pull test, least over the faces, end of wrapping, top"));
  CHECK_THAT(line_with(text, "  case"), ContainsSubstring("10") && ContainsSubstring("8"));
  CHECK_THAT(line_with(text, "  load.kind"), ContainsSubstring("rigid") && ContainsSubstring("cased"));
  CHECK(line_with(text, "  bagged") == "  bagged              -");
}

TEST_CASE("the table asks for few of the outputs", "[sweep][text]") {
  std::vector<const SummaryOutput*> all;
  for (const SummaryOutput& output : summary_outputs()) all.push_back(&output);
  std::vector<std::string> names;
  for (const SummaryOutput* output : table_outputs(all, {})) names.push_back(output->name);
  CHECK(names == kept);
  CHECK(table_outputs(outputs_named({"film.mass"}), {}).size() == 1);
  CHECK(table_outputs({}, {}).empty());
}
