// SPDX-License-Identifier: BSD-3-Clause
// Elements made from text, never from markup: whatever a title holds, it stays text.
import {at, list, num, type Side, text} from "./data";
import {isMoney, type Kind, kinds, words} from "./units";

export type Child = Node | string | null | undefined | false | Child[];
type Attributes = {[name: string]: string | number | boolean | undefined};

function append(parent: Element, child: Child): void {
  if (child === null || child === undefined || child === false) return;
  if (Array.isArray(child)) for (const one of child) append(parent, one);
  else parent.append(child);
}

export function h(tag: string, attributes: Attributes = {}, ...children: Child[]): HTMLElement {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes))
    if (value !== undefined && value !== false) element.setAttribute(name, value === true ? "" : String(value));
  for (const child of children) append(element, child);
  return element;
}

/** Two spellings of one thing; the style sheet shows the one of the units chosen. */
function twice(metric: string, inchPound: string): Child {
  if (metric === inchPound) return metric;
  return [h("span", {class: "metric"}, metric), h("span", {class: "inch-pound"}, inchPound)];
}

/** A number of the data in both unit styles; its place and full value stay readable on the element. */
export function q(place: string, kind: Kind, bare = false, digits = 3, width = 0): HTMLElement {
  const value = num(place);
  if (value === null) return h("span", {class: "none", title: "no finite number"}, "\u2013");
  return h(
    "data",
    {
      class: "q",
      value: String(value),
      "data-place": place,
      "data-kind": kind,
      "data-money": isMoney(kind),
      "data-bare": bare,
      "data-digits": digits,
      "data-width": width > 0 ? width : undefined,
    },
    twice(words(value, kind, "metric", bare, digits, width), words(value, kind, "inch-pound", bare, digits, width)),
  );
}

/** Where the name of a side's currency stands: with its cost, or in the comparison for a measured side. */
function currencyPlace(side: Side): string {
  const predicted = `${side.place}/summary/cost/currency`;
  return text(predicted) === "" ? `comparison/sides/${side.index}/currency` : predicted;
}
export const isNamed = (side: Side): boolean => text(currencyPlace(side)) !== "";
/** The currency of a side; the general sign where nobody named it. */
export const currency = (side: Side): Child =>
  isNamed(side) ? h("bdi", {"data-words": currencyPlace(side)}, text(currencyPlace(side))) : "\u00a4";

/** The currency before an amount of money; nothing before any other number. */
export const sign = (side: Side, kind: Kind): Child => (isMoney(kind) ? [currency(side), "\u00a0"] : "");

/** The unit of a column. */
export function unit(kind: Kind): Child {
  const {metric, "inch-pound": inchPound} = kinds[kind];
  return metric.unit === "" ? "" : [", ", h("span", {class: "unit"}, twice(metric.unit, inchPound.unit))];
}

/** Where a text of the data stands in inch-pound units. */
const inchPoundPlaces = new Map(
  list("inch_pound_texts").map((_, i) => [text(`inch_pound_texts/${i}/metric`), `inch_pound_texts/${i}/inch_pound`]),
);

/** Words of the data, kept apart from the page's own in direction and in what a test may find. */
export function say(place: string, fallback = ""): HTMLElement {
  const value = at(place);
  const other = typeof value === "string" ? inchPoundPlaces.get(value) : undefined;
  if (other)
    return h(
      "span",
      {},
      h("bdi", {class: "metric", "data-words": place}, value as string),
      h("bdi", {class: "inch-pound", "data-words": other}, text(other)),
    );
  return h("bdi", {"data-words": place}, typeof value === "string" && value !== "" ? value : fallback);
}

/** Words of the data cut to a length. */
export function brief(place: string, most = 60): HTMLElement {
  const letters = [...text(place)];
  return h(
    "bdi",
    {class: letters.length > 40 ? "any" : undefined, "data-words": place},
    letters.length <= most ? text(place) : letters.slice(0, most - 1).join("") + "\u2026",
  );
}

export interface Column {
  head: Child;
  numeric?: boolean;
  wordy?: boolean; // holds sentences: never narrower than a few words
}

/** A table in a frame that scrolls on its own, so that a narrow page does not. */
export function table(
  caption: Child,
  columns: Column[],
  rows: Child[][],
  options: {class?: string; hideCaption?: boolean} = {},
): HTMLElement {
  const cell = (child: Child, i: number): HTMLElement =>
    i === 0
      ? h("th", {scope: "row"}, child)
      : h("td", {class: columns[i]?.numeric ? "n" : columns[i]?.wordy ? "wordy" : undefined}, child);
  const made = h(
    "table",
    {class: options.class},
    h("caption", {class: options.hideCaption ? "visually-hidden" : undefined}, caption),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        columns.map((c) => h("th", {scope: "col", class: c.numeric ? "n" : undefined}, c.head)),
      ),
    ),
    h(
      "tbody",
      {},
      rows.map((row) => h("tr", {}, row.map(cell))),
    ),
  );
  if (options.class === "cards") nameCells(made);
  const frame = framed(made);
  if (rows.length <= (columns.some((c) => c.wordy) ? 6 : 26)) frame.classList.add("keep"); // short enough never to be cut by the edge of a sheet
  return frame;
}

/** On a phone a row is a card: every cell says the words of its head. */
function nameCells(made: HTMLElement): void {
  const heads = [...made.querySelectorAll("thead th")].map((head) => head.textContent ?? "");
  for (const row of made.querySelectorAll("tbody tr"))
    [...row.children].forEach((cell, i) => cell.setAttribute("data-head", heads[i]));
}

export function framed(made: HTMLElement): HTMLElement {
  const name = made.querySelector("caption")?.textContent ?? "table";
  return h("div", {class: "frame", role: "region", tabindex: 0, "aria-label": name}, made);
}

export function section(id: string, title: string, ...children: Child[]): HTMLElement {
  return h("section", {id, "aria-labelledby": `${id}-title`}, h("h2", {id: `${id}-title`}, title), children);
}

/** Content made when it is first opened. */
export function folded(summary: Child, make: () => Child, onPaper = false): HTMLElement {
  const details = h("details", {class: onPaper ? "prints" : undefined}, h("summary", {}, summary));
  let made = false;
  const fill = (): void => {
    if (made) return;
    made = true;
    append(details, make());
  };
  details.addEventListener("toggle", fill);
  if (onPaper) {
    // Paper cannot be opened: what a reader needs for an audit is printed in full.
    let opened = false;
    addEventListener("beforeprint", () => {
      opened = details.hasAttribute("open");
      fill();
      details.setAttribute("open", "");
    });
    addEventListener("afterprint", () => details.toggleAttribute("open", opened));
  }
  return details;
}

/** One of a few values, chosen by the reader; a copy saved from the browser keeps the choice. */
export function choice(
  legend: string,
  name: string,
  options: [string, string][],
  chosen: () => string | undefined,
  choose: (value: string) => void,
): HTMLElement {
  const field = h(
    "fieldset",
    {},
    h("legend", {}, legend),
    options.map(([value, words]) =>
      h("label", {}, h("input", {type: "radio", name, value, checked: value === chosen()}), words),
    ),
  );
  field.addEventListener("change", (event) => {
    choose((event.target as HTMLInputElement).value);
    for (const input of field.querySelectorAll("input")) input.toggleAttribute("checked", input.value === chosen());
  });
  return field;
}
