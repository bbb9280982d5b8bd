// SPDX-License-Identifier: BSD-3-Clause
// SVG elements, and the few shapes that the drawings of a load share.
import {ink, letters, quietInk} from "./load_object";

export type SvgChild = Node | string | null | undefined | SvgChild[];

function append(parent: Element, child: SvgChild): void {
  if (child === null || child === undefined) return;
  if (Array.isArray(child)) for (const one of child) append(parent, one);
  else parent.append(child);
}

const written = (value: string | number): string => (typeof value === "number" ? String(+value.toFixed(2)) : value);

export function svg(
  tag: string,
  attributes: {[name: string]: string | number | undefined} = {},
  ...children: SvgChild[]
): SVGElement {
  const element = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined) element.setAttribute(name, written(value));
  for (const child of children) append(element, child);
  return element;
}

let measure: CanvasRenderingContext2D | null | undefined;
/** Width of words in pixels. */
export function textWidth(words: string, format: {font: string}, bold = false): number {
  measure ??= document.createElement("canvas").getContext("2d");
  if (!measure) return 0.6 * letters * words.length;
  measure.font = `${bold ? "600 " : ""}${letters}px ${format.font}`;
  return measure.measureText(words).width;
}

export type Point = [number, number];
export const path = (points: Point[], closed = true): string =>
  `M${points.map((p) => p.map((v) => +v.toFixed(2)).join(" ")).join("L")}${closed ? "Z" : ""}`;

let made = 0;
/** Fills of what is not on the scale: goods without film, and film that is not counted in hoop tension. */
export function fills(): {definitions: SVGElement; bare: string; loose: string} {
  const bare = `bare-goods-${++made}`,
    loose = `loose-film-${made}`;
  return {
    definitions: svg(
      "defs",
      {},
      svg(
        "pattern",
        {id: bare, width: 8, height: 8, patternUnits: "userSpaceOnUse"},
        svg("rect", {width: 8, height: 8, fill: "#ffffff"}),
        svg("circle", {cx: 2, cy: 2, r: 0.9, fill: "#7d766b"}),
        svg("circle", {cx: 6, cy: 6, r: 0.9, fill: "#7d766b"}),
      ),
      svg(
        "pattern",
        {id: loose, width: 5, height: 5, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)"},
        svg("rect", {width: 5, height: 5, fill: "#ffffff"}),
        svg("rect", {width: 1.4, height: 5, fill: "#8d99a3"}),
      ),
    ),
    bare: `url(#${bare})`,
    loose: `url(#${loose})`,
  };
}

/** A line that is seen on light and on dark. */
export function lineOver(points: Point[], dash?: string): SvgChild {
  const d = path(points, false);
  return [
    svg("path", {d, fill: "none", stroke: "#ffffff", "stroke-width": 3.2, "stroke-opacity": 0.9}),
    svg("path", {d, fill: "none", stroke: ink, "stroke-width": 1.2, "stroke-dasharray": dash}),
  ];
}

/** The head of an arrow at the end of a line from one point to another. */
export function arrowHead(from: Point, to: Point, size = 7): SVGElement {
  const angle = Math.atan2(to[1] - from[1], to[0] - from[0]);
  const wing = (turn: number): Point => [to[0] - size * Math.cos(angle + turn), to[1] - size * Math.sin(angle + turn)];
  return svg("path", {d: path([to, wing(0.45), wing(-0.45)]), fill: quietInk});
}

/** Places along a line of that many pixels, as near to the wanted ones as they may stand, wanted ones ascending. */
export function spread(wanted: number[], sizes: number[], from: number, to: number, gap = 4): number[] {
  const at = [...wanted];
  const apart = (i: number): number => (sizes[i - 1] + sizes[i]) / 2 + gap;
  for (let i = 0; i < at.length; ++i) at[i] = Math.max(at[i], i === 0 ? from + sizes[0] / 2 : at[i - 1] + apart(i));
  for (let i = at.length - 1; i >= 0; --i)
    at[i] = Math.min(at[i], i === at.length - 1 ? to - sizes[i] / 2 : at[i + 1] - apart(i + 1));
  return at;
}

/** The frame of a drawing: width, foot and top of what it shows, its alternative in words. */
export function sheet(
  [width, foot, top]: [number, number, number],
  words: string,
  kind: string,
  ...children: SvgChild[]
): SVGElement {
  return svg(
    "svg",
    {
      viewBox: `0 ${+top.toFixed(2)} ${width} ${+(foot - top).toFixed(2)}`,
      width,
      height: foot - top,
      class: `load-picture ${kind}`,
      role: "img",
      "aria-label": words,
      "font-size": letters,
      fill: ink,
    },
    ...children,
  );
}

export const words = (
  text: string,
  x: number,
  y: number,
  attributes: {[name: string]: string | number | undefined} = {},
): SVGElement => svg("text", {x, y, fill: ink, ...attributes}, text);
