// SPDX-License-Identifier: BSD-3-Clause
// A wrapped load in three dimensions, seen from its front and left faces, with its plan and its stations.
import {
  type DrawingFormat,
  type DrawnLoad,
  type DrawnStation,
  finding,
  ink,
  letters,
  type LoadFace,
  quietInk,
  tensionWords,
} from "./load_object";
import {layerOutline, runs, shows} from "./load_paint";
import {plan, planTop} from "./load_plan";
import {type Steps, stepsOf} from "./load_scale";
import {fills, lineOver, path, type Point, sheet, spread, svg, type SvgChild, textWidth, words} from "./load_svg";
import {Solid} from "./load_solid";

export type {DrawingFormat, DrawnLoad} from "./load_object";
export {scaleDrawing} from "./load_scale";
export {unrolledDrawing} from "./load_unrolled";

const line = letters + 3; // px from line to line
const layerWidth = 14; // px of the thickest film at the edge

/** The goods: two sides and the top, dotted where there is no film. */
function goods(solid: Solid, bare: string): SvgChild {
  const outline = {fill: bare, stroke: ink, "stroke-width": 1};
  return [
    (["front", "left"] as LoadFace[]).map((face) =>
      svg("path", {...outline, d: path(solid.onFace(face, 0, solid.height)), "data-goods": face}),
    ),
    svg("path", {...outline, d: path(solid.top()), "data-goods": "top"}),
  ];
}

function paint(load: DrawnLoad, solid: Solid, steps: Steps): SvgChild {
  return (["front", "left"] as LoadFace[]).map((face) =>
    runs(load, steps, face)
      .filter((run) => run.step >= 0)
      .map((run) =>
        svg("path", {
          d: path(solid.onFace(face, run.low, run.high)),
          fill: steps.colours[run.step],
          stroke: steps.colours[run.step],
          "stroke-width": 0.4,
          ...shows(run),
        }),
      ),
  );
}

/** Film above the top edge, folded over the goods; it is not counted in hoop tension, so it is not on the scale. */
function rim(load: DrawnLoad, solid: Solid, loose: string): SvgChild {
  if (!(load.topOverhang > 0)) return null;
  const inner = solid.top(load.topOverhang),
    outer = solid.top();
  return [
    svg("path", {
      d: path(outer) + path(inner),
      fill: loose,
      "fill-rule": "evenodd",
      stroke: ink,
      "stroke-width": 0.8,
      class: "load-rim",
    }),
    outer.map((corner, i) => svg("path", {d: path([corner, inner[i]], false), stroke: ink, "stroke-width": 0.6})),
  ];
}

/** Top boards, blocks and bottom boards; film that reaches down over them. */
function pallet(load: DrawnLoad, solid: Solid, loose: string): SvgChild {
  const wood = {fill: "#f3efe7", stroke: "#5f574b", "stroke-width": 0.8};
  const tall = solid.pallet;
  return (["front", "left"] as LoadFace[]).map((face) => [
    svg("path", {...wood, fill: "#8c8477", d: path(solid.onFace(face, -tall, 0))}),
    [0, 0.43, 0.86].map((from) =>
      svg("path", {...wood, d: path(solid.onFace(face, -0.82 * tall, -0.24 * tall, from, from + 0.14))}),
    ),
    svg("path", {...wood, d: path(solid.onFace(face, -0.24 * tall, 0))}),
    svg("path", {...wood, d: path(solid.onFace(face, -tall, -0.82 * tall))}),
    load.filmBelow > 0
      ? svg("path", {
          d: path(solid.onFace(face, -Math.min(solid.ofHeight(load.filmBelow), tall), 0)),
          fill: loose,
          stroke: ink,
          "stroke-width": 0.8,
          class: "load-film-below",
        })
      : null,
  ]);
}

/** Film at the two outer edges, drawn as thick as it has layers. */
function layersAtEdges(load: DrawnLoad, solid: Solid): SvgChild {
  const side = layerWidth / Math.max(1, load.mostLayers);
  const sides: [LoadFace, number, number, number][] = [
    ["front", 1, -1, -1],
    ["left", -1, 1, 1],
  ];
  return sides.map(([face, x, y, outward]) =>
    svg("path", {
      d: path(
        layerOutline(load, face).map(([layers, height]): Point => {
          const at = solid.corner(x, y, height);
          return [at[0] + outward * layers * side, at[1]];
        }),
      ),
      fill: "#dfe4e8",
      stroke: ink,
      "stroke-width": 0.9,
      "stroke-linejoin": "round",
      "data-layers": face,
    }),
  );
}

const stationLines = (station: DrawnStation, format: DrawingFormat): string[] => [
  station.name,
  tensionWords(station.tension, format),
  ...(station.wanted ? [`\u2265 ${station.wanted}`] : []),
];
const columnOf = (load: DrawnLoad, format: DrawingFormat): number =>
  Math.max(
    ...load.stations.flatMap((s) => stationLines(s, format).map((text, i) => textWidth(text, format, i === 1))),
    0,
  );

interface Label {
  station: DrawnStation;
  lines: string[];
  top: number; // px
  size: number;
  end: Point; // of the line round the load
}

/** Where the words of the stations stand, the highest first. */
function labelsOf(load: DrawnLoad, solid: Solid, format: DrawingFormat, room: [number, number]): Label[] {
  const list = [...load.stations].sort((a, b) => b.height - a.height);
  const lines = list.map((station) => stationLines(station, format));
  const sizes = lines.map((all) => line * all.length);
  const ends = list.map((station) => solid.corner(-1, 1, station.height));
  const at = spread(
    ends.map((end) => end[1]),
    sizes,
    ...room,
  );
  return list.map((station, i) => ({
    station,
    lines: lines[i],
    top: at[i] - sizes[i] / 2,
    size: sizes[i],
    end: ends[i],
  }));
}

/** A line round the visible faces at a station, with its name and tension beside the load. */
function stationMark({station, lines, top, size, end}: Label, solid: Solid, x: number): SVGElement {
  const round = [solid.corner(1, -1, station.height), solid.corner(1, 1, station.height), end];
  const leader: Point[] = [
    [end[0] + layerWidth + 2, end[1]],
    [x - 6, top + size / 2],
  ];
  return svg(
    "g",
    {"data-station": station.name},
    lineOver(round, "5 3"),
    svg("path", {d: path(leader, false), fill: "none", stroke: quietInk, "stroke-width": 1}),
    lines.map((text, k) =>
      words(text, x, top + letters + k * line, {
        "font-weight": k === 1 ? 600 : undefined,
        fill: k === 1 ? ink : quietInk,
      }),
    ),
  );
}

/** Names of the two visible faces under their lower edges. */
function faceNames(solid: Solid, format: DrawingFormat): SvgChild {
  return (["front", "left"] as LoadFace[]).map((face) => {
    const [a, b] = solid.onFace(face, -solid.pallet, -solid.pallet);
    const middle: Point = [(a[0] + b[0]) / 2, (a[1] + b[1]) / 2];
    const half = textWidth(face, format, true) / 2;
    const slope = Math.abs((b[1] - a[1]) / (b[0] - a[0] || 1));
    const x = middle[0] + (face === "front" ? -half : half) * 0.8;
    return words(face, x, middle[1] + letters + slope * half + 4, {
      "text-anchor": "middle",
      "font-weight": 600,
      "data-name": face,
    });
  });
}

/** Highest point of the goods, the labels and the plan: what is above it is not drawn. */
function highest(picture: {solid: Solid; labels: number[]; planTop: number}): number {
  return Math.max(0, Math.min(...picture.solid.top().map((p) => p[1]), ...picture.labels, picture.planTop) - 4);
}

export function loadDrawing(load: DrawnLoad, format: DrawingFormat): SVGElement {
  const {width, height} = format;
  const steps = stepsOf(load, format),
    fill = fills();
  const column = columnOf(load, format) + 4;
  const planWidth = Math.max(96, Math.min(150, 0.27 * width));
  const room: [number, number, number, number] = [
    planWidth + layerWidth + 8,
    6,
    width - column - layerWidth - 22,
    height - letters - 12,
  ];
  const solid = new Solid(load, room);
  const labels = labelsOf(load, solid, format, [4, height - 4]);
  const top = highest({solid, labels: labels.map((label) => label.top), planTop: planTop(load, planWidth, height - 2)});
  return sheet(
    [width, height, top],
    `${finding(load, format)} Seen from the front and left faces, from above.`,
    "load-solid",
    fill.definitions,
    pallet(load, solid, fill.loose),
    goods(solid, fill.bare),
    paint(load, solid, steps),
    (["front", "left"] as LoadFace[]).map((face) =>
      svg("path", {d: path(solid.onFace(face, 0, solid.height)), fill: "none", stroke: ink, "stroke-width": 1.1}),
    ),
    rim(load, solid, fill.loose),
    layersAtEdges(load, solid),
    faceNames(solid, format),
    labels.map((label) => stationMark(label, solid, width - column)),
    plan(load, format, steps, planWidth, height - 2),
  );
}
