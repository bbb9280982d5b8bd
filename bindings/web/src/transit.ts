// SPDX-License-Identifier: BSD-3-Clause
// The section on the load in transit, or a sentence about what is missing to say anything.
import {figure, type Picture} from "./chart";
import {done, label, many, type Side, text} from "./data";
import {h, say, section} from "./dom";
import {capacity} from "./pictures/capacity";
import {leaningStack} from "./pictures/leaning_stack";
import {missing, own} from "./pictures/transit_parts";

const title = "Transit: does the load stay together on its way";

/** What is missing to say anything of a side, named where there are others. */
const nothingSaid = (side: Side): HTMLElement =>
  h(
    "p",
    {class: "transit-missing"},
    `Nothing can be said of the load in transit${many ? ` of ${label(side)}` : ""}: `,
    h("code", {}, missing(side).join(", ")),
    " is missing.",
  );

export function transit(): HTMLElement | null {
  if (done.length === 0) return null;
  const pictures = [capacity(), leaningStack()].filter((p): p is Picture => p !== null);
  return section(
    "transit",
    title,
    done.filter((side) => missing(side).length > 0).map(nothingSaid),
    pictures.length > 0 ? h("div", {class: "pictures"}, pictures.map(figure)) : null,
    done
      .filter((side) => text(own(side, "message")) !== "")
      .map((side) => h("p", {}, many ? `${label(side)}: ` : "", say(own(side, "message")))),
  );
}
