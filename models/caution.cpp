// SPDX-License-Identifier: BSD-3-Clause
#include "models/caution.hpp"

namespace hoopfield {
namespace {

struct Sentence {
  Hazard hazard;
  std::string_view text;
};

constexpr Sentence sentences[] = {
    {Hazard::stopped_machine, "Stop the machine and lock it out before you reach into it."},
    {Hazard::running_machine,
     "While the machine runs, keep everybody out of the turning circle of the load, arm or ring and clear of the "
     "carriage and the rollers."},
    {Hazard::cut_film,
     "Film under tension springs back when it is cut: stand clear of it and cut away from yourself with a guarded "
     "blade."},
    {Hazard::pulled_film, "Film that is pulled can tear or slip: keep your face and feet out of the line of pull."},
    {Hazard::strap, "A tensioned strap can snap or slip off: stand clear of it and out of its line."},
    {Hazard::falling_goods, "Goods may fall: keep out of the space where they would land."},
    {Hazard::at_height, "Do not climb on the load or the machine: work from a safe platform."},
    {Hazard::test_machine, "Keep your hands out of the grips of the testing machine and protect your eyes."},
    {Hazard::hanging_weight, "A hanging weight can drop: keep your feet from under it."},
    {Hazard::heavy_roll, "A full roll is heavy: use a lifting aid."},
};

constexpr Hazard at_a_machine = Hazard::stopped_machine | Hazard::running_machine | Hazard::test_machine;

}  // namespace

std::string caution_text(Hazard hazards) {
  if (hazards == Hazard::none) return {};
  std::string text;
  for (const Sentence& sentence : sentences)
    if ((hazards & sentence.hazard) != Hazard::none) text += std::string(sentence.text) + " ";
  const bool machine = (hazards & at_a_machine) != Hazard::none;
  return text + (machine ? "Only for people trained for that machine, under local safety rules."
                         : "Only for people trained for this work, under local safety rules.");
}

}  // namespace hoopfield
