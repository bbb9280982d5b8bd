// SPDX-License-Identifier: BSD-3-Clause
// The moment that the drawing and the tables of the stations show: one choice, always in sight.
import {done, num} from "./data";
import {h} from "./dom";

export type Moment = "end" | "weakest" | "after_storage";
export const moments: [Moment, string][] = [
  ["end", "end of wrapping"],
  ["weakest", "weakest in storage"],
  ["after_storage", "after storage"],
];

const root = document.documentElement;
const isStored = (): boolean => done.some((side) => (num(`${side.place}/detail/storage_s`) ?? 0) > 0);
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
  root.dataset.moment = isStored() ? chosen() : "end";
  if (!isStored()) return null;
  const field = h(
    "fieldset",
    {},
    h("legend", {}, "Moment"),
    moments.map(([value, words]) =>
      h("label", {}, h("input", {type: "radio", name: "moment", value, checked: value === chosen()}), words),
    ),
  );
  field.addEventListener("change", (event) => {
    choose((event.target as HTMLInputElement).value as Moment);
    for (const input of field.querySelectorAll("input")) input.toggleAttribute("checked", input.value === chosen());
  });
  return field;
}
