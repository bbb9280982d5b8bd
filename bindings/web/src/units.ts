// SPDX-License-Identifier: BSD-3-Clause
// From the units of the JSON object (they stand in its key names) to those a person reads.

import {outputs} from "./data";

export type Style = "metric" | "inch-pound";
export interface Shown {
  factor: number;
  offset?: number;
  unit: string;
}
/** `output:film/mass_kg` is the kind of a number that the program declares; the others are named here. */
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
  | "fine"
  | "price"
  | "minutes"
  | "seconds"
  | "hours"
  | "hourly"
  | "km"
  | "energyfactor"
  | "celsius"
  | "speed"
  | "carriage"
  | "count"
  | "ratio"
  | "rate"
  | "angle"
  | "money"
  | "energy"
  | "footprint"
  | "stress";

const inch = 0.0254;
const pound = 0.45359237;
const poundForce = 4.4482216152605;

const same = (unit: string, factor = 1): Record<Style, Shown> => ({
  metric: {factor, unit},
  "inch-pound": {factor, unit},
});

const named: Record<NamedKind, Record<Style, Shown>> = {
  tension: {metric: {factor: 1, unit: "N/m"}, "inch-pound": {factor: inch / poundForce, unit: "lbf/in"}},
  force: {metric: {factor: 1, unit: "N"}, "inch-pound": {factor: 1 / poundForce, unit: "lbf"}},
  height: {metric: {factor: 1, unit: "m"}, "inch-pound": {factor: 1 / inch, unit: "in"}},
  place: {metric: {factor: 1e3, unit: "mm"}, "inch-pound": {factor: 1 / inch, unit: "in"}},
  small: {metric: {factor: 1, unit: "mm"}, "inch-pound": {factor: 1e-3 / inch, unit: "in"}},
  length: {metric: {factor: 1, unit: "m"}, "inch-pound": {factor: 1 / (12 * inch), unit: "ft"}},
  mass: {metric: {factor: 1e3, unit: "g"}, "inch-pound": {factor: 16 / pound, unit: "oz"}},
  bigmass: {metric: {factor: 1, unit: "kg"}, "inch-pound": {factor: 1 / pound, unit: "lb"}},
  fine: {metric: {factor: 1, unit: "kg"}, "inch-pound": {factor: 1 / pound, unit: "lb"}},
  price: {metric: {factor: 1, unit: "per kg"}, "inch-pound": {factor: pound, unit: "per lb"}},
  km: {metric: {factor: 1, unit: "km"}, "inch-pound": {factor: 1 / (12e-3 * inch), unit: "ft"}},
  energyfactor: {metric: {factor: 1, unit: "MJ/kg"}, "inch-pound": {factor: pound, unit: "MJ/lb"}},
  minutes: same("min"),
  seconds: same("s"),
  hours: same("h"),
  hourly: same("per h"),
  speed: {metric: {factor: 1, unit: "m/s"}, "inch-pound": {factor: 60 / (12 * inch), unit: "ft/min"}},
  carriage: {metric: {factor: 1, unit: "m/min"}, "inch-pound": {factor: 1 / (12 * inch), unit: "ft/min"}},
  celsius: {metric: {factor: 1, unit: "\u00b0C"}, "inch-pound": {factor: 1.8, offset: 32, unit: "\u00b0F"}},
  percent: same("%"),
  points: same("%"),
  share: same("%", 100),
  change: same("%", 100),
  size: same("%", 100),
  time: same("s"),
  count: same(""),
  ratio: same(""),
  rate: same("1/s"),
  angle: same("\u00b0"),
  money: same(""),
  energy: same("MJ"),
  stress: {metric: {factor: 1, unit: "MPa"}, "inch-pound": {factor: (1e6 * inch * inch) / poundForce, unit: "psi"}},
  footprint: {metric: {factor: 1, unit: "kg CO2e"}, "inch-pound": {factor: 1 / pound, unit: "lb CO2e"}},
};

export const kinds = {...named} as Record<Kind, Record<Style, Shown>>;
for (const [place, {metric, inch_pound}] of Object.entries(outputs))
  kinds[`output:${place}`] = {metric, "inch-pound": inch_pound};

/** A number of more than `most` digits before the point, rounded to that many: 12 346 becomes 12 350. */
const rounded = (size: number, most: number): number => {
  const unit = 10 ** (Math.floor(Math.log10(size) + 1e-12) + 1 - most);
  return unit > 1 ? Math.round(size / unit) * unit : size;
};

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
  const [whole, rest] = words.split(".");
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return (value < 0 ? "\u2212" : "") + grouped + (rest ? "." + rest : "");
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
  const [whole, rest] = size.toFixed(decimals).split(".");
  const grouped = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, "\u202f") : whole;
  return (value < 0 ? "\u2212" : "") + grouped + (rest ? "." + rest : "");
}

export function convert(value: number, kind: Kind, style: Style): number {
  const {factor, offset = 0} = kinds[kind][style];
  return value * factor + offset;
}

export function words(value: number, kind: Kind, style: Style, bare = false, digits = 3): string {
  if (kind === "time") return duration(value);
  const shown = convert(value, kind, style);
  const unit = bare ? "" : kinds[kind][style].unit;
  let number =
    kind === "money" ? money(shown) : readable(kind === "size" || kind === "points" ? Math.abs(shown) : shown, digits);
  if (kind === "change" && shown > 0) number = "+" + number;
  return unit === "" ? number : `${number}\u00a0${unit}`;
}
