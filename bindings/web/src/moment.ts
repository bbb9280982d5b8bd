// SPDX-License-Identifier: BSD-3-Clause
// The moment that the drawing and the tables of the stations show: one choice, always in sight.
import {anyStored, type Moment} from "./data";
import {choice} from "./dom";

export const moments: [Moment, string][] = [
  ["end", "end of wrapping"],
  ["weakest", "weakest in storage"],
  ["after_storage", "after storage"],
];
/** The same in a sentence. */
export const inWords: {[moment in Moment]: string} = {
  end: "when wrapping ends",
  weakest: "weakest in storage",
  after_storage: "after storage",
};

const root = document.documentElement;
const known = (name: string | undefined): name is Moment => moments.some(([moment]) => moment === name);

/** A copy saved from the browser keeps the choice. */
export const chosen = (): Moment => (known(root.dataset.moment) ? root.dataset.moment : "weakest");

function choose(moment: Moment): void {
  root.dataset.moment = moment;
  dispatchEvent(new CustomEvent("momentchanged", {detail: moment}));
}

/** Calls back now and at every change of the moment. */
export function atMoment(show: (moment: Moment) => void): void {
  show(chosen());
  addEventListener("momentchanged", () => show(chosen()));
}

/** The choice; nothing to choose where there is no storage. */
export function momentChoice(): HTMLElement | null {
  root.dataset.moment = anyStored ? chosen() : "end";
  return anyStored ? choice("Moment", "moment", moments, chosen, (value) => choose(value as Moment)) : null;
}
