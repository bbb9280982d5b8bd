// SPDX-License-Identifier: BSD-3-Clause
// Hoop tension and film layers over the height of the load.
import * as Plot from "@observablehq/plot";
import {
  axis,
  differenceExtent,
  type Draw,
  drawing,
  extent,
  fewTicks,
  ink,
  onTop,
  type Picture,
  shown,
  zeroLine,
} from "../chart";
import {done, label, num, nums, type Side, sides, stations, anyStored, containmentOf} from "../data";
import {type Child, q, say, table, unit} from "../dom";
import {
  across,
  last,
  layers,
  layersName,
  least,
  numbers,
  place,
  tensionName,
  tensionRows,
  tensions,
  upwards,
  xy,
} from "./height_parts";
import * as s from "./sides";

function single(): Picture {
  const side = s.first;
  const named = anyStored ? "after storage" : "end of wrapping";
  const tension: Draw = (width) => ({
    height: 300,
    x: {...across(tensionName, width), domain: tensions.map((v) => shown(v, "tension"))},
    y: upwards(),
    marks: [
      Plot.ruleX([0]),
      anyStored
        ? Plot.line(tensionRows(side, "end_N_per_m/mean"), {
            ...xy,
            stroke: ink.grey,
            strokeWidth: 2,
            strokeDasharray: "6 3",
          })
        : null,
      Plot.line(tensionRows(side, last), {...xy, stroke: ink.blue, strokeWidth: 2.5}),
      Plot.dot(
        [
          {
            x: shown(num(least(side, "hoop_tension_N_per_m")) ?? NaN, "tension"),
            y: shown(num(least(side, "height_m")) ?? NaN, "height"),
          },
        ],
        {...xy, symbol: "diamond", r: 6, fill: ink.orange, stroke: "#ffffff"},
      ),
    ],
  });
  return {
    id: "over-height",
    title: [
      s.whose(),
      anyStored ? "After storage hoop tension is least at " : "When wrapping ends hoop tension is least at ",
      q(least(side, "height_m"), "place"),
      " above the deck, on the ",
      say(least(side, "face")),
      " face: ",
      q(least(side, "hoop_tension_N_per_m"), "tension"),
    ],
    keys: [
      ...(anyStored ? [{name: "end of wrapping", colour: ink.grey, dash: "6 3"}] : []),
      {name: named, colour: ink.blue, dash: ""},
      {name: "least of all faces", colour: ink.orange, dash: "", symbol: "diamond"},
    ],
    layout: "duo",
    panels: [
      {
        drawings: [
          drawing(
            `Hoop tension over the height of the load, mean of the faces, ${named}; the least place is marked.`,
            tension,
          ),
          drawing(
            "Film layers over the height of the load.",
            layers([[side, {stroke: ink.black, strokeWidth: 2}]], 300),
          ),
        ],
      },
    ],
    caption:
      "Lines are the mean of the faces. Hoop tension is the force of all film layers per height of load; where the load gives, each further layer adds less than its share.",
    tables: s.perSide(numbers),
  };
}

/** What may be said of the candidate at the stations, by the bands of the comparison. */
function pairTitle({present, candidate}: s.Pair): Child {
  const known = stations.flatMap((station) => {
    const found = s.told(candidate, s.hoop(s.lastMoment, station));
    return found ? [{station, ...found}] : [];
  });
  const sure = known.filter((k) => s.isApart(k.words)).sort((a, b) => b.size - a.size);
  const unsure = known.filter((k) => k.words !== "" && !s.isApart(k.words));
  const at = (k: {station: string; place: string}): Child => [s.lessOrMore(k.place, "tension"), ` at the ${k.station}`];
  if (sure.length > 0)
    return [
      "The candidate carries ",
      at(sure[0]),
      sure.length > 1 ? [" and ", at(sure[1])] : "",
      ` ${s.lastWords}`,
      unsure.length > 1
        ? "; elsewhere the two cannot be told apart"
        : unsure.length === 1
          ? `; at the ${unsure[0].station} the two cannot be told apart`
          : "",
    ];
  const weakest = s.leastStation(candidate, s.lastMoment);
  const value = (side: Side): Child =>
    q(`${containmentOf(side, s.lastMoment, weakest)}/hoop_tension_N_per_m`, "tension");
  const values: Child = [
    "at its weakest station, the ",
    weakest,
    ", it carries ",
    value(candidate),
    " against ",
    value(present),
  ];
  if (unsure.length > 0)
    return [`At no station can the candidate be told from the present wrap ${s.lastWords}: `, values];
  if (known.length === 0) return ["Candidate and present wrap ", s.lastWords, ": ", values];
  const most = known.reduce((a, b) => (b.size > a.size ? b : a));
  return ["By their single values, without bands, the candidate carries ", at(most), ` ${s.lastWords}`];
}

function both(pair: s.Pair): Picture {
  const difference = s.apart(pair.candidate, `over_height/${last}`);
  const z = nums(s.apart(pair.candidate, "over_height/height_m"));
  const height = 290;
  return {
    id: "over-height",
    wide: true,
    title: pairTitle(pair),
    keys: s.bothKeys,
    layout: "trio",
    panels: [
      {
        drawings: [
          drawing(`Hoop tension over height ${s.lastWords}, candidate and present wrap in one panel.`, (width) => ({
            height,
            x: {
              ...across(tensionName, width),
              domain: extent(s.all(done.map((side) => place(side, last)))).map((v) => shown(v, "tension")),
            },
            y: upwards(),
            marks: [
              Plot.ruleX([0]),
              ...s.bothSides.map(([side, stroke]) => Plot.line(tensionRows(side, last), {...xy, ...s.pen(stroke)})),
            ],
          })),
          drawing("Candidate minus present: hoop tension over height, with a line at zero.", (width) => ({
            height,
            marginLeft: 42,
            x: {
              ...across("Candidate minus present", width),
              domain: differenceExtent(nums(difference)).map((v) => shown(v, "tension")),
            },
            y: upwards(false),
            marks: [
              zeroLine("x"),
              Plot.line(
                nums(difference).map((v, i) => ({x: shown(v, "tension"), y: shown(z[i], "height")})),
                {...xy, stroke: ink.black, strokeWidth: 2, className: "difference"},
              ),
            ],
          })),
          drawing(
            "Film layers over height, candidate and present wrap in one panel.",
            layers(
              s.bothSides.map(([side, stroke]) => [side, s.pen(stroke, 2)]),
              height,
            ),
          ),
        ],
      },
    ],
    caption: [
      `Mean of the faces ${s.lastWords}. Left of the line at zero the candidate carries less. Hoop tension follows the film layers; where the load gives, each further layer adds less than its share.`,
      sides.some((side) => side.measured) ? " Readings are pull forces and stand in the tables, not here." : "",
    ],
    tables: s.perSide(numbers, () =>
      table(
        "Candidate minus present",
        [
          {head: ["Height", unit("height")], numeric: true},
          {head: ["End, mean of faces", unit("tension")], numeric: true},
          {head: ["After storage, mean", unit("tension")], numeric: true},
          {head: [layersName, ", mean"], numeric: true},
        ],
        z.map((_, i) => [
          q(`${s.apart(pair.candidate, "over_height/height_m")}/${i}`, "height", true),
          q(`${s.apart(pair.candidate, "over_height/end_N_per_m/mean")}/${i}`, "tension", true),
          q(`${difference}/${i}`, "tension", true),
          q(`${s.apart(pair.candidate, "over_height/film_layers/mean")}/${i}`, "count", true),
        ]),
      ),
    ),
  };
}

/** One small panel per candidate, with the present wrap in each. */
function small(): Picture {
  const draw =
    (side: Side): Draw =>
    (width) => ({
      height: 150,
      marginLeft: 42,
      marginBottom: 36,
      x: {
        label: axis(tensionName, "tension"),
        domain: tensions.map((v) => shown(v, "tension")),
        labelAnchor: "center",
        labelArrow: "none",
        nice: true,
        ticks: fewTicks(width),
      },
      y: {...upwards(), ...onTop, ticks: 4},
      marks: [
        Plot.ruleX([0]),
        s.present ? Plot.line(tensionRows(s.present, last), {...xy, ...s.pen(s.presentStroke, 2)}) : null,
        Plot.line(tensionRows(side, last), {...xy, ...s.pen(s.candidateStroke, 2)}),
      ],
    });
  return {
    id: "over-height",
    wide: true,
    title: [
      anyStored ? "After storage" : "When wrapping ends",
      " the least hoop tension anywhere on the load is ",
      s.rangeOf(s.candidates, (side) => least(side, "hoop_tension_N_per_m"), "tension"),
      s.present ? ["; of the present wrap ", q(least(s.present, "hoop_tension_N_per_m"), "tension")] : "",
    ],
    keys: s.present ? s.bothKeys : undefined,
    layout: "small",
    panels: s.candidates.map((side) => ({
      name: label(side),
      drawings: [
        drawing(`Hoop tension over the height of the load of ${label(side)} beside the present wrap.`, draw(side)),
      ],
    })),
    caption: `Hoop tension over height ${s.lastWords}, mean of the faces: each candidate with the present wrap behind it. All panels have the same axes.`,
    tables: s.perSide(numbers),
  };
}

export const overHeight = (): Picture => (s.pair ? both(s.pair) : s.several ? small() : single());
