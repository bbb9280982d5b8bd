// SPDX-License-Identifier: BSD-3-Clause
// What the pictures over height share: axes, the points of a side, its table.
import * as Plot from "@observablehq/plot";
import {axis, axisLines, type Draw, extent, fewTicks, shown} from "../chart";
import {capital, done, faces, list, num, nums, outputName, type Side} from "../data";
import {type Child, q, table, unit} from "../dom";
import * as s from "./sides";

export const place = (side: Side, name: string): string => `${s.detail(side)}/over_height/${name}`;
export const last = "after_storage_N_per_m/mean";
export const least = (side: Side, name: string): string =>
  `${side.place}/summary/containment/after_storage/least/${name}`;
export const tensionName = capital(outputName("hoop_tension_N_per_m"));
export const layersName = capital(outputName("film_layers"));
const heights = extent(done.map((side) => num(`${s.detail(side)}/load/height_m`) ?? NaN));
export const tensions = extent(s.all(done.flatMap((side) => [place(side, "end_N_per_m/mean"), place(side, last)])));

/** Height is drawn upwards in every panel. */
export const upwards = (named = true): Plot.ScaleOptions => ({
  label: named ? axis("Height", "height") : null,
  domain: heights.map((v) => shown(v, "height")),
  grid: true,
  labelAnchor: "center",
  labelArrow: "none",
  ticks: 5,
});
interface Point {
  x: number;
  y: number;
}
function rows(side: Side, name: string, scale: (v: number) => number): Point[] {
  const z = nums(place(side, "height_m"));
  return nums(place(side, name)).map((v, i) => ({x: scale(v), y: shown(z[i], "height")}));
}
export const tensionRows = (side: Side, name: string): Point[] => rows(side, name, (v) => shown(v, "tension"));
export const across = (words: string, width: number): Plot.ScaleOptions => ({
  label: axisLines(words, "tension", width),
  labelAnchor: "center",
  labelArrow: "none",
  nice: true,
  ticks: fewTicks(width),
});
export const xy = {x: "x", y: "y"};

export const layers =
  (drawn: [Side, Plot.LineOptions][], height: number): Draw =>
  (width) => ({
    height,
    marginLeft: 42,
    x: {
      label: axisLines(layersName, "count", width),
      domain: extent(s.all(done.map((side) => place(side, "film_layers/mean")))),
      labelAnchor: "center",
      labelArrow: "none",
      nice: true,
      ticks: Math.max(2, Math.floor((width - 40) / 40)),
    },
    y: upwards(false),
    marks: [
      Plot.ruleX([0]),
      ...drawn.map(([side, line]) =>
        Plot.line(
          rows(side, "film_layers/mean", (v) => v),
          {...xy, ...line},
        ),
      ),
    ],
  });

export const numbers = (side: Side): Child =>
  table(
    s.captionOf(side, "Hoop tension and film layers over height"),
    [
      {head: ["Height", unit("height")], numeric: true},
      {head: ["End, mean of faces", unit("tension")], numeric: true},
      {head: ["After storage, mean", unit("tension")], numeric: true},
      ...faces.map((f) => ({head: [`After storage, ${f}`, unit("tension")] as Child, numeric: true})),
      {head: [layersName, ", mean"], numeric: true},
    ],
    list(place(side, "height_m")).map((_, i) => [
      q(`${place(side, "height_m")}/${i}`, "height", true),
      q(`${place(side, "end_N_per_m/mean")}/${i}`, "tension", true),
      q(`${place(side, last)}/${i}`, "tension", true),
      ...faces.map((f) => q(`${place(side, `after_storage_N_per_m/${f}`)}/${i}`, "tension", true)),
      q(`${place(side, "film_layers/mean")}/${i}`, "count", true),
    ]),
  );
