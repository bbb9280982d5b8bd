// SPDX-License-Identifier: BSD-3-Clause
// Whether the faces carry the same: judged by their means over the height and at the place of the least hoop tension.
import * as Plot from "@observablehq/plot";
import {
  axis,
  axisLines,
  differenceExtent,
  drawing,
  extent,
  fewTicks,
  ink,
  type Picture,
  shown,
  type Stroke,
  zeroLine,
} from "../chart";
import {
  capital,
  done,
  type Face,
  faces,
  num,
  nums,
  outputName,
  type Side,
  stations,
  text,
  containmentOf,
} from "../data";
import {type Child, h, q, table, unit} from "../dom";
import {judged} from "./face_words";
import * as s from "./sides";

const place = (side: Side, name: string): string => `${s.detail(side)}/over_height/${name}`;
const mean = (side: Side, face: Face): string => `${s.detail(side)}/face_means_N_per_m/${face}`;
const least = (side: Side, name: string): string => `${side.place}/summary/containment/after_storage/least/${name}`;
const tensionName = capital(outputName("hoop_tension_N_per_m"));
const strokes: {[face in Face]: Stroke} = {
  front: {name: "front", colour: ink.blue, dash: ""},
  left: {name: "left", colour: ink.orange, dash: "7 3"},
  back: {name: "back", colour: ink.green, dash: "2 3"},
  right: {name: "right", colour: ink.purple, dash: "9 3 2 3"},
};

function single(): Picture {
  const side = s.first;
  const z = nums(place(side, "height_m"));
  const values = s.all(faces.map((f) => place(side, `after_storage_N_per_m/${f}`)));
  return {
    id: "faces",
    title: judged(side, s.whose()),
    keys: [...faces.map((f) => strokes[f]), {name: "least place", colour: ink.black, dash: "", symbol: "diamond"}],
    panels: [
      {
        drawings: [
          drawing(
            "Hoop tension over the height of the load, one line for each face; the least place is marked.",
            (width) => ({
              height: 300,
              x: {
                label: axisLines(tensionName, "tension", width),
                domain: extent(values).map((v) => shown(v, "tension")),
                nice: true,
                labelAnchor: "center",
                labelArrow: "none",
              },
              y: {
                label: axis("Height", "height"),
                domain: extent([num(`${s.detail(side)}/load/height_m`) ?? NaN, 0]).map((v) => shown(v, "height")),
                grid: true,
                ticks: 5,
                labelAnchor: "center",
                labelArrow: "none",
              },
              marks: [
                Plot.ruleX([0]),
                ...faces.map((f) =>
                  Plot.line(
                    nums(place(side, `after_storage_N_per_m/${f}`)).map((v, i) => ({
                      x: shown(v, "tension"),
                      y: shown(z[i], "height"),
                    })),
                    {x: "x", y: "y", ...s.pen(strokes[f], 2)},
                  ),
                ),
                Plot.dot([0], {
                  x: () => shown(num(least(side, "hoop_tension_N_per_m")) ?? NaN, "tension"),
                  y: () => shown(num(least(side, "height_m")) ?? NaN, "height"),
                  symbol: "diamond",
                  r: 6,
                  fill: ink.black,
                  stroke: "#ffffff",
                }),
              ],
            }),
          ),
        ],
      },
    ],
    caption: [
      `Each face ${s.lastWords}. The title compares means over the height, and faces at the least place, `,
      q(least(side, "height_m"), "place"),
      " above the deck.",
    ],
    tables: s.perSide(numbers, sketch),
  };
}

interface Row {
  name: string;
  mean: number;
  low: number;
  high: number;
}
const row = (side: Side, face: Face, name: string): Row => {
  const values = nums(place(side, `after_storage_N_per_m/${face}`)).filter(Number.isFinite);
  return {
    name,
    mean: shown(num(mean(side, face)) ?? NaN, "tension"),
    low: shown(Math.min(...values), "tension"),
    high: shown(Math.max(...values), "tension"),
  };
};
/** Mean over the height as a mark on the range from least to most. */
const ranges = (rows: Row[], stroke: Stroke, symbol: Plot.SymbolType, dy: number): Plot.Markish[] => [
  Plot.ruleY(rows, {x1: "low", x2: "high", y: "name", stroke: stroke.colour, strokeWidth: 3, strokeOpacity: 0.45, dy}),
  Plot.dot(rows, {x: "mean", y: "name", fill: stroke.colour, stroke: "#ffffff", symbol, r: 6, dy}),
];
const spread = (): [number, number] => {
  const values = s.all(done.flatMap((side) => faces.map((f) => place(side, `after_storage_N_per_m/${f}`))));
  const [from, to] = extent(values);
  return [shown(from, "tension"), shown(to, "tension")];
};
const across = (width: number): Plot.ScaleOptions => ({
  label: axisLines(tensionName, "tension", width),
  domain: spread(),
  nice: true,
  grid: true,
  ticks: fewTicks(width),
  labelAnchor: "center",
  labelArrow: "none",
});

function both({present, candidate}: s.Pair): Picture {
  const difference = (f: Face): string => s.apart(candidate, `face_means_N_per_m/${f}`);
  const y: Plot.ScaleOptions = {type: "point", domain: faces, label: null, tickSize: 0, padding: 0.6};
  return {
    id: "faces",
    wide: true,
    title: judged(candidate, "Candidate: "),
    keys: [
      {...s.presentStroke, symbol: "square"},
      {...s.candidateStroke, symbol: "circle"},
    ],
    layout: "timed",
    panels: [
      {
        drawings: [
          drawing(
            "Mean hoop tension of each face with its range over the height, candidate and present wrap.",
            (width) => ({
              height: 230,
              x: across(width),
              y,
              marks: [
                Plot.ruleX([0]),
                ...ranges(
                  faces.map((f) => row(present, f, f)),
                  s.presentStroke,
                  "square",
                  -8,
                ),
                ...ranges(
                  faces.map((f) => row(candidate, f, f)),
                  s.candidateStroke,
                  "circle",
                  8,
                ),
              ],
            }),
          ),
          drawing("Candidate minus present: mean hoop tension of each face, with a line at zero.", (width) => ({
            height: 230,
            x: {
              label: axisLines("Candidate minus present, mean", "tension", width),
              domain: differenceExtent(faces.map((f) => num(difference(f)) ?? NaN)).map((v) => shown(v, "tension")),
              grid: true,
              ticks: fewTicks(width),
              labelAnchor: "center",
              labelArrow: "none",
            },
            y,
            marks: [
              Plot.ruleY(faces, {
                x1: 0,
                x2: (f: Face) => shown(num(difference(f)) ?? NaN, "tension"),
                y: (f: Face) => f,
                stroke: ink.black,
                strokeWidth: 5,
              }),
              zeroLine("x"),
            ],
          })),
        ],
      },
    ],
    caption: [
      `Marks are means over the height ${s.lastWords}, bars reach from least to most. The least place of the candidate lies `,
      q(least(candidate, "height_m"), "place"),
      " above the deck.",
    ],
    tables: s.perSide(numbers, () => [
      table(
        "Candidate minus present, mean over the height",
        [{head: "Face"}, {head: ["Difference", unit("tension")], numeric: true}],
        faces.map((f) => [f, q(difference(f), "tension", true)]),
      ),
      sketch(),
    ]),
  };
}

/** All sides in one panel: four marks each. */
function small(): Picture {
  const symbols: {[face in Face]: Plot.SymbolType} = {
    front: "circle",
    left: "square",
    back: "triangle",
    right: "diamond",
  };
  return {
    id: "faces",
    wide: true,
    title: [
      "The faces of a side differ in their means over the height by ",
      s.rangeOf(done, (side) => s.finding(side, "face_difference"), "size"),
    ],
    keys: faces.map((f) => ({...strokes[f], symbol: symbols[f]})),
    panels: [
      {
        drawings: [
          drawing("Mean hoop tension of the four faces of every side.", (width) => ({
            height: 60 + 26 * done.length,
            marginLeft: s.sideRowsMargin(width),
            x: across(width),
            y: s.sideRows(width, "point"),
            marks: [
              Plot.ruleX([0]),
              ...faces.map((f) =>
                Plot.dot(done, {
                  x: (side: Side) => shown(num(mean(side, f)) ?? NaN, "tension"),
                  y: "place",
                  fill: strokes[f].colour,
                  fillOpacity: 0.8,
                  symbol: symbols[f],
                  r: 5,
                }),
              ),
            ],
          })),
        ],
      },
    ],
    caption: `Mean over the height of the hoop tension ${s.lastWords}.`,
    tables: s.perSide(numbers, sketch),
  };
}

const sketch = (): Child => h("pre", {class: "sketch", tabindex: "0"}, text("face_sketch"));
const numbers = (side: Side): Child =>
  table(
    s.captionOf(side, "Hoop tension after storage by face, mean over the height"),
    [
      {head: "Face"},
      {head: ["Mean over height", unit("tension")], numeric: true},
      ...stations.map((n) => ({head: [n, unit("tension")] as Child, numeric: true})),
    ],
    faces.map((f) => [
      f,
      q(mean(side, f), "tension", true),
      ...stations.map((n) =>
        q(`${containmentOf(side, "after_storage", n)}/faces/${f}/hoop_tension_N_per_m`, "tension", true),
      ),
    ]),
  );

export const faceProfiles = (): Picture => (s.pair ? both(s.pair) : s.several ? small() : single());
