// SPDX-License-Identifier: BSD-3-Clause
// Force of the film over its stretch, with the places of pre-stretch, lay-down and storage.
import * as Plot from "@observablehq/plot";
import {axis, type Draw, drawing, extent, fewTicks, ink, onTop, type Picture, shown, type Stroke} from "../chart";
import {done, label, list, num, nums, type Side, text} from "../data";
import {type Child, q, table, unit} from "../dom";
import * as s from "./sides";

const place = (side: Side, name: string): string => `${s.detail(side)}/film/${name}`;
const onLoad = (side: Side): string => `${side.place}/summary/film/stretch_on_load_percent`;
const pointNames: {[name: string]: string} = {
  prestretch: "pre-stretch",
  on_load: "on the load",
  after_storage: "after storage, middle",
};
const symbols: {[name: string]: Plot.SymbolType} = {prestretch: "square", on_load: "circle", after_storage: "triangle"};
const curves = (side: Side): number[] => list(place(side, "curves")).map((_, i) => i);
const points = (side: Side): number[] => list(place(side, "points")).map((_, i) => i);

interface Point {
  key: string;
  x: number;
  low: number;
  high: number;
  y: number;
}
const pointRows = (side: Side): Point[] =>
  points(side).map((i) => ({
    key: text(place(side, `points/${i}/name`)),
    x: num(place(side, `points/${i}/stretch_percent`)) ?? NaN,
    low: num(place(side, `points/${i}/stretch_low_percent`)) ?? NaN,
    high: num(place(side, `points/${i}/stretch_high_percent`)) ?? NaN,
    y: shown(num(place(side, `points/${i}/force_N`)) ?? NaN, "force"),
  }));
function axes(width: number): Plot.PlotOptions {
  const forces = done.flatMap((side) => [
    ...curves(side).flatMap((i) => nums(place(side, `curves/${i}/force_N`))),
    ...points(side).map((i) => num(place(side, `points/${i}/force_N`)) ?? NaN),
  ]);
  const reach = done.flatMap((side) => [
    ...curves(side).flatMap((i) => nums(place(side, `curves/${i}/stretch_percent`))),
    ...points(side).map((i) => num(place(side, `points/${i}/stretch_high_percent`)) ?? NaN),
  ]);
  return {
    symbol: {legend: false},
    x: {
      label: axis("Stretch", "percent"),
      domain: [0, extent(reach)[1]],
      labelAnchor: "center",
      labelArrow: "none",
      nice: true,
      ticks: fewTicks(width),
    },
    y: {
      label: axis(s.several ? "Force" : "Force of the whole width", "force"),
      domain: extent(forces).map((v) => shown(v, "force")),
      grid: true,
      nice: true,
      ticks: 5,
      ...onTop,
    },
  };
}
function marks(side: Side, stroke: Stroke, slow: boolean): Plot.Markish[] {
  const rows = pointRows(side);
  return [
    ...curves(side)
      .filter((i) => i === 0 || slow)
      .map((i) =>
        Plot.line(
          nums(place(side, `curves/${i}/force_N`)).map((v, k) => ({
            x: nums(place(side, `curves/${i}/stretch_percent`))[k],
            y: shown(v, "force"),
          })),
          {
            x: "x",
            y: "y",
            ...(i === 0 ? s.pen(stroke, 2) : {stroke: ink.grey, strokeWidth: 2, strokeDasharray: "2 3"}),
          },
        ),
      ),
    Plot.ruleY(rows, {x1: "low", x2: "high", y: "y", stroke: stroke.colour, strokeWidth: 2}),
    Plot.dot(rows, {
      x: "x",
      y: "y",
      symbol: (p: Point) => symbols[p.key] ?? "circle",
      fill: stroke.colour,
      stroke: "#ffffff",
      r: 6,
    }),
  ];
}
const pointKeys: Stroke[] = Object.keys(pointNames).map((key) => ({
  name: pointNames[key],
  colour: s.pair ? ink.black : ink.blue,
  dash: "",
  symbol: symbols[key],
}));
const explained = "Between the rollers it keeps its width and warms up: the mark may lie off the curve.";

const title = (): Child => {
  if (s.pair)
    return [
      "On the load the film of the candidate is stretched by ",
      q(onLoad(s.pair.candidate), "percent"),
      ", that of the present wrap by ",
      q(onLoad(s.pair.present), "percent"),
    ];
  if (s.several) return ["On the load the films are stretched by ", s.rangeOf(done, onLoad, "percent")];
  return [
    s.whose(),
    (num(s.finding(s.first, "stretch_given_back_percent")) ?? 0) < 0
      ? "The span stretches the film further by "
      : "The film gives back ",
    q(s.finding(s.first, "stretch_given_back_percent"), "points"),
    " of stretch behind the rollers and reaches ",
    q(onLoad(s.first), "percent"),
  ];
};

export function stiffness(): Picture {
  const alone: Stroke = {name: "", colour: ink.blue, dash: ""};
  const draw =
    (side: Side, height: number): Draw =>
    (width) => ({height, marginRight: 20, ...axes(width), marks: marks(side, alone, true)});
  const pictured = s.pair ? [s.pair.candidate] : s.several ? done : [s.first];
  return {
    id: "stiffness",
    wide: s.several,
    title: title(),
    keys: [
      ...(s.pair
        ? s.bothKeys
        : s.several
          ? []
          : curves(s.first).map((i) => ({
              name: "",
              words: ["pulled at ", q(place(s.first, `curves/${i}/rate_per_s`), "rate")],
              colour: i === 0 ? ink.blue : ink.grey,
              dash: i === 0 ? "" : "2 3",
            }))),
      ...pointKeys,
    ],
    layout: s.several ? "small" : undefined,
    panels: pictured.map((side) => ({
      name: s.several ? label(side) : undefined,
      drawings: [
        s.pair
          ? drawing(
              "Force of the whole film width over stretch, candidate and present wrap in one panel.",
              (width) => ({
                height: 290,
                marginRight: 20,
                ...axes(width),
                marks: s.bothSides.flatMap(([one, stroke]) => marks(one, stroke, false)),
              }),
            )
          : drawing(
              `Force of the whole film width over stretch${s.several ? ` for ${label(side)}` : ""}, pulled fast and slowly, with the places of pre-stretch, lay-down and storage.`,
              draw(side, s.several ? 200 : 290),
            ),
      ],
    })),
    caption: [
      s.pair
        ? "Curves: film pulled as fast as in the draw, free to narrow. "
        : "Curves: film pulled at a constant rate, free to narrow. ",
      explained,
    ],
    tables: s.perSide(numbers),
  };
}

const numbers = (side: Side): Child => [
  table(
    s.captionOf(side, "Working points"),
    [
      {head: "Where"},
      {head: ["Stretch", unit("percent")], numeric: true},
      {head: ["least", unit("percent")], numeric: true},
      {head: ["most", unit("percent")], numeric: true},
      {head: ["Force of the whole width", unit("force")], numeric: true},
    ],
    points(side).map((i) => [
      pointNames[text(place(side, `points/${i}/name`))],
      q(place(side, `points/${i}/stretch_percent`), "percent", true),
      q(place(side, `points/${i}/stretch_low_percent`), "percent", true),
      q(place(side, `points/${i}/stretch_high_percent`), "percent", true),
      q(place(side, `points/${i}/force_N`), "force", true),
    ]),
  ),
  ...curves(side).map((i) =>
    table(
      [
        s.captionOf(side, "Pulled at "),
        q(place(side, `curves/${i}/rate_per_s`), "rate"),
        " and ",
        q(place(side, `curves/${i}/temperature_C`), "celsius"),
      ],
      [
        {head: ["Stretch", unit("percent")], numeric: true},
        {head: ["Force", unit("force")], numeric: true},
      ],
      list(place(side, `curves/${i}/force_N`)).map((_, k) => [
        q(`${place(side, `curves/${i}/stretch_percent`)}/${k}`, "percent", true),
        q(`${place(side, `curves/${i}/force_N`)}/${k}`, "force", true),
      ]),
    ),
  ),
];
