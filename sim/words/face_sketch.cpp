// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/face_sketch.hpp"

namespace hoopfield::words {

std::string face_sketch() {
  return "The load from above. Faces are named like the doors of a car: whoever stands\n"
         "before `front` has `left` on the right hand. It turns counter-clockwise.\n\n"
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
