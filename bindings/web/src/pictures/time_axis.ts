// SPDX-License-Identifier: BSD-3-Clause
// Time in storage as a place between 0 and 1: the first hour by its logarithm, what follows in proportion, so that
// both the fast loss of the first minutes and a warm day of a week can be seen.
import {duration} from "../units";

const second = 1;
const hour = 3600;
const day = 86400;
/** Share of the axis that the first hour takes. */
const firstHour = 0.22;

export interface TimeAxis {
  place: (time: number) => number;
  ticks: (width: number) => {at: number; name: string}[];
  /** Where the first hour ends; null when the whole axis is linear. */
  split: number | null;
  unit: "s" | "min" | "h" | "d";
}

const steps: {[unit: string]: number[]} = {
  s: [1, 2, 5, 10, 20, 30, 60],
  min: [1, 2, 5, 10, 15, 20, 30, 60],
  h: [1, 2, 3, 6, 12, 24],
  d: [1, 2, 5, 7, 10, 14, 30, 60, 90, 180, 365],
};
const sizes = {s: second, min: 60, h: hour, d: day};

function unitOf(end: number): TimeAxis["unit"] {
  if (end <= 120) return "s";
  if (end <= 2 * hour) return "min";
  return end <= 2 * day ? "h" : "d";
}

/** Marks at whole numbers of the unit, no nearer than their words are wide. */
function linearTicks(unit: TimeAxis["unit"], from: number, end: number, room: number): number[] {
  const size = sizes[unit];
  const fits = Math.max(1, Math.floor(room / 44));
  const step = steps[unit].find((s) => (end - from) / (s * size) <= fits) ?? (end - from) / size / fits;
  const marks: number[] = [];
  for (let t = step * size; t <= end * (1 + 1e-9); t += step * size) if (t > from) marks.push(t);
  return marks;
}

const named = (time: number, unit: TimeAxis["unit"]): string =>
  `${Math.round((time / sizes[unit]) * 100) / 100} ${unit}`;

export function timeAxis(end: number): TimeAxis {
  const unit = unitOf(end);
  if (end <= 2 * hour)
    return {
      unit,
      split: null,
      place: (time) => time / end,
      ticks: (width) => [
        {at: 0, name: `0 ${unit}`},
        ...linearTicks(unit, 0, end, width).map((t) => ({at: t / end, name: named(t, unit)})),
      ],
    };
  const place = (time: number): number =>
    time <= hour
      ? (firstHour * Math.log(Math.max(second, time))) / Math.log(hour)
      : firstHour + ((1 - firstHour) * (time - hour)) / (end - hour);
  return {
    unit,
    split: firstHour,
    place,
    ticks: (width) => {
      const room = width * firstHour;
      const early = room > 110 ? [second, 60, hour] : room > 40 ? [second, hour] : [hour];
      const gap = 40 / width;
      const later = linearTicks(unit, hour, end, width * (1 - firstHour)).map((t) => ({
        at: place(t),
        name: named(t, unit),
      }));
      const marks = early.map((t) => ({at: place(t), name: duration(t).replace("60 s", "1 min")}));
      return [...marks, ...later.filter((mark) => mark.at - firstHour > gap)];
    },
  };
}
