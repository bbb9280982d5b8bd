// SPDX-License-Identifier: BSD-3-Clause
// What each interface withstands by height, against what is required.
import * as Plot from "@observablehq/plot";
import {axisLines, type Draw, drawing, extent, fewTicks, ink, type Picture, shown, type Stroke} from "../chart";
import {at, done, has, label, list, num, outputName, type Side, text} from "../data";
import {type Child, q, say} from "../dom";
import {upwards, xy} from "./height_parts";
import * as s from "./sides";
import {acceleration, interfaceTable, isKnown, isRidden, oneByOne, own, weakest} from "./transit_parts";

const known = (): Side[] => done.filter(isKnown);
const rows = (side: Side, name: string): {x: number; y: number}[] =>
  list(weakest(side, "interfaces")).map((_, i) => ({
    x: num(weakest(side, `interfaces/${i}/${name}`)) ?? NaN,
    y: shown(num(weakest(side, `interfaces/${i}/height_m`)) ?? NaN, "height"),
  }));

const held: Stroke = {name: outputName("transit/held_gn"), colour: ink.blue, dash: ""};
const slip: Stroke = {name: outputName("transit/first_slip_gn"), colour: ink.green, dash: "7 3"};
const tips: Stroke = {name: outputName("transit/tipping_gn"), colour: ink.purple, dash: "2 3"};
const asked: Stroke = {name: "required", colour: ink.orange, dash: "9 3"};

/** The level, where one is asked for as a slow push. */
const level = (side: Side): number[] =>
  has(own(side, "requirement")) && at(own(side, "is_pulse")) === false ? [num(own(side, "level_gn")) ?? NaN] : [];

/** Tipping of the upper tiers lies far beyond what matters: the axis ends at twice the largest of the rest. */
function domain(sides_: Side[]): [number, number] {
  const near = sides_.flatMap((side) => [
    ...rows(side, "held_gn").map((p) => p.x),
    ...rows(side, "first_slip_gn").map((p) => p.x),
    ...level(side),
  ]);
  const least = Math.min(...sides_.flatMap((side) => rows(side, "tipping_gn").map((p) => p.x)));
  const most = Math.max(...near, least) * 1.15;
  return [0, extent([0, Number.isFinite(most) ? most : 1])[1]];
}

/** All sides have the same axes. */
function draw(side: Side, over: Side[], height: number): Draw {
  const [from, to] = domain(over);
  const seen = (name: string): {x: number; y: number}[] =>
    rows(side, name).map((p) => ({...p, x: p.x <= to ? p.x : NaN}));
  return (width) => ({
    height,
    x: {
      label: axisLines("Acceleration of a slow push", acceleration, width),
      domain: [from, to],
      labelAnchor: "center",
      labelArrow: "none",
      ticks: fewTicks(width),
    },
    y: upwards(),
    marks: [
      Plot.ruleX([0]),
      ...(
        [
          [slip, "first_slip_gn"],
          [tips, "tipping_gn"],
          [held, "held_gn"],
        ] as [Stroke, string][]
      ).flatMap(([stroke, name]) => [
        Plot.line(seen(name), {...xy, ...s.pen(stroke), className: name}),
        Plot.dot(
          seen(name).filter((p) => Number.isFinite(p.x)),
          {...xy, r: 3, fill: stroke.colour, stroke: "#ffffff"},
        ),
      ]),
      ...level(side).map((v) => Plot.ruleX([v], {...s.pen(asked), className: "required"})),
    ],
  });
}

/** How far each interface has slipped when the load leans most, at the height of the interface. */
function slips(side: Side): Draw {
  const points = list(own(side, "ride/worst")).map((_, i) => ({
    x: shown(num(own(side, `ride/worst/${i}/slip_mm`)) ?? 0, "small"),
    y: shown(num(weakest(side, `interfaces/${i}/height_m`)) ?? NaN, "height"),
  }));
  const xs = [0, ...points.map((p) => p.x)];
  return (width) => ({
    height: 300,
    marginLeft: 42,
    x: {
      label: axisLines("Slip when the load leans most", "small", width),
      domain: extent(xs),
      nice: true,
      labelAnchor: "center",
      labelArrow: "none",
      ticks: fewTicks(width),
    },
    y: upwards(false),
    marks: [
      Plot.ruleX([0]),
      Plot.ruleY(points, {y: "y", x1: 0, x2: "x", stroke: ink.grey, strokeWidth: 3}),
      Plot.dot(points, {...xy, r: 4, fill: ink.grey, stroke: "#ffffff", className: "slipped"}),
    ],
  });
}

const withstands = (side: Side): Child => [
  q(weakest(side, "withstood_gn"), acceleration, false, 2),
  level(side).length === 0
    ? ""
    : [" of ", q(own(side, "level_gn"), acceleration), " asked for: predicted to ", text(own(side, "verdict"))],
];

function title(over: Side[]): Child {
  if (over.length === 1)
    return [s.whose(), "Pushed slowly ", text(own(over[0], "direction")), " the load withstands ", withstands(over[0])];
  const named = (side: Side): Child => [`${label(side)} `, withstands(side)];
  if (over.length === 2) return ["Pushed slowly the load withstands: ", oneByOne(over, named)];
  const value = (side: Side): number => num(weakest(side, "withstood_gn")) ?? NaN;
  return [
    "Pushed slowly the load withstands least as ",
    named(over.reduce((a, b) => (value(b) < value(a) ? b : a))),
    "; most as ",
    named(over.reduce((a, b) => (value(b) > value(a) ? b : a))),
  ];
}

const alternative = "What each interface between tiers withstands, by its height, and what is required.";

export function capacity(): Picture | null {
  const over = known();
  if (over.length === 0) return null;
  const [only] = over.length === 1 ? over : [];
  const asks = over.filter((side) => level(side).length > 0);
  return {
    id: "transit-capacity",
    title: title(over),
    keys: [slip, held, tips, ...(asks.length > 0 ? [asked] : [])],
    wide: true,
    layout: only ? "timed" : undefined,
    panels: only
      ? [
          {
            drawings: [
              drawing(alternative, draw(only, over, 300)),
              ...(isRidden(only)
                ? [drawing("How far each interface has slipped when the load leans most, by its height.", slips(only))]
                : []),
            ],
          },
        ]
      : over.map((side) => ({
          name: [`${label(side)}, `, text(own(side, "direction"))],
          drawings: [drawing(`${label(side)}: ${alternative}`, draw(side, over, over.length === 2 ? 240 : 170))],
        })),
    caption: [
      "Each point is an interface at its height above the deck, at the least hoop tension of storage. Film hardly moves the first slip; it limits how far a sliding tier goes.",
      only && isRidden(only) ? " On the right: what each has slipped at the moment that is drawn below." : "",
      has(own(over[0], "requirement")) ? [" Required: ", say(own(over[0], "requirement")), "."] : "",
    ],
    tables: () => over.map((one) => interfaceTable(one)),
  };
}
