// SPDX-License-Identifier: BSD-3-Clause
// Where points of the load stand on the page: parallel projection, seen from the front and left faces, from above.
import type {DrawnLoad, LoadFace} from "./load_object";
import type {Point} from "./load_svg";

const azimuth = (40 * Math.PI) / 180, // of the eye, from the front towards the left face
  elevation = (20 * Math.PI) / 180;
const flattest = 0.16; // of the greatest measure: what is less is drawn larger

/** Length, width and height as drawn. A load far flatter or narrower than others would not be seen. */
function drawnMeasures(load: {length: number; width: number; height: number}): [number, number, number] {
  const greatest = Math.max(load.length, load.width, load.height);
  return [load.length, load.width, load.height].map((v) => Math.max(v, flattest * greatest)) as [
    number,
    number,
    number,
  ];
}
export const isOutOfScale = (load: {length: number; width: number; height: number}): boolean =>
  drawnMeasures(load).some((v, i) => v !== [load.length, load.width, load.height][i]);

export class Solid {
  readonly height: number; // m of the load
  readonly pallet: number; // m, in the heights of the load
  private readonly half: Point;
  private readonly stretch: number; // drawn height over height
  private readonly origin: Point;
  private readonly scale: number; // px per m

  /** Fits load and pallet into a room [left, top, right, bottom] of the page. */
  constructor(load: DrawnLoad, room: [number, number, number, number]) {
    const [length, width, height] = drawnMeasures(load);
    this.half = [length / 2, width / 2];
    this.height = load.height;
    this.stretch = height / load.height;
    const greatest = Math.max(length, width, height);
    this.pallet = Math.min(Math.max(load.palletHeight, 0.05 * greatest), 0.12 * greatest) / this.stretch;
    this.origin = [0, 0];
    this.scale = 1;
    const all = [-this.pallet, load.height].flatMap((z) =>
      [-1, 1].flatMap((x) => [-1, 1].map((y) => this.corner(x, y, z))),
    );
    const [xs, ys] = [all.map((p) => p[0]), all.map((p) => p[1])];
    const [left, right, top, bottom] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
    this.scale = Math.max(1, Math.min((room[2] - room[0]) / (right - left), (room[3] - room[1]) / (bottom - top)));
    this.origin = [(room[0] + room[2] - this.scale * (left + right)) / 2, room[3] - this.scale * bottom];
  }

  /** A point by its place along length and width, each -1 to 1, and its height above the deck in m. */
  corner(x: number, y: number, z: number): Point {
    const [along, across] = [x * this.half[0], y * this.half[1]];
    const near = along * Math.cos(azimuth) + across * Math.sin(azimuth);
    return [
      this.origin[0] + this.scale * (across * Math.cos(azimuth) - along * Math.sin(azimuth)),
      this.origin[1] + this.scale * (near * Math.sin(elevation) - z * this.stretch * Math.cos(elevation)),
    ];
  }

  /** A strip of a visible face between two heights, and between two shares of its length from left to right. */
  onFace(face: LoadFace, low: number, high: number, from = 0, to = 1): Point[] {
    const at = (share: number, z: number): Point =>
      face === "front" ? this.corner(1, 2 * share - 1, z) : this.corner(1 - 2 * share, 1, z);
    return [at(from, low), at(to, low), at(to, high), at(from, high)];
  }

  /** The top, or what is left of it when a border of that many m is taken off. */
  top(border = 0): Point[] {
    const least = Math.min(...this.half);
    const taken = Math.min(border, 0.7 * least);
    const [x, y] = this.half.map((half) => 1 - taken / half);
    return [
      [1, -1],
      [1, 1],
      [-1, 1],
      [-1, -1],
    ].map(([a, b]) => this.corner(a * x, b * y, this.height));
  }

  /** A length along the height of the load as the picture has it: what is measured on the pallet, in m of the load. */
  ofHeight(length: number): number {
    return length / this.stretch;
  }
}
