// SPDX-License-Identifier: BSD-3-Clause
// The stack when it leans most, and how far its tiers are displaced over time.
import * as Plot from "@observablehq/plot";
import {
  axis,
  axisLines,
  type Draw,
  drawing,
  extent,
  fewTicks,
  ink,
  type Picture,
  shown,
  spacedTicks,
  type Stroke,
} from "../chart";
import {at, done, label, list, num, nums, type Side, text} from "../data";
import {type Child, q, say} from "../dom";
import * as s from "./sides";
import {boxes, isRidden, levelWords, oneByOne, own, restHeight, timeTable, worstTable} from "./transit_parts";

const xy = {x: "x", y: "y"};
const palette = [ink.blue, ink.orange, ink.green, ink.purple, ink.grey, ink.black];
const dashes = ["", "7 3", "2 3", "9 3 2 3", "4 4", "1 2"];

const tiersDrawn = (side: Side): number[] => list(own(side, "ride/tiers")).map((_, k) => k);
const strokeOf = (side: Side, k: number): Stroke => ({
  name: `tier ${num(own(side, `ride/tiers/${k}/tier`))}`,
  words: ["tier ", q(own(side, `ride/tiers/${k}/tier`), "count", true)],
  colour: palette[k % palette.length],
  dash: dashes[k % dashes.length],
});

/** Lengths at one scale in both directions, so that a lean is seen as large as it is. */
function stack(side: Side, height: number): Draw {
  return (width) => {
    const shapes = boxes(side);
    const show = (v: number): number => shown(v, "small");
    const xs = shapes.flat().map((c) => show(c.x)),
      ys = shapes.flat().map((c) => show(c.y));
    const half = show(((num(own(side, "side_m")) ?? 1) * 1e3) / 2);
    const low = Math.min(-half, ...xs),
      high = Math.max(half, ...xs),
      rest = show(restHeight(side)),
      top = Math.max(rest, ...ys);
    const margins = {left: 64, right: 22, top: 14, bottom: 42};
    const paper = document.documentElement.classList.contains("paper");
    const tall = (paper ? 0.7 : 1) * height - margins.top - margins.bottom;
    const perLength = Math.min(tall / top, (width - margins.left - margins.right) / (high - low));
    const spare = ((width - margins.left - margins.right) / perLength - (high - low)) / 2;
    return {
      aspectRatio: 1,
      marginLeft: margins.left,
      marginRight: margins.right,
      marginTop: margins.top,
      x: {
        label: axisLines("Distance from the middle", "small", width),
        domain: [low - spare, high + spare],
        labelAnchor: "center",
        labelArrow: "none",
        ticks: spacedTicks(low - spare, high + spare, perLength),
      },
      y: {
        label: axis("Height", "small"),
        domain: [0, tall / perLength],
        labelAnchor: "center",
        labelArrow: "none",
        ticks: 5,
      },
      marks: [
        Plot.rect([{x1: -half, x2: half, y1: 0, y2: rest}], {
          x1: "x1",
          x2: "x2",
          y1: "y1",
          y2: "y2",
          stroke: ink.grey,
          strokeDasharray: "4 4",
          fill: "none",
          className: "at-rest",
        }),
        ...shapes.map((corners) =>
          Plot.line(
            corners.map((c) => ({x: show(c.x), y: show(c.y)})),
            {...xy, stroke: ink.blue, strokeWidth: 1.5, fill: "#dfe9f1", curve: "linear-closed", className: "tier"},
          ),
        ),
        Plot.ruleY([0], {stroke: ink.black, strokeWidth: 2}),
      ],
    };
  };
}

/** All sides have the same axes. */
function overTime(side: Side, over: Side[], height: number): Draw {
  const time = nums(own(side, "ride/time_s"));
  const times = over.flatMap((one) => nums(own(one, "ride/time_s")));
  const all = over.flatMap((one) => tiersDrawn(one).flatMap((k) => nums(own(one, `ride/tiers/${k}/shift_mm`))));
  return (width) => ({
    height,
    x: {
      label: axis("Time since the push begins", "seconds"),
      domain: extent(times),
      labelAnchor: "center",
      labelArrow: "none",
      ticks: fewTicks(width),
    },
    y: {
      label: axis("Displacement", "small"),
      domain: extent(all).map((v) => shown(v, "small")),
      nice: true,
      grid: true,
      labelAnchor: "center",
      labelArrow: "none",
      ticks: 6,
    },
    marks: [
      Plot.ruleY([0]),
      Plot.ruleX([num(own(side, "ride/moment_s")) ?? 0], {stroke: ink.grey, strokeDasharray: "3 3"}),
      ...tiersDrawn(side).map((k) =>
        Plot.line(
          nums(own(side, `ride/tiers/${k}/shift_mm`)).map((v, i) => ({x: time[i], y: shown(v, "small")})),
          {...xy, ...s.pen(strokeOf(side, k), 2), className: "displaced"},
        ),
      ),
    ],
  });
}

const sentence = (side: Side): Child =>
  at(own(side, "ride/fallen")) === true
    ? "the load is predicted to fall"
    : [
        "the top leans by up to ",
        q(own(side, "ride/lean_mm"), "small", false, 2),
        num(own(side, "ride/first_interface")) === null ? ", nothing slips" : "",
      ];

function title(over: Side[]): Child {
  if (over.length === 1) return [s.whose(), "Under ", levelWords(over[0]), " ", sentence(over[0])];
  const named = (side: Side): Child => [`${label(side)}: `, sentence(side)];
  if (over.length === 2) return oneByOne(over, named);
  const lean = (side: Side): number =>
    at(own(side, "ride/fallen")) === true ? Infinity : (num(own(side, "ride/lean_mm")) ?? 0);
  return ["Of all wraps ", named(over.reduce((a, b) => (lean(b) > lean(a) ? b : a))), ", the most"];
}

/** Who asks for the level that is drawn, and that a slow push is drawn as a pulse. */
const levelFrom = (side: Side): Child =>
  text(own(side, "requirement")) === ""
    ? "No requirement is set, so the level is a usual one. "
    : [
        "The level is that of ",
        say(own(side, "requirement")),
        text(own(side, "status")) === "read" ? "" : " (not read: indicative only)",
        at(own(side, "is_pulse")) === true
          ? ". "
          : ", which asks for a slow push; what is drawn is a pulse of that level. ",
      ];

const seen = "The stack of tiers seen from the side when it leans most; a broken line shows it at rest.";
const moved = "Displacement of tiers over time; a broken line marks the moment when the stack leans most.";

/** One side beside its course in time, two below each other, of more than two the stacks alone. */
function panels(over: Side[]): Picture["panels"] {
  if (over.length === 1)
    return [{drawings: [drawing(seen, stack(over[0], 300)), drawing(moved, overTime(over[0], over, 300))]}];
  const tall = over.length === 2 ? 240 : 200;
  return over.map((side) => ({
    name: [`${label(side)}: `, levelWords(side)],
    drawings: [
      drawing(`${label(side)}: ${seen}`, stack(side, tall)),
      ...(over.length === 2 ? [drawing(`${label(side)}: ${moved}`, overTime(side, over, 200))] : []),
    ],
  }));
}

export function leaningStack(): Picture | null {
  const over = done.filter(isRidden);
  if (over.length === 0) return null;
  const lines = over.reduce((a, b) => (tiersDrawn(b).length > tiersDrawn(a).length ? b : a));
  return {
    id: "leaning-stack",
    wide: true,
    title: title(over),
    keys: over.length > 2 ? undefined : tiersDrawn(lines).map((k) => strokeOf(lines, k)),
    layout: over.length === 1 ? "timed" : undefined,
    panels: panels(over),
    caption: [
      levelFrom(over[0]),
      "Reached within ",
      q(own(over[0], "ride/rise_ms"), "count"),
      " ms, held for ",
      q(own(over[0], "ride/hold_ms"), "count"),
      " ms, at the least hoop tension of storage. The pallet counts as blocked. A prediction, never a certificate.",
    ],
    tables: () => over.flatMap((side) => [worstTable(side), timeTable(side)]),
  };
}
