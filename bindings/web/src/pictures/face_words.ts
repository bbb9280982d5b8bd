// SPDX-License-Identifier: BSD-3-Clause
// What is said of the faces: their means over the height, and the faces at the height of the least hoop tension. Both
// are looked at before they are called the same.
import {num, type Side} from "../data";
import {type Child, q, say} from "../dom";
import * as s from "./sides";

const least = (side: Side, name: string): string => `${side.place}/summary/containment/after_storage/least/${name}`;
const percent = (place: string): Child => q(place, "size", false, 2);

const meansAlike = (side: Side): boolean => Math.abs(num(s.finding(side, "face_difference")) ?? 1) < 0.01;
const placeAlike = (side: Side): boolean => {
  const more = num(s.finding(side, "least_place_more"));
  return more !== null && more < 0.02;
};
/** Faces differ when either comparison finds a difference. */
export const facesDiffer = (side: Side): boolean => !meansAlike(side) || !placeAlike(side);

/** "the right face carries 49 % more than the front" */
function atLeastPlace(side: Side): Child {
  const more = s.finding(side, "least_place_more");
  const best: Child = ["at the least place the ", say(s.finding(side, "least_place_best_face")), " face carries "];
  return num(more) === null
    ? [
        best,
        q(s.finding(side, "least_place_best_N_per_m"), "tension"),
        " and the ",
        say(least(side, "face")),
        " nothing",
      ]
    : [best, percent(more), " more than the ", say(least(side, "face"))];
}

/** The finding as a sentence after the words that say whose it is. */
export function judged(side: Side, of: Child): Child {
  if (!facesDiffer(side))
    return [
      of ? [of, "the"] : "The",
      " four faces carry the same: within ",
      percent(s.finding(side, "face_difference")),
      " on average over the height, within ",
      percent(s.finding(side, "least_place_more")),
      " at the least place",
    ];
  if (meansAlike(side))
    return [
      of ? [of, "on"] : "On",
      " average over the height the faces carry the same within one percent, but ",
      atLeastPlace(side),
    ];
  return [
    of ? [of, "on"] : "On",
    " average over the height the ",
    say(s.finding(side, "weakest_face")),
    " face carries ",
    percent(s.finding(side, "face_difference")),
    " less than the ",
    say(s.finding(side, "strongest_face")),
    placeAlike(side) ? "" : ["; ", atLeastPlace(side)],
  ];
}
