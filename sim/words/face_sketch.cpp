// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/face_sketch.hpp"

namespace hoopfield::words {

std::string face_sketch() {
  return "The load from above. Faces are named like the doors of a car: seen from\n"
         "`front`, `left` is on the right. The load turns counter-clockwise.\n\n"
         "                 left\n"
         "          +----------------+\n"
         "          |                |\n"
         "    back  |                |  front   width\n"
         "          |                |\n"
         "          +----------------+\n"
         "                right\n"
         "                length\n";
}

}  // namespace hoopfield::words
