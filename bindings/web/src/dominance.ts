// SPDX-License-Identifier: BSD-3-Clause
// Every wrap by what it holds and what it costs, and which of them is beaten by another.
import * as Plot from "@observablehq/plot";
import {axis, drawing, figure, ink, shown} from "./chart";
import {areDrawn, has, label, list, num, quantityWords, short, type Side, sides, text} from "./data";
import {type Child, currency, h, q, sign, table, unit} from "./dom";
import {isMoney, type Kind} from "./units";
import {compared, kindOf, names, order, own} from "./wraps";

const beaten = (side: Side): boolean => list(`${own(side)}/dominated_by`).length > 0;

interface Axis {
  name: string;
  kind: Kind;
  label: string;
  domain: [number, number];
  cut: boolean; // does not begin at zero
}

const words = (child: Child): string => (child instanceof Node ? (child.textContent ?? "") : String(child ?? ""));

/** From zero, unless the wraps would then stand in one corner; a cut axis says so. */
function axisOf(name: string, points: Side[]): Axis {
  const kind = kindOf(name);
  const values = points.map((side) => shown(num(compared(side, name)) ?? NaN, kind));
  const low = Math.min(...values),
    high = Math.max(...values);
  const spread = high - low || Math.abs(high) || 1;
  const near = high - low < 0.4 * high;
  const from = low < 0 ? low - 0.1 * spread : near ? Math.max(low - 0.35 * spread, 0) : 0;
  const cut = from > 0;
  const said = quantityWords(name).replace(", after storage", "");
  return {
    name,
    kind,
    label: axis(said, kind) + (isMoney(kind) ? `, ${words(currency(points[0]))}` : "") + (cut ? " (axis cut)" : ""),
    domain: [from, high + (cut ? 0.35 : 0.15) * spread],
    cut,
  };
}

const left = 64,
  right = 30,
  top = 20;

/** Names of the wraps beside their points, cut to the room there is towards the middle of the drawing. */
function marks(points: Side[], x: Axis, y: Axis, width: number): Plot.Markish[] {
  const at = (side: Side, a: Axis): number => shown(num(compared(side, a.name)) ?? NaN, a.kind);
  const share = (side: Side, a: Axis): number => (at(side, a) - a.domain[0]) / (a.domain[1] - a.domain[0]);
  const room = width - left - right;
  const name = (side: Side): string => {
    if (points.length > 6 || width < 420) return String(side.index + 1);
    const free = Math.max(share(side, x), 1 - share(side, x)) * room;
    return short(label(side), Math.max(4, Math.floor(free / 8)));
  };
  const named = (list: Side[], options: Plot.TextOptions): Plot.Markish =>
    Plot.text(list, {
      x: (s: Side) => at(s, x),
      y: (s: Side) => at(s, y),
      text: name,
      stroke: "#ffffff",
      strokeWidth: 4,
      fill: ink.black,
      ...options,
    });
  const under = (side: Side): boolean => share(side, y) > 0.85;
  const beside = (side: Side): "start" | "end" => (share(side, x) < 0.5 ? "start" : "end");
  return [
    Plot.dot(points, {
      x: (s: Side) => at(s, x),
      y: (s: Side) => at(s, y),
      r: 6,
      stroke: (s: Side) => (s.index === 0 ? ink.orange : ink.blue),
      strokeWidth: 2,
      fill: (s: Side) => (beaten(s) ? "#ffffff" : s.index === 0 ? ink.orange : ink.blue),
      symbol: (s: Side) => (s.index === 0 ? "square" : "circle"),
    }),
    ...[true, false].flatMap((below) =>
      (["start", "end"] as const).map((anchor) =>
        named(
          points.filter((side) => under(side) === below && beside(side) === anchor),
          {textAnchor: anchor, dy: below ? 16 : -14, dx: anchor === "start" ? -4 : 4},
        ),
      ),
    ),
    // Two strokes across an axis that does not begin at zero.
    ...(x.cut ? [Plot.text(["//"], {frameAnchor: "bottom-left", dx: 8, dy: 7, fontSize: 15, fill: ink.black})] : []),
    ...(y.cut
      ? [Plot.text(["//"], {frameAnchor: "bottom-left", dx: -7, dy: -10, fontSize: 15, rotate: 90, fill: ink.black})]
      : []),
  ];
}

function finding(dominated: Side[]): Child {
  if (dominated.length === 0)
    return areDrawn
      ? "No wrap is surely better both in what it holds and in what it costs"
      : "No wrap is better both in what it holds and in what it costs: the choice is a trade-off between the two";
  const one = dominated.length === 1;
  return [
    dominated.slice(0, 3).map((side, i) => [i ? ", " : "", label(side)]),
    dominated.length > 3 ? " and others" : "",
    one ? " holds" : " hold",
    " no more and cost",
    one ? "s" : "",
    " no less than another wrap",
  ];
}

export function dominance(): Child {
  const containment = text("comparison/measures/containment");
  if (containment === "")
    return h("p", {}, "No containment is known for every wrap, so none can be said to beat another.");
  const cost = text("comparison/measures/cost") || "film.mass_kg";
  const points = sides.filter((side) => has(compared(side, containment)) && has(compared(side, cost)));
  if (points.length < 2) return null;
  const scale = (a: Axis): Plot.ScaleOptions => ({
    label: a.label,
    domain: a.domain,
    grid: true,
    labelAnchor: "center",
    labelArrow: "none",
  });
  return figure({
    id: "dominance",
    wide: true,
    title: finding(sides.filter(beaten)),
    panels: [
      {
        drawings: [
          drawing("What every wrap holds against what it costs.", (width) => {
            const x = axisOf(cost, points),
              y = axisOf(containment, points);
            return {
              height: 340,
              marginLeft: left,
              marginRight: right,
              marginTop: top,
              x: scale(x),
              y: scale(y),
              marks: marks(points, x, y, width),
            };
          }),
        ],
      },
    ],
    caption:
      "The square is the present wrap. A hollow mark is a wrap that another beats: it holds no more and costs no less.",
    tables: () =>
      table(
        "What every wrap holds and costs",
        [
          {head: "Wrap"},
          {head: [quantityWords(containment), unit(kindOf(containment))], numeric: true},
          {head: [quantityWords(cost), unit(kindOf(cost))], numeric: true},
          {head: "Beats"},
          {head: "Beaten by"},
        ],
        points.map((side) => [
          [order(side.index), " ", label(side)],
          q(compared(side, containment), kindOf(containment), true),
          [sign(side, kindOf(cost)), q(compared(side, cost), kindOf(cost), true)],
          names(`${own(side)}/dominates`),
          names(`${own(side)}/dominated_by`),
        ]),
      ),
  });
}
