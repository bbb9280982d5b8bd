// SPDX-License-Identifier: BSD-3-Clause
// The wrapped load as an object, free of the data of any page, and how its numbers are to be written.

export type LoadFace = "front" | "left" | "back" | "right";
/** Seen from above, counter-clockwise. */
export const loadFaces: LoadFace[] = ["front", "left", "back", "right"];
export type ByFace = {[face in LoadFace]: number[]};

export interface DrawnStation {
  name: string;
  height: number; // m above the deck
  tension: number; // N/m, mean of the faces
  wanted?: string; // least that it should hold, with its unit
}

/** A wrapped load at one moment. Heights count from the deck; arrays over the slices begin at the lowest. */
export interface DrawnLoad {
  length: number; // m
  width: number;
  height: number;
  heights: number[]; // m, slice centres
  tension: ByFace; // N/m
  layers: ByFace; // number of film layers, 0 where there is no film
  stations: DrawnStation[];
  topOverhang: number; // m of film above the top edge; negative where it ends below
  filmBelow: number; // m of film below the deck's edge; 0 when it starts above
  palletHeight: number; // m, of the picture only
  turning: "load" | "delivery"; // what turns
  scale: [number, number]; // N/m, least and greatest of all that are drawn alike
  mostLayers: number; // of all that are drawn alike
  label: string; // what is drawn, and when
}

/** Size of a drawing in pixels, and how numbers are shown in it. */
export interface DrawingFormat {
  width: number;
  height: number; // at most
  font: string; // family
  tension: (value: number) => number; // N/m to the unit shown
  tensionName: string; // what the colours show, as a heading
  tensionUnit: string;
  size: (value: number) => number; // m to the unit shown
  sizeUnit: string;
  number: (value: number) => string; // a shown number in words
}

/** Letters of all drawings, px. */
export const letters = 12;
export const ink = "#1a2024";
export const quietInk = "#4c565e";

export const along = (load: DrawnLoad, face: LoadFace): number =>
  face === "front" || face === "back" ? load.width : load.length;

/** Whether there is film on a slice of a face. */
export const isCovered = (load: DrawnLoad, face: LoadFace, slice: number): boolean =>
  load.layers[face][slice] > 0 && Number.isFinite(load.tension[face][slice]);

/** Mean of a face over the heights that have film; NaN where there is none. */
export function meanTension(load: DrawnLoad, face: LoadFace): number {
  const held = load.tension[face].filter((_, i) => isCovered(load, face, i));
  return held.reduce((sum, value) => sum + value, 0) / held.length;
}

/** Lower and upper edge of a slice, m. */
export function sliceEdges(load: DrawnLoad, slice: number): [number, number] {
  const {heights, height} = load;
  const low = slice === 0 ? 0 : (heights[slice - 1] + heights[slice]) / 2;
  return [low, slice + 1 === heights.length ? height : (heights[slice] + heights[slice + 1]) / 2];
}

/** Film of one face and one slice. */
export interface Place {
  face: LoadFace;
  slice: number;
  tension: number;
}

/** Where film holds least and where most; undefined on a load without film. */
export function extremes(load: DrawnLoad): {least: Place; greatest: Place} | undefined {
  const all = loadFaces.flatMap((face) =>
    load.tension[face].flatMap((tension, slice) => (isCovered(load, face, slice) ? [{face, slice, tension}] : [])),
  );
  if (all.length === 0) return undefined;
  return {
    least: all.reduce((a, b) => (b.tension < a.tension ? b : a)),
    greatest: all.reduce((a, b) => (b.tension > a.tension ? b : a)),
  };
}

/** A number with its unit. */
export const tensionWords = (value: number, format: DrawingFormat): string =>
  `${format.number(format.tension(value))}\u00a0${format.tensionUnit}`;
const sizeWords = (value: number, format: DrawingFormat): string =>
  `${format.number(format.size(value))}\u00a0${format.sizeUnit}`;

/** What the drawing says, for those who do not see it. */
export function finding(load: DrawnLoad, format: DrawingFormat): string {
  const found = extremes(load);
  if (!found) return `${load.label}: there is no film on the load.`;
  const place = ({face, slice, tension}: Place): string =>
    `${tensionWords(tension, format)} on the ${face} face at ${sizeWords(load.heights[slice], format)} above the deck`;
  const stations = load.stations.map(
    (station) =>
      `${station.name} ${tensionWords(station.tension, format)}${station.wanted ? `, wanted at least ${station.wanted}` : ""}`,
  );
  return (
    `${load.label}: hoop tension is least, ${place(found.least)}, and greatest, ${place(found.greatest)}. ` +
    `Stations: ${stations.join("; ")}.`
  );
}
