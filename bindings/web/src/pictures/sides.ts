// SPDX-License-Identifier: BSD-3-Clause
// Whom the pictures speak of: one wrap, a candidate beside the present wrap, or several candidates.
import type * as Plot from "@observablehq/plot";
import {ink, type Stroke} from "../chart";
import {
  anyStored,
  containmentOf,
  done,
  has,
  label,
  many,
  type Moment,
  num,
  nums,
  predicted,
  type Side,
  sides,
  type Station,
  stations,
  text,
} from "../data";
import {type Child, q} from "../dom";

/** The side in use, where it was predicted: the first of several. */
export const present: Side | null = many && predicted(sides[0]) ? sides[0] : null;
export const candidates: Side[] = done.filter((side) => side !== present);
export interface Pair {
  present: Side;
  candidate: Side;
}
export const pair: Pair | null = present && candidates.length === 1 ? {present, candidate: candidates[0]} : null;
/** The one that titles speak of. */
export const first: Side = candidates[0] ?? done[0];
export const several = !pair && done.length > 1;
/** Says whose numbers a title speaks of when the other sides could not be predicted. */
export const whose = (): Child => (many && !pair && !several ? [`${label(first)}: `] : null);

export const detail = (side: Side): string => `${side.place}/detail`;
export const finding = (side: Side, name: string): string => `${detail(side)}/findings/${name}`;
/** Candidate minus present, by the place of the same numbers in the details. */
export const apart = (side: Side, name: string): string => `${side.place}/versus_first/${name}`;

export const lastMoment: Moment = anyStored ? "after_storage" : "end";
export const lastWords = anyStored ? "after storage" : "when wrapping ends";

/** What is said of the candidate's difference in a number; `words` is empty where no draws were made. */
export function told(side: Side, name: string): {place: string; words: string; size: number} | null {
  const place = `comparison/sides/${side.index}/against_present/${name}`;
  if (!has(place)) return null;
  return {place, words: text(`${place}/words`), size: num(`${place}/size`) ?? 0};
}
export const hoop = (moment: Moment, station: Station): string =>
  `containment.${moment}.${station}.hoop_tension_N_per_m`;
export const isApart = (words: string): boolean => words === "more" || words === "less";
/** "45 N/m less" */
export const lessOrMore = (place: string, kind: "tension" | "mass"): Child => [
  q(`${place}/size`, kind),
  (num(`${place}/difference`) ?? 0) < 0 ? " less" : " more",
];

/** The station that holds least at a moment. */
export function leastStation(side: Side, moment: Moment): Station {
  const value = (s: Station): number => num(`${containmentOf(side, moment, s)}/hoop_tension_N_per_m`) ?? Infinity;
  return stations.reduce((a, b) => (value(b) < value(a) ? b : a));
}

const called = (side: Side, word: string): string => (label(side) === word ? word : `${label(side)} (${word})`);
export const presentStroke: Stroke = {name: present ? called(present, "present") : "", colour: ink.orange, dash: "7 3"};
export const candidateStroke: Stroke = {
  name: pair ? called(first, "candidate") : "candidate",
  colour: ink.blue,
  dash: "",
};
export const bothKeys: Stroke[] = [presentStroke, candidateStroke];
/** The present wrap first, each with its line. */
export const bothSides: [Side, Stroke][] = pair
  ? [
      [pair.present, presentStroke],
      [pair.candidate, candidateStroke],
    ]
  : [];

export const pen = (stroke: Stroke, width = 2.5): Plot.LineOptions => ({
  stroke: stroke.colour,
  strokeWidth: width,
  strokeDasharray: stroke.dash || undefined,
});

export const all = (places: string[]): number[] => places.flatMap(nums);
export const perSide =
  (make: (side: Side) => Child, more?: () => Child): (() => Child) =>
  () => [...done.map((side) => make(side)), more ? more() : null];
export const captionOf = (side: Side, words: string): string => (many ? `${label(side)}: ${words}` : words);
/** The ends of a range with the sides they belong to: "530 N/m (thin film) to 612 N/m (thick film)". */
export function rangeOf(
  over: Side[],
  place: (side: Side) => string,
  kind: "tension" | "share" | "size" | "percent",
): Child {
  const value = (side: Side): number => (kind === "size" ? Math.abs : Number)(num(place(side)) ?? NaN);
  const known = over.filter((side) => Number.isFinite(value(side)));
  if (known.length === 0) return "an unknown amount";
  const low = known.reduce((a, b) => (value(b) < value(a) ? b : a)),
    high = known.reduce((a, b) => (value(b) > value(a) ? b : a));
  const end = (side: Side): Child => [
    q(place(side), kind, false, kind === "tension" || kind === "percent" ? 3 : 2),
    ` (${label(side)})`,
  ];
  return [end(low), " to ", end(high)];
}
const cut = (name: string, letters: number): string =>
  name.length <= letters ? name : `${name.slice(0, letters - 1)}\u2026`;
/** Rows of sides, named as far as there is room; the place of a side is its key, since two may have one name. */
export const sideRows = (width: number, type: "band" | "point"): Plot.ScaleOptions => ({
  type,
  domain: done.map((side) => side.place),
  label: null,
  tickSize: 0,
  tickFormat: (key: string) => {
    const found = done.find((side) => side.place === key);
    return found ? cut(label(found), width < 500 ? 15 : 28) : "";
  },
});
export const sideRowsMargin = (width: number): number => (width < 500 ? 110 : 200);
