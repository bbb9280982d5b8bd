// SPDX-License-Identifier: BSD-3-Clause
// Heads of tables that hold many numbers: two lines at most, the whole meaning on focus, sorting by a click.
import {quantityPlace, text} from "./data";
import {type Child, framed, h, say, unit} from "./dom";
import {type Kind, kinds} from "./units";

export interface Head {
  words: Child; // two lines at most
  meaning?: Child; // shown on focus
  title?: string; // the same, for a pointer that rests
  isShort?: boolean; // says less than its meaning
  numeric?: boolean;
}

/** Where words of some length are broken so that both lines are short; `tail` more letters stand on the second. */
function broken(words: string, tail: number): [string, string] {
  let best: [string, string] = [words, ""],
    least = words.length + tail;
  for (let blank = words.indexOf(" "); blank >= 0; blank = words.indexOf(" ", blank + 1)) {
    const longer = Math.max(blank, words.length - blank - 1 + tail);
    if (longer < least) [best, least] = [[words.slice(0, blank + 1), words.slice(blank + 1)], longer];
  }
  return best;
}

/** Words of the data in two lines of which neither wraps. */
function twoLines(place: string, tail: number): HTMLElement {
  const [first, second] = broken(text(place), tail);
  return h("bdi", {"data-words": place}, first, second ? [h("br"), second] : null);
}

/** Words that begin with a capital here and with a small letter in the data. */
const capital = (...words: Child[]): HTMLElement => h("span", {class: "first-capital"}, words);

/** A number of the comparison with its unit on one line: its short name, or all that is said of it. */
export const quantityLine = (name: string, kind: Kind, whole: boolean): HTMLElement =>
  capital(say(`${quantityPlace(name)}/${whole ? "long" : "short"}_name`), unit(kind));

/** The head of a column that holds a number of the comparison: its short name with the unit. */
export function quantityHead(name: string, kind: Kind): Head {
  const place = quantityPlace(name);
  const letters = kinds[kind].metric.unit.length;
  return {
    words: capital(twoLines(`${place}/short_name`, letters ? letters + 2 : 0), unit(kind)),
    meaning: say(`${place}/long_name`),
    title: text(`${place}/long_name`),
    isShort: text(`${place}/short_name`) !== text(`${place}/long_name`),
    numeric: true,
  };
}

/** Words of two lines. */
export const lines = (first: Child, second: Child): Child => [first, h("br"), second];

let tips = 0;
const wordsOf = (child: Child): string | undefined => (typeof child === "string" ? child : undefined);

/** Places the meaning under its head, inside the window. */
function showUnder(button: HTMLElement, tip: HTMLElement): void {
  tip.hidden = false;
  const at = button.getBoundingClientRect();
  const left = Math.max(8, Math.min(at.left, document.documentElement.clientWidth - tip.offsetWidth - 8));
  const below = at.bottom + 4 + tip.offsetHeight < innerHeight;
  tip.style.left = `${left}px`;
  tip.style.top = `${below ? at.bottom + 4 : Math.max(4, at.top - 4 - tip.offsetHeight)}px`;
}

/** A head that can be focused; what it means is shown then, until Escape or the next element. */
function withMeaning(head: Head): Child {
  if (!head.meaning) return h("button", {type: "button"}, head.words);
  const id = `meaning-${++tips}`;
  const tip = h("span", {class: "meaning", id, role: "tooltip", hidden: true}, head.meaning);
  const button = h(
    "button",
    {type: "button", title: head.title ?? wordsOf(head.meaning), "aria-describedby": id},
    head.words,
  );
  button.addEventListener("focus", () => {
    // After a click the pointer is still there and has the title.
    if (button.matches(":focus-visible") || matchMedia("(hover: none)").matches) showUnder(button, tip);
  });
  button.addEventListener("blur", () => (tip.hidden = true));
  button.addEventListener("keydown", (event) => {
    if (event.key === "Escape") tip.hidden = true;
  });
  addEventListener(
    "scroll",
    () => {
      if (!tip.hidden) showUnder(button, tip);
    },
    {capture: true, passive: true},
  );
  return [button, tip];
}

function sortBy(body: HTMLElement, heads: HTMLElement[], column: number): void {
  const head = heads[column];
  const up = head.getAttribute("aria-sort") !== "ascending";
  for (const other of heads) other.removeAttribute("aria-sort");
  head.setAttribute("aria-sort", up ? "ascending" : "descending");
  const key = (row: Element): number | string => {
    const cell = row.children[column];
    const value = cell?.querySelector("data")?.getAttribute("value");
    return value === null || value === undefined ? (cell?.textContent ?? "") : Number(value);
  };
  const rows = [...body.children].sort((a, b) => {
    const x = key(a),
      y = key(b);
    // Rows without the number stay at the end in either direction.
    if (typeof x !== typeof y) return typeof x === "number" ? -1 : 1;
    const order = typeof x === "number" && typeof y === "number" ? x - y : String(x).localeCompare(String(y));
    return up ? order : -order;
  });
  body.replaceChildren(...rows);
}

/** On paper nothing can be focused: what the short heads mean stands below the table. */
function printedMeanings(heads: Head[]): Child {
  const told = heads.filter((head) => head.isShort);
  if (told.length === 0) return null;
  return h(
    "p",
    {class: "meanings"},
    told.map((head, i) => [i ? "; " : "", copyOf(head.words), ": ", copyOf(head.meaning)]),
    ".",
  );
}

function copyOf(child: Child): Child {
  if (Array.isArray(child)) return child.map(copyOf);
  if (!(child instanceof Node)) return child;
  const copy = child.cloneNode(true) as Element;
  if (copy.nodeName === "BR") return " ";
  for (const line of copy.querySelectorAll?.("br") ?? []) line.remove();
  return copy;
}

/** A frame that says when its table reaches beyond it. */
function hinted(frame: HTMLElement): HTMLElement {
  const hint = h(
    "p",
    {class: "quiet sideways no-print", hidden: true},
    "More columns: move the table sideways. \u2192",
  );
  new ResizeObserver(() => (hint.hidden = frame.scrollWidth <= frame.clientWidth + 1)).observe(frame);
  return h("div", {class: "hinted"}, hint, frame);
}

/** A table with such heads; rows are made by the caller, a cell for every head. */
export function headed(caption: Child, heads: Head[], rows: HTMLElement[], sorted: boolean): HTMLElement {
  const cells = heads.map((head) =>
    h(
      "th",
      {scope: "col", role: "columnheader", class: head.numeric ? "n" : undefined},
      sorted || head.meaning ? withMeaning(head) : head.words,
    ),
  );
  // A phone lays rows out anew; the roles keep them a table for those who hear it.
  const body = h("tbody", {role: "rowgroup"}, rows);
  for (const row of rows) {
    row.setAttribute("role", "row");
    for (const cell of row.children) cell.setAttribute("role", cell.tagName === "TH" ? "rowheader" : "cell");
  }
  if (sorted)
    cells.forEach((cell, column) =>
      cell.querySelector("button")?.addEventListener("click", () => sortBy(body, cells, column)),
    );
  const click = sorted ? h("span", {class: "no-print"}, "; a click on a head sorts by it") : null;
  const made = h(
    "table",
    {class: sorted ? "dense brief" : "dense brief columns", role: "table"},
    h("caption", {}, h("span", {class: "caption-words"}, caption, click)),
    h("thead", {role: "rowgroup"}, h("tr", {role: "row"}, cells)),
    body,
  );
  const frame = framed(made);
  if (rows.length <= 26) frame.classList.add("keep");
  const block = hinted(frame);
  const meanings = printedMeanings(heads);
  if (meanings instanceof Node) block.append(meanings);
  return block;
}
