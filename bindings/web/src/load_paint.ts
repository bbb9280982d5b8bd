// SPDX-License-Identifier: BSD-3-Clause
// Slices of a face that are painted alike, put together: what both drawings paint.
import {type DrawnLoad, isCovered, type LoadFace, sliceEdges} from "./load_object";
import type {Steps} from "./load_scale";

export interface Run {
  face: LoadFace;
  first: number; // slices
  last: number;
  low: number; // m
  high: number;
  step: number; // of colour; -1 where there is no film
}

export function runs(load: DrawnLoad, steps: Steps, face: LoadFace): Run[] {
  const list: Run[] = [];
  load.heights.forEach((_, slice) => {
    const step = isCovered(load, face, slice) ? steps.of(load.tension[face][slice]) : -1;
    const [low, high] = sliceEdges(load, slice);
    const before = list[list.length - 1];
    if (before?.step === step) {
      before.last = slice;
      before.high = high;
    } else list.push({face, first: slice, last: slice, low, high, step});
  });
  return list;
}

/** Attributes that say of a painted piece what it shows. */
export const shows = (run: Run): {[name: string]: string | number} => ({
  "data-face": run.face,
  "data-first": run.first,
  "data-last": run.last,
  "data-step": run.step,
});

/** Steps in the number of layers over the height: points (layers, height in m) of an outline. */
export function layerOutline(load: DrawnLoad, face: LoadFace): [number, number][] {
  const points: [number, number][] = [[0, 0]];
  load.heights.forEach((_, slice) => {
    const count = isCovered(load, face, slice) ? load.layers[face][slice] : 0;
    const [low, high] = sliceEdges(load, slice);
    points.push([count, low], [count, high]);
  });
  points.push([0, load.height]);
  return points;
}
