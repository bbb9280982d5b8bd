// SPDX-License-Identifier: BSD-3-Clause
// What older layers lose while newer ones are wound over them.
import * as Plot from "@observablehq/plot";
import {axis, axisLines, type Draw, drawing, extent, fewTicks, ink, type Picture, shown} from "../chart";
import {capital, done, list, num, nums, outputName, type Side, stations} from "../data";
import {type Child, h, q, table, unit} from "../dom";
import * as s from "./sides";

const place = (side: Side, name: string): string => `${s.detail(side)}/buildup/${name}`;
const now = "middle/hoop_tension_N_per_m";
const laid = "middle/as_laid_N_per_m";
const loss = (side: Side): string => s.finding(side, "buildup_loss");
/** Less than this share is a flat line. */
export const losesFilm = (side: Side): boolean => (num(loss(side)) ?? 0) > 0.005;

interface Turn {
  turn: number;
  now: number;
  laid: number;
}
const rows = (side: Side): Turn[] => {
  const turn = nums(place(side, "turn")),
    as = nums(place(side, laid));
  return nums(place(side, now)).map((v, i) => ({
    turn: turn[i],
    now: shown(v, "tension"),
    laid: shown(as[i], "tension"),
  }));
};
const growthAxes = (width: number): Plot.PlotOptions => ({
  x: {
    label: "Turns wound",
    labelAnchor: "center",
    labelArrow: "none",
    domain: [0, Math.max(1, ...s.all(done.map((side) => place(side, "turn"))))],
    ticks: fewTicks(width),
  },
  y: {
    label: axis(`${capital(outputName("hoop_tension_N_per_m"))}, middle`, "tension"),
    labelAnchor: "center",
    labelArrow: "none",
    domain: extent(s.all(done.flatMap((side) => [place(side, now), place(side, laid)]))).map((v) =>
      shown(v, "tension"),
    ),
    grid: true,
    nice: true,
    ticks: 5,
  },
});
const reason = "Every new turn closes the load a little and slackens the film under it, and film relaxes.";

function single(): Picture {
  const side = s.first;
  const growth: Draw = (width) => ({
    height: 260,
    ...growthAxes(width),
    marks: [
      Plot.areaY(rows(side), {x: "turn", y1: "now", y2: "laid", fill: "#f0d9c8"}),
      Plot.line(rows(side), {x: "turn", y: "laid", stroke: ink.grey, strokeDasharray: "6 3", strokeWidth: 2}),
      Plot.line(rows(side), {x: "turn", y: "now", stroke: ink.orange, strokeWidth: 2.5}),
    ],
  });
  const before = nums(place(side, "layers/as_laid_N_per_m"));
  const layers = nums(place(side, "layers/end_N_per_m")).map((v, i) => ({
    layer: i + 1,
    now: shown(v, "tension"),
    laid: shown(before[i], "tension"),
  }));
  const bars: Draw = (width) => {
    const gap = width < 180 ? 0.5 : 2;
    return {
      height: 260,
      x: {
        label: axisLines("Layer, from inside", "count", width),
        labelAnchor: "center",
        labelArrow: "none",
        type: "band",
        tickSize: 0,
        ticks: layers.map((l) => l.layer).filter((l) => (l - 1) % Math.ceil((16 * layers.length) / (width - 60)) === 0),
      },
      y: {
        label: axis("Tension of the layer", "tension"),
        labelAnchor: "center",
        labelArrow: "none",
        domain: extent(s.all([place(side, "layers/as_laid_N_per_m"), place(side, "layers/end_N_per_m")])).map((v) =>
          shown(v, "tension"),
        ),
        grid: true,
        nice: true,
        ticks: 5,
      },
      marks: [
        Plot.barY(layers, {x: "layer", y: "now", fill: ink.orange, insetLeft: gap, insetRight: gap}),
        Plot.tickY(layers, {x: "layer", y: "laid", stroke: ink.black, strokeWidth: 2.5}),
        Plot.ruleY([0]),
      ],
    };
  };
  return {
    id: "build-up",
    title: [
      s.whose(),
      "When wrapping ends, older layers have lost ",
      q(loss(side), "share", false, 2),
      " of the tension they were laid with",
    ],
    keys: [
      {name: outputName("hoop_tension_N_per_m"), colour: ink.orange, dash: ""},
      {name: "sum as laid", colour: ink.grey, dash: "6 3"},
    ],
    layout: "duo",
    panels: [
      {
        drawings: [
          drawing(
            "Hoop tension at the middle after each turn, below the sum of what the film carried when it was laid.",
            growth,
          ),
          drawing(
            "Tension of each film layer at the middle at the end of wrapping, against what it had when it was laid.",
            bars,
          ),
        ],
      },
    ],
    caption: [reason, " The shaded gap is that loss; in the bars, black marks are the tension as laid."],
    tables: s.perSide(numbers),
  };
}

function both({present, candidate}: s.Pair): Picture {
  return {
    id: "build-up",
    wide: true,
    title: [
      "While wrapping goes on, older layers of the candidate lose ",
      q(loss(candidate), "share", false, 2),
      " of the tension they were laid with, those of the present wrap ",
      q(loss(present), "share", false, 2),
    ],
    keys: [...s.bothKeys, {name: "sums as laid", colour: ink.grey, dash: "2 3"}],
    layout: "timed",
    panels: [
      {
        drawings: [
          drawing(
            "Hoop tension at the middle after each turn, candidate and present wrap, below the sums as laid.",
            (width) => ({
              height: 270,
              ...growthAxes(width),
              marks: s.bothSides.flatMap(([side, stroke]) => [
                Plot.line(rows(side), {
                  x: "turn",
                  y: "laid",
                  stroke: stroke.colour,
                  strokeDasharray: "2 3",
                  strokeWidth: 1.5,
                }),
                Plot.line(rows(side), {x: "turn", y: "now", ...s.pen(stroke)}),
              ]),
            }),
          ),
          lossBars(200),
        ],
      },
    ],
    caption: [reason, " The sides have turns of their own, so what is compared is the share lost when wrapping ends."],
    tables: s.perSide(numbers),
  };
}

/** What every side has lost when wrapping ends, as bars from zero. */
const lossBars = (height: number): HTMLElement =>
  drawing("Share of the tension as laid that is lost when wrapping ends, for every side.", (width) => ({
    height,
    marginLeft: s.sideRowsMargin(width),
    x: {
      label: axisLines("Lost when wrapping ends", "share", width),
      domain: extent([0, ...done.map((side) => num(loss(side)) ?? NaN)]).map((v) => shown(v, "share")),
      nice: true,
      grid: true,
      ticks: fewTicks(width - s.sideRowsMargin(width)),
      labelAnchor: "center",
      labelArrow: "none",
    },
    y: s.sideRows(width, "band"),
    marks: [
      Plot.barX(done, {
        x: (side: Side) => shown(num(loss(side)) ?? NaN, "share"),
        y: "place",
        fill: (side: Side) => (side === s.present ? ink.orange : ink.blue),
        insetTop: 3,
        insetBottom: 3,
      }),
      Plot.ruleX([0]),
    ],
  }));

function small(): Picture {
  return {
    id: "build-up",
    wide: true,
    title: [
      "While wrapping goes on, older layers lose ",
      s.rangeOf(done, loss, "share"),
      " of the tension they were laid with",
    ],
    panels: [{drawings: [lossBars(60 + 26 * done.length)]}],
    caption: [reason, s.present ? " The present wrap has the other colour." : ""],
    tables: s.perSide(numbers),
  };
}

const numbers = (side: Side): Child => [
  table(
    s.captionOf(side, "Hoop tension after each turn"),
    [
      {head: "Turn", numeric: true},
      ...stations.flatMap((n) => [
        {head: [n, unit("tension")] as Child, numeric: true},
        {head: [`${n}, sum as laid`, unit("tension")] as Child, numeric: true},
      ]),
    ],
    list(place(side, "turn")).map((_, i) => [
      q(`${place(side, "turn")}/${i}`, "count", true),
      ...stations.flatMap((n) => [
        q(`${place(side, `${n}/hoop_tension_N_per_m`)}/${i}`, "tension", true),
        q(`${place(side, `${n}/as_laid_N_per_m`)}/${i}`, "tension", true),
      ]),
    ]),
  ),
  table(
    s.captionOf(side, "Film layers at the middle, end of wrapping"),
    [
      {head: "Layer", numeric: true},
      {head: ["As laid", unit("tension")], numeric: true},
      {head: ["End of wrapping", unit("tension")], numeric: true},
    ],
    list(place(side, "layers/end_N_per_m")).map((_, i) => [
      h("span", {"data-count": true}, String(i + 1)),
      q(`${place(side, "layers/as_laid_N_per_m")}/${i}`, "tension", true),
      q(`${place(side, "layers/end_N_per_m")}/${i}`, "tension", true),
    ]),
  ),
];

/** Nothing where no side loses anything: the lines would lie on one another. */
export const buildUp = (): Picture | null =>
  !done.some(losesFilm) ? null : s.pair ? both(s.pair) : s.several ? small() : single();
export const noBuildUp = (): Child =>
  "Until wrapping ends the film keeps the tension it was laid with, so no picture of the build-up is drawn.";
