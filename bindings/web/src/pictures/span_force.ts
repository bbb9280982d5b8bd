// SPDX-License-Identifier: BSD-3-Clause
// The force in the span over a turn of the load, where it varies.
import * as Plot from "@observablehq/plot";
import {
  axis,
  axisLines,
  differenceExtent,
  type Draw,
  drawing,
  extent,
  ink,
  onTop,
  type Picture,
  shown,
  zeroLine,
} from "../chart";
import {capital, done, inputLabel, label, list, num, nums, outputName, type Side} from "../data";
import {type Child, q, table, unit} from "../dom";
import * as s from "./sides";

const place = (side: Side, name: string): string => `${s.detail(side)}/span/${name}`;
const set = (side: Side): string => `${side.place}/summary/span/force_set_N`;
const swing = (side: Side): string => s.finding(side, "span_swing");
const spanName = capital(inputLabel("delivery.tension.force"));
/** A force that stays within half a percent of the set one is a flat line. */
const varies = (side: Side): boolean => (num(swing(side)) ?? 0) >= 0.005;

const round = (width: number): Plot.ScaleOptions => ({
  label: axisLines("Rotation of the load", "angle", width),
  domain: [0, 360],
  ticks: width < 260 ? [0, 180, 360] : [0, 90, 180, 270, 360],
  labelAnchor: "center",
  labelArrow: "none",
});
const upwards = (words: string): Plot.ScaleOptions => ({
  label: axis(words, "force"),
  domain: extent([
    ...s.all(done.map((side) => place(side, "force_N"))),
    ...done.map((side) => num(set(side)) ?? NaN),
  ]).map((v) => shown(v, "force")),
  grid: true,
  nice: true,
  ticks: 5,
  labelAnchor: "center",
  labelArrow: "none",
});
const line = (side: Side, colour: string, dash = ""): Plot.Markish[] => {
  const angle = nums(place(side, "angle_deg"));
  return [
    Plot.ruleY([shown(num(set(side)) ?? NaN, "force")], {stroke: colour, strokeDasharray: "2 3", strokeWidth: 1.5}),
    Plot.line(
      nums(place(side, "force_N")).map((v, i) => ({angle: angle[i], force: shown(v, "force")})),
      {x: "angle", y: "force", stroke: colour, strokeWidth: 2.5, strokeDasharray: dash || undefined},
    ),
  ];
};
const caption =
  "A turning rectangle takes film up unevenly; how much the force varies depends on the control of the delivery. Dotted lines are the set force.";

function single(): Picture {
  const side = s.first;
  return {
    id: "span",
    title: [
      s.whose(),
      "The span force deviates from the set ",
      q(set(side), "force"),
      " by up to ",
      q(swing(side), "share", false, 2),
      " within a turn",
    ],
    panels: [
      {
        drawings: [
          drawing("Span force over one settled turn of the load against the set force.", (width) => ({
            height: 260,
            x: round(width),
            y: upwards(spanName),
            marks: line(side, ink.blue),
          })),
        ],
      },
    ],
    caption,
    tables: s.perSide(numbers),
  };
}

function both({present, candidate}: s.Pair): Picture {
  const angles = nums(s.apart(candidate, "span/angle_deg"));
  const difference = nums(s.apart(candidate, "span/force_N"));
  return {
    id: "span",
    wide: true,
    title: [
      "The span force of the candidate deviates from the set ",
      q(set(candidate), "force"),
      " by up to ",
      q(swing(candidate), "share", false, 2),
      " within a turn, that of the present wrap by up to ",
      q(swing(present), "share", false, 2),
      " from ",
      q(set(present), "force"),
    ],
    keys: s.bothKeys,
    layout: "timed",
    panels: [
      {
        drawings: [
          drawing("Span force over one settled turn, candidate and present wrap in one panel.", (width) => ({
            height: 250,
            x: round(width),
            y: upwards(spanName),
            marks: s.bothSides.flatMap(([side, stroke]) => line(side, stroke.colour, stroke.dash)),
          })),
          drawing("Candidate minus present: span force over one settled turn, with a line at zero.", (width) => ({
            height: 250,
            x: round(width),
            y: {
              label: axis("Candidate minus present", "force"),
              domain: differenceExtent(difference).map((v) => shown(v, "force")),
              grid: true,
              ticks: 5,
              labelAnchor: "center",
              labelArrow: "none",
            },
            marks: [
              zeroLine("y"),
              Plot.line(
                difference.map((v, i) => ({angle: angles[i], force: shown(v, "force")})),
                {x: "angle", y: "force", stroke: ink.black, strokeWidth: 2, className: "difference"},
              ),
            ],
          })),
        ],
      },
    ],
    caption,
    tables: s.perSide(numbers, () =>
      table(
        "Candidate minus present",
        [
          {head: ["Angle", unit("angle")], numeric: true},
          {head: [spanName, unit("force")], numeric: true},
        ],
        angles.map((_, i) => [
          q(`${s.apart(candidate, "span/angle_deg")}/${i}`, "angle", true),
          q(`${s.apart(candidate, "span/force_N")}/${i}`, "force", true),
        ]),
      ),
    ),
  };
}

/** Only the sides whose force varies. */
function small(): Picture {
  const moving = done.filter(varies);
  const draw =
    (side: Side): Draw =>
    (width) => ({
      height: 150,
      marginLeft: 44,
      x: round(width),
      y: {...upwards(""), label: axis("Force", "force"), ...onTop, ticks: 4},
      marks: line(side, side === s.present ? ink.orange : ink.blue),
    });
  return {
    id: "span",
    wide: true,
    title: ["Within a turn the span force deviates from the set one by up to ", s.rangeOf(moving, swing, "share")],
    layout: "small",
    panels: moving.map((side) => ({
      name: label(side),
      drawings: [drawing(`Span force over one settled turn of ${label(side)} against the set force.`, draw(side))],
    })),
    caption,
    tables: s.perSide(numbers),
  };
}

const numbers = (side: Side): Child =>
  table(
    s.captionOf(side, "Span force over one settled turn"),
    [
      {head: ["Angle", unit("angle")], numeric: true},
      {head: [spanName, unit("force")], numeric: true},
      {head: [capital(outputName("span/take_up_speed_m_per_s")), unit("speed")], numeric: true},
    ],
    list(place(side, "angle_deg")).map((_, i) => [
      q(`${place(side, "angle_deg")}/${i}`, "angle", true),
      q(`${place(side, "force_N")}/${i}`, "force", true),
      q(`${place(side, "take_up_speed_m_per_s")}/${i}`, "speed", true),
    ]),
  );

/** Nothing where the control holds the force: the line would be flat. */
export const spanForce = (): Picture | null =>
  !done.some(varies) ? null : s.pair ? both(s.pair) : s.several ? small() : single();
export const steadySpan = (): Child => [
  "The span force is not drawn, because it stays at the set ",
  done.slice(0, 4).map((side, i) => [i ? ", " : "", q(set(side), "force"), done.length > 1 ? ` (${label(side)})` : ""]),
  done.length > 4 ? " and so on" : "",
  " throughout the turn; control \u201cconstant\u201d assumes a delivery without lag.",
];
