// SPDX-License-Identifier: BSD-3-Clause
// From the units of the JSON object (they stand in its key names) to those a person reads.

import {declaredKinds, outputs} from "./data";

export type Style = "metric" | "inch-pound";
export interface Shown {
  factor: number;
  offset?: number;
  unit: string;
}
/** `output:film/mass_kg` is the kind of an output; what a name means stands in the data. */
export type Kind = NamedKind | `output:${string}`;
type NamedKind =
  | "tension"
  | "force"
  | "place"
  | "size"
  | "height"
  | "small"
  | "length"
  | "mass"
  | "bigmass"
  | "percent"
  | "points"
  | "share"
  | "change"
  | "time"
  | "price"
  | "seconds"
  | "celsius"
  | "speed"
  | "carriage"
  | "count"
  | "ratio"
  | "rate"
  | "angle"
  | "money"
  | "stress";

const both = (list: typeof declaredKinds, name: (key: string) => Kind): [Kind, Record<Style, Shown>][] =>
  Object.entries(list).map(([key, {metric, inch_pound}]) => [name(key), {metric, "inch-pound": inch_pound}]);
export const kinds = Object.fromEntries([
  ...both(declaredKinds, (key) => key as Kind),
  ...both(outputs, (place) => `output:${place}`),
]) as Record<Kind, Record<Style, Shown>>;

/** Whether a number of this kind stands in a currency: an amount, or a price for something. */
export const isMoney = (kind: Kind): boolean =>
  kind === "money" || kind === "price" || outputs[kind.replace("output:", "")]?.money === true;

/** A number of more than `most` digits before the point, rounded to that many: 12 346 becomes 12 350. */
const rounded = (size: number, most: number): number => {
  const unit = 10 ** (Math.floor(Math.log10(size) + 1e-12) + 1 - most);
  return unit > 1 ? Math.round(size / unit) * unit : size;
};

/** Digits in print: a true minus, thousands set apart by a narrow space. */
function printed(digits: string, negative: boolean): string {
  const [whole, rest] = digits.split(".");
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return (negative ? "\u2212" : "") + grouped + (rest ? "." + rest : "");
}

/**
 * Three digits that matter, whole numbers from 100 up, never more than four digits unless more are asked for;
 * thousands set apart by a narrow space; no exponent above 1e-6.
 */
export function readable(value: number, digits = 3): string {
  if (!Number.isFinite(value)) return "\u2013";
  if (value === 0) return "0";
  const size = rounded(Math.abs(value), Math.max(digits, 4));
  if (size < 1e-6) return value.toExponential(2);
  const power = Math.floor(Math.log10(size) + 1e-12);
  let decimals = Math.max(0, digits - 1 - power);
  if (Number(size.toFixed(decimals)) >= 10 ** (power + 1)) decimals = Math.max(0, decimals - 1);
  let words = size.toFixed(decimals);
  if (words.includes(".")) words = words.replace(/\.?0+$/, "");
  return printed(words, value < 0);
}

/** Seconds as people say them. */
export function duration(seconds: number): string {
  const size = Math.abs(seconds);
  if (size >= 172800 || size === 86400) return `${readable(seconds / 86400)} ${size === 86400 ? "day" : "days"}`;
  if (size >= 3600) return `${readable(seconds / 3600)} h`;
  if (size >= 120) return `${readable(seconds / 60)} min`;
  return `${readable(seconds)} s`;
}

/** Cents matter in money until hundreds hide them, and a tenth of one where film costs less than a unit. */
export function money(value: number): string {
  const size = value === 0 ? 0 : rounded(Math.abs(value), 4);
  const decimals = size >= 100 ? 0 : size < 0.005 ? 4 : size < 1 ? 3 : 2;
  return printed(size.toFixed(decimals), value < 0);
}

export function convert(value: number, kind: Kind, style: Style): number {
  const {factor, offset = 0} = kinds[kind][style];
  return value * factor + offset;
}

/** A number to the digits that the width of its band leaves. */
function stepped(value: number, width: number): string {
  const power = Math.floor(Math.log10(Math.abs(width) / 20));
  const step = 10 ** power;
  const size = Math.abs(Math.round(value / step) * step);
  return printed(size.toFixed(Math.max(0, -power)), value < 0 && size > 0);
}

/** `width` is that of the band of the number, as the JSON object has it; 0 where there is none. */
export function words(value: number, kind: Kind, style: Style, bare = false, digits = 3, width = 0): string {
  if (kind === "time") return duration(value);
  const shown = convert(value, kind, style);
  const unit = bare ? "" : kinds[kind][style].unit;
  let number =
    width > 0
      ? stepped(shown, width * kinds[kind][style].factor)
      : isMoney(kind) && kinds[kind][style].unit === ""
        ? money(shown)
        : readable(kind === "size" || kind === "points" ? Math.abs(shown) : shown, digits);
  if (kind === "change" && shown > 0) number = "+" + number;
  return unit === "" ? number : `${number}\u00a0${unit}`;
}
