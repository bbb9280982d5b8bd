// SPDX-License-Identifier: BSD-3-Clause
// What the pictures of the load in transit share: where their numbers stand, the stack as boxes, tables.
import {capital, has, list, num, nums, outputName, type Side, text} from "../data";
import {type Child, q, table, unit} from "../dom";
import type {Kind} from "../units";
import * as s from "./sides";

/** All accelerations are told in one unit, that of this output. */
export const acceleration: Kind = "output:transit/withstood_gn";

export const own = (side: Side, name: string): string => `${s.detail(side)}/transit/${name}`;
/** What the summary says of the direction that is drawn, at the least hoop tension. */
export const weakest = (side: Side, name: string): string =>
  `${side.place}/summary/transit/weakest/${text(own(side, "load_direction"))}/${name}`;
/** The keys without which nothing can be said. */
export const missing = (side: Side): string[] => list(own(side, "missing")).map(String);
export const isKnown = (side: Side): boolean => has(own(side, "load_direction"));
export const isRidden = (side: Side): boolean => has(own(side, "ride"));

/** Sentences of several sides, one after the other. */
export const oneByOne = (over: Side[], say: (side: Side) => Child): Child =>
  over.map((side, i) => [i > 0 ? "; " : "", say(side)]);

interface Corner {
  x: number;
  y: number;
}
/** Height of the stack at rest, mm. */
export const restHeight = (side: Side): number =>
  list(own(side, "ride/worst")).reduce<number>(
    (sum, _, i) => sum + 1e3 * (num(own(side, `ride/worst/${i}/height_m`)) ?? 0),
    0,
  );

/**
 * Corners of every tier as it stands when the load leans most, mm, seen from the side. The motion is that of the data
 * across the load; upwards each tier is drawn resting on an edge of the one below.
 */
export function boxes(side: Side): Corner[][] {
  const half = ((num(own(side, "side_m")) ?? 0) * 1e3) / 2;
  let below = {x: 0, y: 0, half: 0, turn: 0};
  return list(own(side, "ride/worst")).map((_, i) => {
    const value = (name: string): number => num(own(side, `ride/worst/${i}/${name}`)) ?? 0;
    const up = (value("height_m") * 1e3) / 2,
      turn = value("turn_rad"),
      x = value("shift_mm");
    const aside = x - below.x - below.half * Math.sin(below.turn) - up * Math.sin(turn);
    const y =
      below.y +
      below.half * Math.cos(below.turn) +
      up * Math.cos(turn) +
      half * Math.abs(Math.sin(turn - below.turn)) -
      aside * Math.tan(below.turn);
    below = {x, y, half: up, turn};
    const corner = (along: number, upwards: number): Corner => ({
      x: x + along * Math.cos(turn) + upwards * Math.sin(turn),
      y: y - along * Math.sin(turn) + upwards * Math.cos(turn),
    });
    return [corner(-half, -up), corner(half, -up), corner(half, up), corner(-half, up)];
  });
}

/** "0.5 gn sideways, along its width" */
export const levelWords = (side: Side): Child => [
  q(own(side, "level_gn"), acceleration),
  text(own(side, "vehicle_direction")) === "" ? "" : ` ${text(own(side, "vehicle_direction"))}`,
  ", ",
  text(own(side, "direction")),
];

export const interfaceTable = (side: Side): Child =>
  table(
    s.captionOf(side, `What each interface withstands when pushed slowly ${text(own(side, "direction"))}`),
    [
      {head: ["Height", unit("height")], numeric: true},
      {head: [capital(outputName("transit/first_slip_gn")), unit(acceleration)], numeric: true},
      {head: [capital(outputName("transit/held_gn")), unit(acceleration)], numeric: true},
      {head: [capital(outputName("transit/tipping_gn")), unit(acceleration)], numeric: true},
    ],
    list(weakest(side, "interfaces")).map((_, i) => [
      q(weakest(side, `interfaces/${i}/height_m`), "height", true),
      q(weakest(side, `interfaces/${i}/first_slip_gn`), acceleration, true),
      q(weakest(side, `interfaces/${i}/held_gn`), acceleration, true),
      q(weakest(side, `interfaces/${i}/tipping_gn`), acceleration, true),
    ]),
  );

export const worstTable = (side: Side): Child =>
  table(
    [s.captionOf(side, "Tiers from below when the load leans most, after "), q(own(side, "ride/moment_s"), "seconds")],
    [
      {head: "Tier", numeric: true},
      {head: ["Displacement", unit("small")], numeric: true},
      {head: ["Slip on what is below", unit("small")], numeric: true},
    ],
    list(own(side, "ride/worst")).map((_, i) => [
      q(own(side, `ride/worst/${i}/tier`), "count", true),
      q(own(side, `ride/worst/${i}/shift_mm`), "small", true),
      q(own(side, `ride/worst/${i}/slip_mm`), "small", true),
    ]),
  );

export const timeTable = (side: Side): Child =>
  table(
    s.captionOf(side, "Displacement of tiers over time"),
    [
      {head: ["Time", unit("seconds")], numeric: true},
      ...list(own(side, "ride/tiers")).map((_, k) => ({
        head: ["Tier ", q(own(side, `ride/tiers/${k}/tier`), "count", true), unit("small")] as Child,
        numeric: true,
      })),
    ],
    nums(own(side, "ride/time_s")).map((_, i) => [
      q(own(side, `ride/time_s/${i}`), "seconds", true),
      ...list(own(side, "ride/tiers")).map((_, k) => q(own(side, `ride/tiers/${k}/shift_mm/${i}`), "small", true)),
    ]),
  );
