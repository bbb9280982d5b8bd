// SPDX-License-Identifier: BSD-3-Clause
// The loads of the page's data as objects that can be drawn, all of them on one scale.
import {styleNow} from "./chart";
import {
  at,
  containmentOf,
  done,
  label,
  many,
  type Moment,
  num,
  nums,
  type Side,
  stations,
  targetOf,
  text,
} from "./data";
import {type ByFace, type DrawnLoad, type DrawnStation, extremes, loadFaces} from "./load_object";
import {inWords, moments} from "./moment";
import {words} from "./units";

/** Height of a pallet in the picture, m; no input says it, so no number is given for it. */
const nominalPallet = 0.14;

export const heightsOf = (side: Side, name: string): string => `${side.place}/detail/over_height/${name}`;
export const tensionOf = (side: Side, moment: Moment): string => heightsOf(side, `${moment}_N_per_m`);
const drawingOf = (side: Side, name: string): number => num(`${side.place}/detail/drawing/${name}`) ?? 0;

const byFace = (place: string): ByFace =>
  Object.fromEntries(loadFaces.map((face) => [face, nums(`${place}/${face}`)])) as ByFace;

/** What a target asks of a station at this moment. */
function wanted(side: Side, moment: Moment, station: string): string | undefined {
  const target = targetOf(side, station);
  if (target === undefined || text(`${target}/at`) !== moment) return undefined;
  const value = num(`${target}/wanted`);
  if (value === null) return undefined;
  return text(`${target}/quantity`) === "pull_force"
    ? `${words(value, "force", styleNow())} pull`
    : words(value, "tension", styleNow());
}

function stationsOf(side: Side, moment: Moment): DrawnStation[] {
  return stations.map((name) => ({
    name,
    height: num(`${containmentOf(side, moment, name)}/height_m`) ?? NaN,
    tension: num(`${containmentOf(side, moment, name)}/hoop_tension_N_per_m`) ?? NaN,
    wanted: wanted(side, moment, name),
  }));
}

function onScale(side: Side, moment: Moment, scale: [number, number], mostLayers: number): DrawnLoad {
  return {
    length: num(`${side.place}/detail/load/length_m`) ?? 1,
    width: num(`${side.place}/detail/load/width_m`) ?? 1,
    height: num(`${side.place}/detail/load/height_m`) ?? 1,
    heights: nums(heightsOf(side, "height_m")),
    tension: byFace(tensionOf(side, moment)),
    layers: byFace(heightsOf(side, "film_layers")),
    stations: stationsOf(side, moment),
    topOverhang: drawingOf(side, "top_overhang_m"),
    filmBelow: Math.max(0, -drawingOf(side, "film_bottom_m")),
    palletHeight: nominalPallet,
    turning: text(`${side.place}/detail/drawing/turning`) === "delivery" ? "delivery" : "load",
    scale,
    mostLayers,
    label: `${many ? label(side) : "The load"}, ${inWords[moment]}`,
  };
}

let common: {scale: [number, number]; mostLayers: number} | undefined;
/** Least and greatest tension of film, and most layers, of all sides and moments. */
function shared(): {scale: [number, number]; mostLayers: number} {
  if (common) return common;
  const loads = done.flatMap((side) => moments.map(([moment]) => onScale(side, moment, [0, 1], 1)));
  const found = loads.map(extremes).flatMap((ends) => (ends ? [ends] : []));
  const all = found.flatMap(({least, greatest}) => [least.tension, greatest.tension]);
  const layers = loads.flatMap((load) => loadFaces.flatMap((face) => load.layers[face].filter(Number.isFinite)));
  common = {
    scale: all.length > 0 ? [Math.min(...all), Math.max(...all)] : [0, 1],
    mostLayers: Math.max(1, ...layers),
  };
  return common;
}

/** A side's load at a moment; its scale is that of all sides and moments. */
export const drawn = (side: Side, moment: Moment): DrawnLoad =>
  onScale(side, moment, shared().scale, shared().mostLayers);

/** Whether the data hold what the drawing shows; a result without its fields has none. */
export const canBeDrawn = (side: Side): boolean => at(tensionOf(side, "end")) !== undefined;
