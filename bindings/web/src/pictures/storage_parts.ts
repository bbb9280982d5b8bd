// SPDX-License-Identifier: BSD-3-Clause
// What the pictures of storage share: the axis of time, the series of a station, its weakest moment, the temperature.
import * as Plot from "@observablehq/plot";
import {axis, axisLines, drawing, extent, onTop, shown, styleNow} from "../chart";
import {capital, done, label, num, nums, outputName, type Side, type Station, containmentOf} from "../data";
import {type Child, q} from "../dom";
import {duration, readable, words} from "../units";
import * as s from "./sides";
import {timeAxis} from "./time_axis";

export const place = (side: Side, name: string): string => `${s.detail(side)}/over_time/${name}`;
export const tensionName = capital(outputName("hoop_tension_N_per_m"));
export const weakest = (side: Side, station: Station, name: string): string =>
  `${containmentOf(side, "weakest", station)}/${name}`;
const ends = done.map((side) => num(`${s.detail(side)}/storage_s`) ?? 0);
export const time = timeAxis(Math.max(...ends, 10));
const left = 64;
export const right = 16;

const temperatures = (side: Side): number[] => nums(place(side, "temperature_C"));
export const isSteady = (side: Side): boolean => {
  const values = temperatures(side);
  return Math.max(...values) - Math.min(...values) < 0.05;
};
const same = (a: number[], b: number[]): boolean => a.length === b.length && a.every((value, i) => value === b[i]);
export const sameWarmth = (a: Side, b: Side): boolean =>
  same(nums(place(a, "time_s")), nums(place(b, "time_s"))) && same(temperatures(a), temperatures(b));

export function along(width: number, options: {margin?: number; named?: boolean} = {}): Plot.ScaleOptions {
  const ticks = time.ticks(width - (options.margin ?? left) - right);
  return {
    domain: [0, 1],
    label: options.named === false ? null : axisLines(capital(outputName("time_s")), "count", width),
    labelAnchor: "center",
    labelArrow: "none",
    ticks: ticks.map((t) => t.at),
    tickFormat: (at: number) => ticks.find((t) => Math.abs(t.at - at) < 1e-9)?.name ?? "",
  };
}
/** The part of the axis that runs by the logarithm is shaded. */
export const shade = (): Plot.Markish[] =>
  time.split === null
    ? []
    : [
        Plot.rect([0], {x1: 0, x2: time.split, fill: "#eef1f3"}),
        Plot.ruleX([time.split], {stroke: "#9aa5ad", strokeWidth: 1}),
      ];

interface Point {
  at: number;
  value: number;
}
/** The series of a station with its weakest moment, which may lie between the times kept. */
export function series(side: Side, station: Station): Point[] {
  const times = nums(place(side, "time_s"));
  const points = nums(place(side, `${station}_N_per_m`)).map((v, i) => ({t: times[i], v}));
  const moment = num(weakest(side, station, "time_s")),
    value = num(weakest(side, station, "hoop_tension_N_per_m"));
  if (moment !== null && value !== null && !times.includes(moment)) points.push({t: moment, v: value});
  points.sort((a, b) => a.t - b.t);
  return points.map(({t, v}) => ({at: time.place(t), value: shown(v, "tension")}));
}
export const xy = {x: "at", y: "value"};

/** Words at a ring stand on two lines where one would reach too far. */
export const onTwoLines = (width: number): boolean => width - left - right < 440;
/** A ring where a station is weakest, with words above or below it that stay beside the axes. */
export function mark(
  side: Side,
  station: Station,
  colour: string,
  words_?: {width: number; below: boolean},
): Plot.Markish[] {
  const moment = num(weakest(side, station, "time_s")) ?? NaN,
    value = num(weakest(side, station, "hoop_tension_N_per_m")) ?? NaN;
  const point = {at: time.place(moment), value: shown(value, "tension")};
  const ring = Plot.dot([point], {
    ...xy,
    r: 5,
    fill: "#ffffff",
    stroke: colour,
    strokeWidth: 2.5,
    className: "weakest",
  });
  if (!words_) return [ring];
  const after = moment > 0 ? `after ${duration(moment)}` : "when wrapping ends";
  const room = words_.width - left - right;
  const half = onTwoLines(words_.width) ? 64 : 110;
  const start = point.at * room < half,
    end = (1 - point.at) * room < half;
  return [
    ring,
    Plot.text([point], {
      ...xy,
      text: () => `weakest: ${words(value, "tension", styleNow())}${onTwoLines(words_.width) ? "\n" : " "}${after}`,
      textAnchor: end ? "end" : start ? "start" : "middle",
      lineAnchor: words_.below ? "top" : "bottom",
      dx: end ? 6 : start ? -6 : 0,
      dy: words_.below ? 10 : -10,
      fill: colour,
      stroke: "#ffffff",
      strokeWidth: 4,
      fontWeight: 600,
    }),
  ];
}

export const upwards = (values: number[], words_: string): Plot.ScaleOptions => ({
  label: axis(words_, "tension"),
  domain: extent(values).map((v) => shown(v, "tension")),
  grid: true,
  nice: true,
  labelAnchor: "center",
  labelArrow: "none",
  ticks: 5,
});

export function warmth(drawn: [Side, Plot.LineOptions][]): HTMLElement {
  const values = drawn.flatMap(([side]) => temperatures(side));
  const low = Math.min(...values),
    high = Math.max(...values),
    room = 0.12 * (high - low) || 1;
  return drawing("Storage temperature over the same time.", (width) => ({
    height: 130,
    marginRight: right,
    x: along(width),
    y: {
      label: axis("Temperature", "celsius"),
      domain: [shown(low - room, "celsius"), shown(high + room, "celsius")],
      // The ends of the history are what a reader looks for.
      ticks: low < high ? [shown(low, "celsius"), shown(high, "celsius")] : [shown(low, "celsius")],
      tickFormat: (value: number) => readable(value),
      grid: true,
      ...onTop,
    },
    marks: [
      ...shade(),
      ...drawn.map(([side, line]) =>
        Plot.line(
          temperatures(side).map((v, i) => ({
            at: time.place(nums(place(side, "time_s"))[i]),
            value: shown(v, "celsius"),
          })),
          {...xy, ...line, className: "temperature"},
        ),
      ),
    ],
  }));
}

/** What the axis is, and the temperature in words where a line of it would be flat. */
export function caption(sides: Side[]): Child {
  const steady = sides.every(isSteady);
  const warm = (side: Side): Child => q(`${place(side, "temperature_C")}/0`, "celsius");
  const alike = sides.every((side) => Math.abs(temperatures(side)[0] - temperatures(sides[0])[0]) < 0.05);
  return [
    time.split === null ? "Time is linear" : "The shaded first hour is logarithmic, what follows linear",
    !steady
      ? "; temperature below on the same axis."
      : alike
        ? ["; storage is at ", warm(sides[0]), " throughout."]
        : ["; storage is at ", sides.map((side, i) => [i ? ", " : "", warm(side), ` (${label(side)})`]), "."],
  ];
}
