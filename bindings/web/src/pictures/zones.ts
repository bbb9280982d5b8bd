// SPDX-License-Identifier: BSD-3-Clause
// Film mass by part of the wrap.
import * as Plot from "@observablehq/plot";
import {
  axisLines,
  differenceExtent,
  type Draw,
  drawing,
  extent,
  fewTicks,
  ink,
  type Picture,
  shown,
  zeroLine,
} from "../chart";
import {done, list, num, outputWords, type Side, text} from "../data";
import {type Child, q, say, table, unit} from "../dom";
import * as s from "./sides";

const place = (side: Side): string => `${s.detail(side)}/zones`;
const masses = (): [number, number] => {
  const [, most] = extent(
    done.flatMap((side) => list(place(side)).map((_, i) => num(`${place(side)}/${i}/mass_kg`) ?? NaN)),
  );
  return [0, shown(most, "mass")];
};
const across = (words: string, width: number): Plot.ScaleOptions => ({
  label: axisLines(words, "mass", width),
  grid: true,
  ticks: fewTicks(width - 60),
  labelAnchor: "center",
  labelArrow: "none",
});
const order = "Parts of the wrap in the order they are laid; together they are the film mass per load.";
const names = (width: number): number => (width < 380 ? 118 : 140);

const bars =
  (side: Side): Draw =>
  (width) => {
    const rows = list(place(side)).map((_, i) => ({
      name: text(`${place(side)}/${i}/name`),
      mass: shown(num(`${place(side)}/${i}/mass_kg`) ?? 0, "mass"),
      above: shown(num(`${place(side)}/${i}/above_top_kg`) ?? 0, "mass"),
    }));
    return {
      height: 60 + 30 * rows.length,
      marginLeft: names(width),
      x: {...across("Film mass", width), domain: masses(), nice: true},
      y: {label: null, domain: rows.map((r) => r.name), tickSize: 0},
      marks: [
        Plot.barX(rows, {x: "mass", y: "name", fill: ink.green, insetTop: 3, insetBottom: 3}),
        Plot.barX(
          rows.filter((r) => r.above > 0),
          {x: "above", y: "name", fill: ink.purple, insetTop: 3, insetBottom: 3},
        ),
        Plot.ruleX([0]),
      ],
    };
  };

function single(): Picture {
  return {
    id: "zones",
    title: [
      s.whose(),
      "The ",
      say(s.finding(s.first, "largest_zone")),
      " takes ",
      q(s.finding(s.first, "largest_zone_share"), "share", false, 2),
      " of the film",
    ],
    keys: [
      {name: "film on the load", colour: ink.green, dash: "", symbol: "square"},
      {name: "part above the top edge", colour: ink.purple, dash: "", symbol: "square"},
    ],
    panels: [{drawings: [drawing("Film mass in each part of the wrap.", bars(s.first))]}],
    caption: order,
    tables: s.perSide(numbers),
  };
}

/** All sides in one panel, the parts of each one after the other. */
function small(): Picture {
  const shades = [ink.blue, "#8fbcd9", ink.orange, "#e3b08a", ink.green, ink.grey];
  const parts = [...new Set(done.flatMap((side) => list(place(side)).map((_, i) => text(`${place(side)}/${i}/name`))))];
  const rows = done.flatMap((side) =>
    list(place(side)).map((_, i) => ({
      side: side.place,
      part: text(`${place(side)}/${i}/name`),
      mass: shown(num(`${place(side)}/${i}/mass_kg`) ?? 0, "mass"),
    })),
  );
  return {
    id: "zones",
    wide: true,
    title: [
      "The largest part of the wrap takes ",
      s.rangeOf(done, (side) => s.finding(side, "largest_zone_share"), "share"),
      " of the film",
    ],
    keys: parts.map((name, i) => ({name, colour: shades[i % shades.length], dash: "", symbol: "square"})),
    panels: [
      {
        drawings: [
          drawing("Film mass of every side, part by part of the wrap.", (width) => ({
            height: 60 + 26 * done.length,
            marginLeft: s.sideRowsMargin(width),
            x: {...across("Film mass", width), nice: true},
            y: s.sideRows(width, "band"),
            color: {domain: parts, range: shades},
            marks: [
              Plot.barX(rows, {x: "mass", y: "side", fill: "part", insetTop: 2, insetBottom: 2, insetRight: 1}),
              Plot.ruleX([0]),
            ],
          })),
        ],
      },
    ],
    caption: order,
    tables: s.perSide(numbers),
  };
}

function both({candidate}: s.Pair): Picture {
  const rowPlace = s.apart(candidate, "zones");
  const rows = list(rowPlace).map((_, i) => ({
    place: `${rowPlace}/${i}`,
    name: text(`${rowPlace}/${i}/name`),
    present: num(`${rowPlace}/${i}/present_kg`) ?? 0,
    candidate: num(`${rowPlace}/${i}/candidate_kg`) ?? 0,
    difference: num(`${rowPlace}/${i}/mass_kg`) ?? 0,
  }));
  const height = 60 + 38 * rows.length;
  const y = {label: null, domain: rows.map((r) => r.name), tickSize: 0};
  const found = s.told(candidate, "film.mass_kg");
  const sure = found && (s.isApart(found.words) || found.words === "");
  const most = rows.reduce((a, b) => (Math.abs(b.difference) > Math.abs(a.difference) ? b : a), rows[0]);
  return {
    id: "zones",
    wide: true,
    title: sure
      ? [
          "The candidate takes ",
          s.lessOrMore(found.place, "mass"),
          " film per load; the largest change is in: ",
          say(`${most.place}/name`),
        ]
      : "The film per load of the two cannot be told apart",
    keys: s.bothKeys.map((key) => ({...key, symbol: "square" as Plot.SymbolType})),
    layout: "timed",
    panels: [
      {
        drawings: [
          drawing("Film mass in each part of the wrap, candidate and present wrap in one panel.", (width) => ({
            height,
            marginLeft: names(width),
            x: {...across("Film mass", width), domain: masses(), nice: true},
            y: {axis: null, domain: ["present", "candidate"], padding: 0},
            fy: {...y, axis: "left", padding: 0.2},
            marks: [
              Plot.barX(rows, {x: (r) => shown(r.present, "mass"), fy: "name", y: () => "present", fill: ink.orange}),
              Plot.barX(rows, {x: (r) => shown(r.candidate, "mass"), fy: "name", y: () => "candidate", fill: ink.blue}),
              Plot.ruleX([0]),
            ],
          })),
          drawing("Candidate minus present: film mass in each part of the wrap, with a line at zero.", (width) => ({
            height,
            marginLeft: names(width),
            x: {
              ...across("Candidate minus present", width),
              domain: differenceExtent(rows.map((r) => r.difference)).map((v) => shown(v, "mass")),
            },
            y,
            marks: [
              Plot.barX(rows, {
                x: (r) => shown(r.difference, "mass"),
                y: "name",
                fill: ink.black,
                insetTop: 8,
                insetBottom: 8,
              }),
              zeroLine("x"),
            ],
          })),
        ],
      },
    ],
    caption: order,
    tables: s.perSide(numbers, () =>
      table(
        "Candidate minus present",
        [
          {head: "Part"},
          {head: ["present", unit("mass")], numeric: true},
          {head: ["candidate", unit("mass")], numeric: true},
          {head: ["Difference", unit("mass")], numeric: true},
        ],
        rows.map((r) => [
          say(`${r.place}/name`),
          q(`${r.place}/present_kg`, "mass", true),
          q(`${r.place}/candidate_kg`, "mass", true),
          q(`${r.place}/mass_kg`, "mass", true),
        ]),
      ),
    ),
  };
}

const numbers = (side: Side): Child =>
  table(
    s.captionOf(side, "Film mass by part of the wrap"),
    [
      {head: "Part"},
      {head: outputWords("pattern/turns"), numeric: true},
      {head: ["Mass", unit("mass")], numeric: true},
      {head: ["Share", unit("share")], numeric: true},
      {head: ["Above the top edge", unit("mass")], numeric: true},
    ],
    list(place(side)).map((_, i) => [
      say(`${place(side)}/${i}/name`),
      q(`${place(side)}/${i}/turns`, "count", true),
      q(`${place(side)}/${i}/mass_kg`, "mass", true),
      q(`${place(side)}/${i}/share`, "share", true),
      q(`${place(side)}/${i}/above_top_kg`, "mass", true),
    ]),
  );

export const zones = (): Picture => (s.pair ? both(s.pair) : s.several ? small() : single());
