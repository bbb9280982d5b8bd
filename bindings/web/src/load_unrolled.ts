// SPDX-License-Identifier: BSD-3-Clause
// The four faces side by side as they are seen from outside, with heights, stations and layers.
import {
  along,
  type DrawingFormat,
  type DrawnLoad,
  finding,
  ink,
  letters,
  loadFaces,
  type LoadFace,
  quietInk,
} from "./load_object";
import {layerOutline, runs, shows} from "./load_paint";
import {stepsOf} from "./load_scale";
import {
  arrowHead,
  fills,
  lineOver,
  path,
  type Point,
  sheet,
  spread,
  svg,
  type SvgChild,
  textWidth,
  words,
} from "./load_svg";

interface Column {
  face: LoadFace;
  from: number; // px
  to: number;
  layers: number; // px of the most layers, to the right of the face
}

/** The faces in the order in which they are seen by somebody who walks round the load to the right. */
function columns(load: DrawnLoad, left: number, right: number): Column[] {
  const layers = Math.min(18, Math.max(8, 0.035 * (right - left)));
  const gap = layers + 4;
  const lengths = loadFaces.map((face) => along(load, face));
  const whole = lengths.reduce((a, b) => a + b, 0);
  // A face that is far shorter than the others keeps the room of its name.
  const shares = lengths.map((v) => Math.max(v / whole, 0.14));
  const sum = shares.reduce((a, b) => a + b, 0);
  let from = left;
  return loadFaces.map((face, i) => {
    const to = from + ((right - left - 4 * gap) * shares[i]) / sum;
    const column = {face, from, to, layers};
    from = to + gap;
    return column;
  });
}

function faceColumn(
  load: DrawnLoad,
  format: DrawingFormat,
  column: Column,
  y: (height: number) => number,
  bare: string,
): SvgChild {
  const {face, from, to, layers} = column;
  const steps = stepsOf(load, format);
  const side = layers / Math.max(1, load.mostLayers);
  const box = {x: from, width: to - from};
  return [
    svg("rect", {...box, y: y(load.height), height: y(0) - y(load.height), fill: bare, "data-goods": face}),
    runs(load, steps, face).map((run) =>
      svg("rect", {
        ...box,
        y: y(run.high),
        height: y(run.low) - y(run.high),
        fill: run.step < 0 ? "none" : steps.colours[run.step],
        ...shows(run),
      }),
    ),
    svg("rect", {
      ...box,
      y: y(load.height),
      height: y(0) - y(load.height),
      fill: "none",
      stroke: ink,
      "stroke-width": 1,
    }),
    svg("path", {
      d: path(layerOutline(load, face).map(([count, height]): Point => [to + 0.5 + count * side, y(height)])),
      fill: "#dfe4e8",
      stroke: ink,
      "stroke-width": 0.9,
      "data-layers": face,
    }),
    words(face, (from + to) / 2, y(load.height) - 6, {
      "text-anchor": "middle",
      "font-weight": 600,
      "data-name": face,
    }),
  ];
}

/** Three to seven round heights from the deck up, in the unit shown. */
function ticks(top: number): number[] {
  const power = 10 ** Math.floor(Math.log10(top));
  const step = [0.2, 0.25, 0.5, 1, 2].map((size) => size * power).find((size) => top / size <= 6.001) ?? 2 * power;
  return Array.from({length: Math.floor(top / step + 1e-9) + 1}, (_, i) => Number((i * step).toPrecision(12)));
}

function heightAxis(load: DrawnLoad, format: DrawingFormat, x: number, y: (height: number) => number): SvgChild {
  const top = format.size(load.height);
  const perShown = load.height / top;
  return ticks(top).map((value) => {
    const at = y(value * perShown);
    return [
      svg("path", {
        d: path(
          [
            [x - 5, at],
            [x, at],
          ],
          false,
        ),
        stroke: ink,
        "stroke-width": 1,
      }),
      words(format.number(value), x - 8, at + 4, {"text-anchor": "end", "data-height": value}),
    ];
  });
}

/** Which way the film runs round the load: it meets the faces one after the other in that order. */
function filmArrow(from: number, to: number, y: number, format: DrawingFormat): SvgChild {
  const text = "film is laid this way";
  const wide = textWidth(text, format);
  const start: Point = [Math.min(to, from + 34 + wide), y],
    end: Point = [from, y];
  const tail = start[0] - wide - 6;
  return [
    svg("path", {
      d: path([[Math.max(tail, from + 16), y], end], false),
      stroke: quietInk,
      "stroke-width": 1.5,
    }),
    arrowHead([tail, y], end),
    words(text, Math.max(tail, from + 16) + 6, y + 4, {fill: quietInk}),
  ];
}

export function unrolledDrawing(load: DrawnLoad, format: DrawingFormat): SVGElement {
  const {width, height} = format;
  const fill = fills();
  const title = `Height, ${format.sizeUnit}`;
  const widest = Math.max(...ticks(format.size(load.height)).map((v) => textWidth(format.number(v), format)));
  const left = widest + 14;
  const names = Math.max(...load.stations.map((s) => textWidth(s.name, format)), 0);
  const right = width - names - 10;
  const top = 2 * letters + 16,
    foot = height - letters - 14;
  const y = (z: number): number => foot - ((foot - top) * z) / load.height;
  const all = columns(load, left, right);
  const marked = [...load.stations].sort((a, b) => b.height - a.height);
  const at = spread(
    marked.map((s) => y(s.height)),
    marked.map(() => letters + 1),
    top - 2,
    foot + 6,
    2,
  );
  return sheet(
    [width, height, 0],
    `${finding(load, format)} The four faces unrolled, seen from outside: ${loadFaces.join(", ")}.`,
    "load-unrolled",
    fill.definitions,
    words(title, 0, letters, {fill: quietInk}),
    heightAxis(load, format, left - 3, y),
    all.map((column) => faceColumn(load, format, column, y, fill.bare)),
    marked.map((station, i) => {
      const z = y(station.height);
      const ends: Point[] = [
        [left, z],
        [right - 4, z],
      ];
      return svg(
        "g",
        {"data-station": station.name},
        lineOver(ends, "5 3"),
        svg("path", {
          d: path(
            [
              [right - 4, z],
              [right + 4, at[i]],
            ],
            false,
          ),
          stroke: quietInk,
          "stroke-width": 1,
        }),
        words(station.name, right + 7, at[i] + 4, {fill: quietInk}),
      );
    }),
    filmArrow(left, right, foot + letters + 4, format),
  );
}
