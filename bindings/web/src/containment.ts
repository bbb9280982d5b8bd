// SPDX-License-Identifier: BSD-3-Clause
// Containment in full: every station of every wrap, on the screen at the moment chosen, on paper at all of them.
import {done, isStored, text} from "./data";
import {h, q, say, section} from "./dom";
import {moments} from "./moment";
import {momentTable} from "./stations";

export function containment(): HTMLElement {
  return section(
    "containment",
    "Containment at the stations",
    done.map((side) =>
      moments
        .filter(([moment]) => moment === "end" || isStored(side))
        .map(([moment]) => h("div", {class: "at-moment", "data-moment": moment}, momentTable(side, moment))),
    ),
    done
      .filter((side, i) => i === 0 && text(`${side.place}/detail/findings/bands_note`) !== "")
      .map((side) => h("p", {class: "quiet"}, say(`${side.place}/detail/findings/bands_note`))),
    h(
      "p",
      {class: "quiet"},
      "Hoop tension is the film force per height of load, all layers together, mean of the four faces",
      done[0] ? [" over a band of ", q(`${done[0].place}/detail/band_height_mm`, "small")] : "",
      ". A pull force is the reading of a pull test with a plate on a face; it is not a hoop tension. Below a number stand the ends between which it lies nine times in ten, over all that is uncertain in the inputs.",
    ),
  );
}
