// SPDX-License-Identifier: BSD-3-Clause
// What nine of ten draws say, beside the numbers.
import {has, type Side, text} from "./data";
import {type Child, h, q, say} from "./dom";
import type {Kind} from "./units";

const end = (side: Side, name: string, p: string): string => `${side.place}/summary/band/values/${name}/${p}`;

/** A number of the summary with its band on a line of its own: "553" and "483 to 624" below; without draws the number
 * alone. */
export function withBand(side: Side, name: string, place: string, kind: Kind): Child {
  const value = q(place, kind, true);
  if (!has(end(side, name, "p05"))) return value;
  return [
    value,
    h("span", {class: "band"}, q(end(side, name, "p05"), kind, true), " to ", q(end(side, name, "p95"), kind, true)),
  ];
}

/** The same in running text: " (483 to 624 N/m nine times in ten)". */
export function rangeWords(side: Side, name: string, kind: Kind): Child {
  if (!has(end(side, name, "p05"))) return "";
  return [" (", q(end(side, name, "p05"), kind, true), " to ", q(end(side, name, "p95"), kind), " nine times in ten)"];
}

/** A candidate against the present side in the containment that the comparison is judged by. */
export function verdictCell(side: Side): Child {
  const place = `comparison/sides/${side.index}/versus`;
  if (!has(`${place}/words`)) return h("span", {class: "none"}, "\u2013");
  const range = [q(`${place}/low_change`, "change", true), " to ", q(`${place}/high_change`, "change"), ""];
  const told = text(`${place}/words`) === "not distinguishable";
  return [say(`${place}/words`), h("span", {class: told ? "band caution" : "band"}, range)];
}
