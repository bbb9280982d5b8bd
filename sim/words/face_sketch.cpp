// SPDX-License-Identifier: BSD-3-Clause
#include "sim/words/face_sketch.hpp"

namespace hoopfield::words {

std::string face_sketch() {
  return "The load from above; whoever stands before `front` has `left` on the right hand,\n"
         "as with the doors of a car. It turns counter-clockwise.\n\n"
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
