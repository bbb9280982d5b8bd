// SPDX-License-Identifier: BSD-3-Clause
// The section on the load in transit, or a sentence about what is missing to say anything.
import {figure, type Picture} from "./chart";
import {done, text} from "./data";
import {h, say, section} from "./dom";
import {capacity} from "./pictures/capacity";
import {leaningStack} from "./pictures/leaning_stack";
import {first, several} from "./pictures/sides";
import {missing, own} from "./pictures/transit_parts";

const title = "Transit: does the load stay together on its way";

export function transit(): HTMLElement | null {
  if (done.length === 0) return null;
  const keys = missing(first);
  if (keys.length > 0)
    return section(
      "transit",
      title,
      h(
        "p",
        {class: "transit-missing"},
        "Nothing can be said of the load in transit: ",
        h("code", {}, keys.join(", ")),
        " is missing.",
      ),
    );
  const pictures = [capacity(), leaningStack()].filter((p): p is Picture => p !== null);
  return section(
    "transit",
    title,
    several
      ? h("p", {}, "Drawn for one wrap, ", say(`${first.place}/name`), "; the others stand in the table of all wraps.")
      : null,
    h("div", {class: "pictures"}, pictures.map(figure)),
    text(own(first, "message")) === "" ? null : h("p", {}, say(own(first, "message"))),
  );
}
