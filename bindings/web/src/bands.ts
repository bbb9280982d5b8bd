// SPDX-License-Identifier: BSD-3-Clause
// What nine of ten draws say, beside the numbers. The width of a band decides how many digits are shown.
import {has, num, type Side, text} from "./data";
import {type Child, h, q, say} from "./dom";
import type {Kind} from "./units";

/** A number, and where the ends stand between which it lies nine times in ten. */
export interface Banded {
  value: string;
  low: string;
  high: string;
}

const widthOf = ({low, high}: Banded): number => {
  const ends = [num(low), num(high)];
  return ends[0] === null || ends[1] === null ? 0 : ends[1] - ends[0];
};

export const banded = (side: Side, name: string, value: string): Banded => ({
  value,
  low: `${side.place}/summary/band/values/${name}/p05`,
  high: `${side.place}/summary/band/values/${name}/p95`,
});

/** The number with its band on a line of its own: "550" and "480 to 620" below; without draws the number alone. */
export function withBand(number: Banded, kind: Kind, bare = true): Child {
  const width = widthOf(number);
  const value = known(number, kind, bare);
  if (!has(number.low)) return value;
  return [
    value,
    h("span", {class: "band"}, q(number.low, kind, true, 3, width), " to ", q(number.high, kind, true, 3, width)),
  ];
}

/** The number alone, to the digits that its band leaves. */
export const known = (number: Banded, kind: Kind, bare = true): Child =>
  q(number.value, kind, bare, 3, widthOf(number));

/** The same on one line: "550 N/m (480 to 620)". */
export function inLine(number: Banded, kind: Kind): Child {
  const width = widthOf(number);
  const value = known(number, kind, false);
  if (!has(number.low)) return value;
  return [value, " (", q(number.low, kind, true, 3, width), " to ", q(number.high, kind, true, 3, width), ")"];
}

/** A candidate against the present wrap in the containment that the comparison is judged by. */
export function verdictCell(side: Side): Child {
  const place = `comparison/sides/${side.index}/against_present/${text("comparison/measures/containment")}`;
  if (!has(`${place}/words`)) return h("span", {class: "none"}, "\u2013");
  const range = [q(`${place}/low_change`, "change", true), " to ", q(`${place}/high_change`, "change"), ""];
  const told = text(`${place}/words`) === "not distinguishable";
  return [say(`${place}/words`), h("span", {class: told ? "band caution" : "band"}, range)];
}
