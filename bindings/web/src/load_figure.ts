// SPDX-License-Identifier: BSD-3-Clause
// The drawing of a side's load on the page: drawn anew for another moment, other units, width and paper.
import {shown, styleNow} from "./chart";
import {
  capital,
  containmentOf,
  faces,
  label,
  list,
  many,
  type Moment,
  num,
  outputName,
  type Side,
  stations,
  text,
} from "./data";
import {brief, type Child, folded, h, q, table, unit} from "./dom";
import {drawn, heightsOf, tensionOf} from "./load_data";
import {type DrawingFormat, type DrawnLoad, loadDrawing, scaleDrawing, unrolledDrawing} from "./load_drawing";
import {bareKey, layersKey, type LoadKey, looseKey} from "./load_keys";
import {extremes, type Place} from "./load_object";
import {isOutOfScale} from "./load_solid";
import {inWords} from "./moment";
import {kinds, readable} from "./units";

export {canBeDrawn} from "./load_data";

function format(frame: HTMLElement, height: number, widest: number): DrawingFormat {
  return {
    width: Math.min(widest, Math.round(frame.clientWidth)),
    height,
    font: getComputedStyle(document.body).fontFamily,
    tension: (value) => shown(value, "tension"),
    tensionName: capital(outputName("hoop_tension_N_per_m")),
    tensionUnit: kinds.tension[styleNow()].unit,
    size: (value) => shown(value, "height"),
    sizeUnit: kinds.height[styleNow()].unit,
    number: (value) => readable(value),
  };
}

const isPaper = (): boolean => document.documentElement.classList.contains("paper");
function heightFor(width: number, isCompact: boolean): number {
  if (isPaper()) return isCompact ? 130 : 164;
  return Math.round(isCompact ? Math.max(200, Math.min(300, 0.6 * width)) : Math.max(240, Math.min(380, 0.72 * width)));
}

/** "372 N/m (front face at 13 mm)", every number from its place; "372 N/m (front, 13 mm)" where room is short. */
function extremeWords(side: Side, moment: Moment, {face, slice}: Place, isCompact: boolean): Child {
  return [
    q(`${tensionOf(side, moment)}/${face}/${slice}`, "tension"),
    isCompact ? ` (${face}, ` : ` (${face} face at `,
    q(`${heightsOf(side, "height_m")}/${slice}`, "place"),
    ")",
  ];
}

function when(side: Side, moment: Moment): Child {
  if (moment !== "weakest") return inWords[moment];
  const time = num(heightsOf(side, "weakest_time_s")) ?? 0;
  return [
    time > 0 ? ["after ", q(heightsOf(side, "weakest_time_s"), "time")] : "as soon as storage begins",
    " at ",
    q(heightsOf(side, "weakest_temperature_C"), "celsius"),
    `, when the ${text(heightsOf(side, "weakest_station"))} has least`,
  ];
}

/** Which quantity, when, and between what: stations may rank differently in pull force. */
function caption(side: Side, moment: Moment, load: DrawnLoad, isCompact: boolean): Child {
  const found = extremes(load);
  const what = capital(outputName("hoop_tension_N_per_m"));
  if (!found) return [what, " ", when(side, moment), ": there is no film on the load."];
  return [
    `${what} `,
    when(side, moment),
    ": ",
    extremeWords(side, moment, found.least, isCompact),
    " to ",
    extremeWords(side, moment, found.greatest, isCompact),
    ".",
    isOutOfScale(load) ? " Length, width and height are not to one scale." : "",
  ];
}

function numbers(side: Side, moment: Moment): Child {
  const who = many ? `${label(side)}, ` : "";
  const summary = `${side.place}/detail/drawing/face_means_N_per_m/${moment}`;
  return [
    table(
      capital(`${who}${inWords[moment]}: stations and mean of each face`),
      [
        {head: "Station"},
        {head: ["Height", unit("place")], numeric: true},
        {head: ["Mean of the faces", unit("tension")], numeric: true},
        ...faces.map((face) => ({head: [capital(face), unit("tension")] as Child, numeric: true})),
      ],
      [
        ...stations.map((station) => {
          const place = containmentOf(side, moment, station);
          return [
            station,
            q(`${place}/height_m`, "place", true),
            q(`${place}/hoop_tension_N_per_m`, "tension", true),
            ...faces.map((face) => q(`${place}/faces/${face}/hoop_tension_N_per_m`, "tension", true)),
          ];
        }),
        ["all heights with film", "", "", ...faces.map((face) => q(`${summary}/${face}`, "tension", true))],
      ],
    ),
    table(
      capital(`${who}${inWords[moment]}: ${outputName("hoop_tension_N_per_m")} and film layers over height`),
      [
        {head: ["Height", unit("height")], numeric: true},
        ...faces.map((face) => ({head: [capital(face), unit("tension")] as Child, numeric: true})),
        ...faces.map((face) => ({head: `${capital(outputName("film_layers"))}, ${face}`, numeric: true})),
      ],
      list(heightsOf(side, "height_m")).map((_, i) => [
        q(`${heightsOf(side, "height_m")}/${i}`, "height", true),
        ...faces.map((face) => q(`${tensionOf(side, moment)}/${face}/${i}`, "tension", true)),
        ...faces.map((face) => q(`${heightsOf(side, `film_layers/${face}`)}/${i}`, "count", true)),
      ]),
    ),
  ];
}

function keysOf(loads: DrawnLoad[]): LoadKey[] {
  const parts = [
    loads.some((load) => load.topOverhang > 0) ? "folded over the top" : "",
    loads.some((load) => load.filmBelow > 0) ? "over the pallet" : "",
  ];
  const loose = parts.filter((part) => part !== "").join(" and ");
  return [
    bareKey("no film"),
    ...(loose === "" ? [] : [looseKey(`film ${loose}, not on the scale`)]),
    layersKey(`${outputName("containment/film_layers")}, drawn thick`),
  ];
}

/** Draws anew when units, moment, paper or the width of a frame change. */
function live(frames: HTMLElement[], draw: (moment?: Moment) => void): void {
  let width = 0;
  const observer = new ResizeObserver(() => {
    const now = frames.reduce((sum, frame) => sum + frame.clientWidth, 0);
    if (Math.abs(now - width) > 4 && !isPaper()) draw();
    width = now;
  });
  for (const frame of frames) observer.observe(frame);
  for (const event of ["unitschanged", "beforeprint", "afterprint"]) addEventListener(event, () => draw());
  addEventListener("momentchanged", (event) => draw((event as CustomEvent<Moment>).detail));
}

const fill = (into: HTMLElement, children: Child): void => into.replaceChildren(...h("div", {}, children).childNodes);
const frame = (): HTMLElement => h("div", {class: "load-frame"});

/** The scale and what else the drawings show; the same for all loads drawn together. */
function legend(sides: Side[], moment: Moment): HTMLElement {
  const scale = frame(),
    keys = h("ul", {class: "keys"});
  const draw = (): void => {
    const loads = sides.map((side) => drawn(side, moment));
    if (scale.clientWidth > 40) scale.replaceChildren(scaleDrawing(loads[0], format(scale, 0, 360)));
    keys.replaceChildren(...keysOf(loads));
  };
  live([scale], draw);
  return h("div", {class: "load-legend"}, scale, keys);
}

export interface LoadFigureOptions {
  compact?: boolean; // in three dimensions alone; the four faces are one click away
  legend?: boolean; // false where one stands below several loads
}

/** One side's load. It is drawn anew when a "momentchanged" event on the window names another moment. */
export function loadFigure(side: Side, moment: Moment, options: LoadFigureOptions = {}): HTMLElement {
  const isCompact = options.compact === true;
  const solid = frame(),
    unrolled = frame(),
    caption_ = h("figcaption"),
    tables = h("div");
  let now = moment,
    isOpen = false;
  const put = (into: HTMLElement, make: typeof loadDrawing, load: DrawnLoad): void => {
    if (into.clientWidth < 100) return; // not laid out, or folded away
    const widest = isCompact ? 440 : 620;
    into.replaceChildren(make(load, format(into, heightFor(into.clientWidth, isCompact), widest)));
  };
  const draw = (other?: Moment): void => {
    if (other) now = other;
    const load = drawn(side, now);
    put(solid, loadDrawing, load);
    put(unrolled, unrolledDrawing, load);
    fill(caption_, caption(side, now, load, isCompact));
    figure.dataset.moment = now;
    if (isOpen) fill(tables, numbers(side, now));
  };
  const opened = folded(isCompact ? "All four faces, and the numbers" : "Numbers of this drawing", () => {
    isOpen = true;
    fill(tables, numbers(side, now));
    return isCompact ? [unrolled, tables] : tables;
  });
  const name = many ? label(side) : "The load";
  const figure = h(
    "figure",
    {class: isCompact ? "load-figure compact" : "load-figure", "aria-label": `${name}, drawn`, "data-side": side.index},
    many ? h("p", {class: "load-name"}, side.name === "" ? label(side) : brief(`${side.place}/name`)) : null,
    h("div", {class: "load-pair"}, solid, isCompact ? null : unrolled),
    options.legend === false ? null : legend([side], moment),
    caption_,
    opened,
  );
  live([solid, unrolled], draw);
  return figure;
}

/** The loads of several sides beside each other on one scale; a single one with its faces unrolled. */
export function loadFigures(sides: Side[], moment: Moment): HTMLElement {
  if (sides.length === 1) return loadFigure(sides[0], moment);
  return h(
    "div",
    {},
    h(
      "div",
      {class: "load-figures"},
      sides.map((side) => loadFigure(side, moment, {compact: true, legend: false})),
    ),
    legend(sides, moment),
  );
}
