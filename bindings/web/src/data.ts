// SPDX-License-Identifier: BSD-3-Clause
// The data of the page, and access to it by place, so that every number shown can be traced.

export type Value = number | string | boolean | null | Value[] | {[key: string]: Value};
export type Station = "top" | "middle" | "bottom";
export type Moment = "end" | "weakest" | "after_storage";
export type Face = "front" | "left" | "back" | "right";
export const stations: Station[] = ["top", "middle", "bottom"];
export const faces: Face[] = ["front", "left", "back", "right"];

const element = document.getElementById("report-data");
export const data = JSON.parse(element?.textContent ?? "null") as {[key: string]: Value};

/** The value at a place such as "sides/0/summary/film/mass_kg"; undefined where there is none. */
export function at(place: string): Value | undefined {
  let value: Value | undefined = data;
  for (const key of place.split("/")) {
    if (value === null || typeof value !== "object") return undefined;
    value = Array.isArray(value) ? value[Number(key)] : value[key];
  }
  return value;
}

export const num = (place: string): number | null => {
  const value = at(place);
  return typeof value === "number" ? value : null;
};
export const text = (place: string): string => {
  const value = at(place);
  return typeof value === "string" ? value : "";
};
export const list = (place: string): Value[] => {
  const value = at(place);
  return Array.isArray(value) ? value : [];
};
/** Numbers at a place; what is not a number becomes NaN, which a picture leaves out. */
export const nums = (place: string): number[] => list(place).map((v) => (typeof v === "number" ? v : NaN));
export const has = (place: string): boolean => {
  const value = at(place);
  return value !== undefined && value !== null;
};

/** How the program declares that a number becomes the unit of a style: shown = number * factor + offset. */
interface InUnit {
  unit: string;
  factor: number;
  offset: number;
}
export interface InStyles {
  metric: InUnit;
  inch_pound: InUnit;
}
export const declaredKinds = (data?.kinds ?? {}) as unknown as {[kind: string]: InStyles};

/** What the program declares of an output: its words, and whether it is an amount of money. */
export interface Output extends InStyles {
  label: string;
  money?: boolean;
}
export const outputs = (data?.outputs ?? {}) as unknown as {[place: string]: Output};

export const capital = (words: string): string => words.slice(0, 1).toUpperCase() + words.slice(1);
/** Words up to what explains them: "cost per load" of "cost per load: film and, where known, roll changes". */
const before = (words: string, mark: RegExp): string => words.split(mark)[0];

/** An output by its place in the summary without moments and stations, "film/mass_kg": the words declared for it. */
export const outputWords = (place: string): string => capital(outputs[place]?.label ?? "");
/** Its name alone: "hoop tension" of "hoop tension, mean of the faces". */
export const outputName = (place: string): string => before(outputs[place]?.label ?? "", /[,:]/);
/** The words declared for an input of the settings card. */
export const inputLabel = (key: string): string => {
  const labels = (data?.input_labels ?? {}) as {[key: string]: string};
  return labels[key] ?? "";
};
/** Where the words for a number of a comparison stand, by its name there. */
export const quantityPlace = (name: string): string => {
  const found = list("comparison/quantities").findIndex((_, i) => text(`comparison/quantities/${i}/name`) === name);
  return `comparison/quantities/${found}`;
};
export const quantityWords = (name: string): string => capital(before(text(`${quantityPlace(name)}/long_name`), /:/));

export interface Side {
  index: number;
  place: string; // "sides/0"
  name: string;
  failed: boolean;
  measured: boolean;
  message: string;
}

/** The sides of a comparison were drawn over what is uncertain. */
export const areDrawn = (num("comparison/mode/band_samples") ?? 0) > 0;

export const sides: Side[] = list("sides").map((_, index) => ({
  index,
  place: `sides/${index}`,
  name: text(`sides/${index}/name`),
  failed: at(`sides/${index}/failed`) === true,
  measured: at(`sides/${index}/measured`) === true,
  message: text(`sides/${index}/message`),
}));
export const done: Side[] = sides.filter((side) => !side.failed && !side.measured);
export const predicted = (side: Side): boolean => !side.failed && !side.measured;
export const whatIsMissing = (side: Side): string => (side.failed ? "not computed" : side.measured ? "measured" : "");
export const many = sides.length > 1;

/** Places of the warnings about a side. A comparison holds its own about that side beside those of the prediction. */
export function warningsOf(side: Side): string[] {
  const compared = `comparison/sides/${side.index}/warnings`;
  const place = has(compared) ? compared : `${side.place}/summary/warnings`;
  return list(place).map((_, i) => `${place}/${i}`);
}
/** Places of the warnings about the comparison as a whole. */
export const warningsOfAll = (): string[] => list("comparison/warnings").map((_, i) => `comparison/warnings/${i}`);

/** Sides in groups that a sheet of paper holds as columns. */
export const blocks: Side[][] = [];
const widest = 4;
for (let from = 0; from < sides.length; from += widest) blocks.push(sides.slice(from, from + widest));

/** A name that fits a column head; the whole of it stands among the inputs. */
export function short(name: string, most = 60): string {
  const letters = [...name];
  return letters.length <= most ? name : letters.slice(0, most - 1).join("") + "\u2026";
}
export const label = (side: Side): string => short(side.name) || `side ${side.index + 1}`;

/** Where a station of a side stands at a moment. */
export const containmentOf = (side: Side, moment: Moment, station: string): string =>
  `${side.place}/summary/containment/${moment}/${station}`;
export const isStored = (side: Side): boolean => (num(`${side.place}/detail/storage_s`) ?? 0) > 0;
export const anyStored: boolean = done.some(isStored);
/** Where the target of a station stands; undefined where none is set. */
export function targetOf(side: Side, station: string): string | undefined {
  const targets = `${side.place}/summary/targets`;
  const found = list(targets).findIndex((_, i) => text(`${targets}/${i}/station`) === station);
  return found < 0 ? undefined : `${targets}/${found}`;
}
