// SPDX-License-Identifier: BSD-3-Clause
// The load from above, small: names of the faces, mean tension of each, what turns and which way.
import {
  type DrawingFormat,
  type DrawnLoad,
  ink,
  letters,
  type LoadFace,
  loadFaces,
  meanTension,
  quietInk,
} from "./load_object";
import type {Steps} from "./load_scale";
import {arrowHead, path, type Point, svg, type SvgChild, textWidth, words} from "./load_svg";

const edge = 7; // px, thickness of a painted edge

/** Names beside the edges; with room for it, the mean tension too. */
function names(load: DrawnLoad, format: DrawingFormat, box: [number, number, number, number]): SvgChild {
  const [x1, y1, x2, y2] = box;
  const gap = edge / 2 + 4;
  const spots: {[face in LoadFace]: [number, number, number]} = {
    front: [x2 + gap, (y1 + y2) / 2, 90],
    left: [(x1 + x2) / 2, y1 - gap, 0],
    back: [x1 - gap, (y1 + y2) / 2, -90],
    right: [(x1 + x2) / 2, y2 + gap + letters - 3, 0],
  };
  const numbers = Object.fromEntries(
    loadFaces.map((face) => {
      const mean = meanTension(load, face);
      return [face, Number.isFinite(mean) ? ` ${format.number(format.tension(mean))}` : ""];
    }),
  );
  const fit = loadFaces.every(
    (face) => textWidth(face + numbers[face], format, true) <= (spots[face][2] === 0 ? x2 - x1 + 24 : y2 - y1 + 10),
  );
  return loadFaces.map((face) => {
    const [x, y, turn] = spots[face];
    return svg(
      "text",
      {
        x,
        y,
        "text-anchor": "middle",
        fill: ink,
        transform: turn === 0 ? undefined : `rotate(${turn} ${x.toFixed(2)} ${y.toFixed(2)})`,
        "data-plan": face,
      },
      svg("tspan", {"font-weight": 600}, face),
      fit ? numbers[face] : "",
    );
  });
}

/** An arrow most of a circle round: counter-clockwise where the load turns, clockwise where an arm carries the film. */
function turningArrow(load: DrawnLoad, x: number, y: number, radius: number): SvgChild {
  const sense = load.turning === "load" ? -1 : 1; // of the angle on the page, whose y points down
  const at = (angle: number): Point => [x + radius * Math.cos(angle), y + radius * Math.sin(angle)];
  const points = Array.from({length: 25}, (_, i) => at(sense * ((i / 24) * 4.9 - 0.2)));
  return [
    svg("path", {d: path(points, false), fill: "none", stroke: quietInk, "stroke-width": 1.5}),
    arrowHead(points[23], points[24]),
  ];
}

const planWords = (load: DrawnLoad): string[] =>
  load.turning === "load" ? ["from above,", "load turns"] : ["from above,", "arm or ring", "turns"];

const margin = edge + letters + 6; // px round the rectangle, for the names

/** The rectangle of the load in a column of that many pixels: [left, top, right, bottom]. */
function rectangle(load: DrawnLoad, width: number, foot: number): [number, number, number, number] {
  const room = width - 2 * margin;
  const size = Math.max(load.length, load.width);
  const across = Math.max(0.35, load.length / size) * room,
    deep = Math.max(0.35, load.width / size) * Math.min(room, 110);
  return [(width - across) / 2, foot - margin - deep, (width + across) / 2, foot - margin];
}

export const planTop = (load: DrawnLoad, width: number, foot: number): number =>
  rectangle(load, width, foot)[1] - margin - 4 - planWords(load).length * (letters + 2);

/** Fills a column of that many pixels; the drawing stands at its foot. */
export function plan(load: DrawnLoad, format: DrawingFormat, steps: Steps, width: number, foot: number): SVGElement {
  const [x1, y1, x2, y2] = rectangle(load, width, foot);
  const corners: {[face in LoadFace]: [Point, Point]} = {
    front: [
      [x2, y2],
      [x2, y1],
    ],
    left: [
      [x2, y1],
      [x1, y1],
    ],
    back: [
      [x1, y1],
      [x1, y2],
    ],
    right: [
      [x1, y2],
      [x2, y2],
    ],
  };
  const inward = edge / 2;
  const corner = (x: number, y: number): Point => [x === x1 ? x + edge : x - edge, y === y1 ? y + edge : y - edge];
  const radius = Math.max(5, Math.min(x2 - x1, y2 - y1) / 2 - edge - 5);
  return svg(
    "g",
    {class: "load-plan"},
    svg("rect", {x: x1, y: y1, width: x2 - x1, height: y2 - y1, fill: "#ffffff", stroke: ink, "stroke-width": 0.8}),
    loadFaces.map((face) => {
      const [a, b] = corners[face];
      const mean = meanTension(load, face);
      return svg("path", {
        d: path([a, b, corner(...b), corner(...a)]),
        fill: Number.isFinite(mean) ? steps.colours[steps.of(mean)] : "#ffffff",
        stroke: ink,
        "stroke-width": 0.8,
        "data-plan-face": face,
        "data-step": Number.isFinite(mean) ? steps.of(mean) : -1,
      });
    }),
    turningArrow(load, (x1 + x2) / 2, (y1 + y2) / 2, radius),
    names(load, format, [x1 - inward, y1, x2 + inward, y2]),
    planWords(load).map((line, i, all) =>
      words(line, width / 2, y1 - margin - 4 - (all.length - 1 - i) * (letters + 2), {
        "text-anchor": "middle",
        fill: quietInk,
      }),
    ),
  );
}
