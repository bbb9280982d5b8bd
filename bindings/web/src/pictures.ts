// SPDX-License-Identifier: BSD-3-Clause
// Which pictures carry a finding and stand on the sheets of the report, and which stand in the appendix.
import {figure, type Picture} from "./chart";
import {anyStored, done, has, type Side, sides} from "./data";
import {type Child, h} from "./dom";
import {buildUp, losesFilm, noBuildUp} from "./pictures/build_up";
import {facesDiffer} from "./pictures/face_words";
import {faceProfiles} from "./pictures/faces";
import {overHeight} from "./pictures/over_height";
import {overTime} from "./pictures/over_time";
import {first, pair, several} from "./pictures/sides";
import {spanForce, steadySpan} from "./pictures/span_force";
import {stiffness} from "./pictures/stiffness";
import {zones} from "./pictures/zones";

const drawable = done.length > 0 && done.every((side: Side) => has(`${side.place}/detail`));
/** With several sides only what a reader chooses by: where each holds, and how long. */
const facesMatter = !several && (pair ? [pair.present, pair.candidate] : drawable ? [first] : []).some(facesDiffer);
const buildUpMatters = !several && !pair && drawable && losesFilm(first);

const drawn = (list: (Picture | null)[]): HTMLElement[] => list.filter((p) => p !== null).map(figure);
const told = (words: Child): HTMLElement => h("p", {class: "picture-words"}, words);

/** One sheet of paper for a single wrap, two at most for several sides. */
export function mainPictures(): HTMLElement[] {
  if (!drawable)
    return [
      told(`${sides.length === 1 ? "This prediction" : "No side"} could not be computed, so there is nothing to draw.`),
    ];
  return [
    ...drawn([overHeight(), overTime(), facesMatter ? faceProfiles() : null, buildUpMatters ? buildUp() : null]),
    ...(anyStored ? [] : [told("No storage is set, so nothing is drawn over time.")]),
  ];
}

/** The rest, and in words what would be flat if it were drawn. */
export function appendixPictures(): HTMLElement[] {
  if (!drawable) return [];
  const build = buildUp(),
    span = spanForce();
  return [
    ...drawn([facesMatter ? null : faceProfiles(), buildUpMatters ? null : build, span, zones(), stiffness()]),
    ...(build ? [] : [told(noBuildUp())]),
    ...(span ? [] : [told(steadySpan())]),
  ];
}
