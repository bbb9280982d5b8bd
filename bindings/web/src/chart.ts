// SPDX-License-Identifier: BSD-3-Clause
// What all pictures share: size, colours that colour-blind people tell apart, lines told apart without colour too.
import * as Plot from "@observablehq/plot";
import {type Child, h} from "./dom";
import {convert, type Kind, kinds, type Style} from "./units";

/** Okabe and Ito's palette, darkened where text of that colour must be read on white. */
export const ink = {
  blue: "#0067a3",
  orange: "#b34a00",
  green: "#007a57",
  purple: "#8f3f73",
  grey: "#59636b",
  black: "#1a2024",
};

export interface Stroke {
  name: string;
  words?: Child; // instead of the name, when it holds a number of the data
  colour: string;
  dash: string;
  symbol?: Plot.SymbolType; // a mark instead of a line
}
export const stationStroke: {[name: string]: Stroke} = {
  top: {name: "top", colour: ink.blue, dash: ""},
  middle: {name: "middle", colour: ink.orange, dash: "7 3"},
  bottom: {name: "bottom", colour: ink.green, dash: "2 3"},
};

export function styleNow(): Style {
  return document.documentElement.dataset.units === "inch-pound" ? "inch-pound" : "metric";
}

/** Axis title with its unit. */
export function axis(words: string, kind: Kind): string {
  const unit = kinds[kind][styleNow()].unit;
  return unit === "" ? words : `${words}, ${unit}`;
}
/** The same on two lines where one does not fit below a drawing of that width; margins leave room for two. */
export function axisLines(words: string, kind: Kind, width: number): string {
  const whole = axis(words, kind);
  const letters = Math.floor((width - 50) / 6.6);
  if (whole.length <= letters) return whole;
  const cut = whole.lastIndexOf(" ", Math.ceil(whole.length / 2));
  return cut > 0 ? `${whole.slice(0, cut)}\n${whole.slice(cut + 1)}` : whole;
}
/** How many marks of numbers fit below a drawing of that width. */
export const fewTicks = (width: number): number => Math.min(8, Math.max(2, Math.floor((width - 60) / 55)));
/** Round marks of numbers, at least so many pixels apart, on an axis with so many pixels for a unit. */
export function spacedTicks(low: number, high: number, perUnit: number, apart = 60): number[] {
  const least = apart / perUnit;
  const power = 10 ** Math.floor(Math.log10(least));
  const step = power * ([1, 2, 5].find((m) => m * power >= least) ?? 10);
  const first = Math.ceil(low / step);
  return Array.from({length: Math.floor(high / step) - first + 1}, (_, i) => (first + i) * step);
}
/** The label of an upward axis above it, where the drawing is too low for one along it. */
export const onTop: Plot.ScaleOptions = {labelAnchor: "top", labelArrow: "none"};
export const shown = (value: number, kind: Kind): number => convert(value, kind, styleNow());

function svgPart(tag: string, attributes: {[name: string]: string}): SVGElement {
  const part = document.createElementNS("http://www.w3.org/2000/svg", tag);
  for (const [name, value] of Object.entries(attributes)) part.setAttribute(name, value);
  return part;
}
const lineSample = (stroke: Stroke): SVGElement =>
  svgPart("line", {
    x1: "0",
    x2: "28",
    y1: "6",
    y2: "6",
    stroke: stroke.colour,
    "stroke-width": "2.5",
    "stroke-dasharray": stroke.dash || "none",
  });
const outlines: {[symbol: string]: string} = {
  square: "M9,1H19V11H9Z",
  triangle: "M14,0L20,11H8Z",
  diamond: "M14,0L19,6L14,12L9,6Z",
  circle: "M9,6a5,5 0 1,0 10,0a5,5 0 1,0 -10,0Z",
};
const markSample = (stroke: Stroke): SVGElement =>
  svgPart("path", {d: outlines[String(stroke.symbol)] ?? outlines.circle, fill: stroke.colour});

/** Names of lines with a sample of each: read before the picture, and without its colours. */
export function keys(strokes: Stroke[]): HTMLElement {
  return h(
    "ul",
    {class: "keys"},
    strokes.map((stroke) => {
      const sample = svgPart("svg", {width: "28", height: "12", "aria-hidden": "true"});
      sample.append(stroke.symbol ? markSample(stroke) : lineSample(stroke));
      return h("li", {}, sample, h("span", {}, stroke.words ?? stroke.name));
    }),
  );
}

/** Tall drawings give more of their height to the sheet than those that are low already. */
const onPaper = (height: number): number => (height > 220 ? 0.75 : 0.9);

export type Draw = (width: number) => Plot.PlotOptions;

/** A drawing that follows the width of its frame, the units chosen, and the paper. */
export function drawing(alternative: string, draw: Draw): HTMLElement {
  const frame = h("div", {class: "drawing"});
  let last = 0;
  const render = (width: number): void => {
    if (width < 40) return;
    last = width;
    const options = draw(width);
    // A label on two lines reaches further down.
    const deeper = `${options.x?.label ?? ""}`.includes("\n") ? 14 : 0;
    if (options.height) options.height = options.height * (printing ? onPaper(options.height) : 1) + deeper;
    const svg = Plot.plot({
      width,
      style: {fontSize: "12px", fontFamily: "inherit", color: ink.black},
      marginLeft: 64,
      ...options,
      marginBottom: (options.marginBottom ?? 42) + deeper,
    });
    svg.setAttribute("role", "img");
    svg.setAttribute("aria-label", alternative);
    for (const part of svg.querySelectorAll("[aria-label]")) part.removeAttribute("aria-label");
    frame.replaceChildren(svg);
  };
  redraws.push(() => render(Math.round(frame.clientWidth)));
  new ResizeObserver(() => {
    const width = Math.round(frame.clientWidth);
    if (Math.abs(width - last) > 4 && !printing) render(width);
  }).observe(frame);
  return frame;
}

const redraws: (() => void)[] = [];
let printing = false;
export function redrawAll(): void {
  for (const redraw of redraws) redraw();
}
// On paper the page has the width of the sheet: drawn anew for it, so that letters keep their size.
addEventListener("beforeprint", () => {
  printing = true;
  document.documentElement.classList.add("paper");
  redrawAll();
});
addEventListener("afterprint", () => {
  printing = false;
  document.documentElement.classList.remove("paper");
  redrawAll();
});

export interface Picture {
  id: string;
  title: Child; // the finding, from the data
  keys?: Stroke[];
  panels: {name?: Child; drawings: HTMLElement[]}[];
  caption: Child;
  tables: () => Child;
  wide?: boolean;
  layout?: string; // a class of the style sheet that places the panels; else by their number
}

/** The domain of a difference: zero is always in it, with room on both sides. */
export function differenceExtent(values: number[]): [number, number] {
  const finite = values.filter(Number.isFinite);
  const low = Math.min(0, ...finite),
    high = Math.max(0, ...finite);
  const room = 0.08 * (high - low) || 0.5;
  return [low - room, high + room];
}
/** Where a difference changes sign. */
export const zeroLine = (over: "x" | "y"): Plot.Markish =>
  (over === "x" ? Plot.ruleX : Plot.ruleY)([0], {stroke: ink.black, strokeWidth: 1.2});

/** Two sides with two drawings each stand in two columns, the same quantity side by side. */
function arrangement({panels, layout}: Picture): string {
  if (layout) return layout;
  const drawings = Math.max(...panels.map((panel) => panel.drawings.length));
  if (panels.length > 2) return "small";
  if (panels.length === 2) return drawings === 2 ? "pairs" : "";
  return drawings === 1 ? "single" : "";
}

export function figure(p: Picture): HTMLElement {
  const details = p.tables;
  return h(
    "figure",
    {class: p.wide ? "picture wide" : "picture", id: p.id, "aria-labelledby": `${p.id}-title`},
    h("h3", {id: `${p.id}-title`}, p.title),
    p.keys ? keys(p.keys) : null,
    h(
      "div",
      {class: `panels ${arrangement(p)}`},
      p.panels.map((panel) =>
        panel.drawings.map((d, i) =>
          h("div", {class: "panel"}, panel.name && i === 0 ? h("h4", {}, panel.name) : null, d),
        ),
      ),
    ),
    h("figcaption", {}, p.caption),
    tablesOf(details),
  );
}

function tablesOf(make: () => Child): HTMLElement {
  const details = h("details", {}, h("summary", {}, "Numbers of this picture"));
  let made = false;
  details.addEventListener("toggle", () => {
    if (made) return;
    made = true;
    const content = make();
    for (const child of Array.isArray(content) ? content.flat(3) : [content])
      if (child instanceof Node) details.append(child);
  });
  return details;
}

/** The domain that holds all values, from zero when they are not far from it. */
export function extent(values: number[], fromZero = true): [number, number] {
  const finite = values.filter(Number.isFinite);
  if (finite.length === 0) return [0, 1];
  const low = Math.min(...finite),
    high = Math.max(...finite);
  const from = fromZero && low >= 0 ? 0 : low;
  return from === high ? [from - 0.5, high + 0.5] : [from, high];
}
