// SPDX-License-Identifier: BSD-3-Clause
// Builds the page from its data, in the order a reader asks.
import {comparedSides} from "./compared";
import {redrawAll} from "./chart";
import {containment} from "./containment";
import {choice, h, section} from "./dom";
import {cost, yearly} from "./economics";
import {firstSheet, header} from "./first_sheet";
import {momentChoice} from "./moment";
import {appendixPictures, mainPictures} from "./pictures";
import {film, moreSettings, settings} from "./settings";
import {transit} from "./transit";
import {assumptions, cautions, inputs, unknowns, validation, warnings} from "./trust";

const root = document.documentElement;

function setUnits(units: string): void {
  root.dataset.units = units;
  dispatchEvent(new Event("unitschanged"));
  redrawAll();
}

/** The file says which units come first (its data-units attribute). */
const unitsChoice = (): HTMLElement =>
  choice(
    "Units",
    "units",
    [
      ["metric", "metric"],
      ["inch-pound", "inch-pound"],
      ["both", "side by side"],
    ],
    () => root.dataset.units,
    setUnits,
  );

/** Paper gets the appendix by choice. */
function appendixChoice(): HTMLElement {
  const box = h("input", {type: "checkbox", id: "with-appendix", checked: root.dataset.appendix === "yes"});
  box.addEventListener("change", () => {
    const chosen = (box as HTMLInputElement).checked;
    if (chosen) root.dataset.appendix = "yes";
    else delete root.dataset.appendix;
    box.toggleAttribute("checked", chosen);
  });
  return h("label", {}, box, "print the appendix, too");
}

function contents(parts: HTMLElement[]): HTMLElement {
  return h(
    "nav",
    {"aria-label": "Contents"},
    h(
      "ul",
      {},
      parts.map((part) =>
        h("li", {}, h("a", {href: `#${part.id}`}, (part.querySelector("h2")?.textContent ?? "").split(":")[0])),
      ),
    ),
  );
}

function printCard(): void {
  document.body.classList.add("card-only");
  addEventListener("afterprint", () => document.body.classList.remove("card-only"), {once: true});
  print();
}

const all = comparedSides();
const onItsWay = transit();
const parts = [
  firstSheet(),
  settings(),
  cautions(),
  section(
    "pictures",
    "Pictures: where the tension comes from, and where it goes",
    h("div", {class: "pictures"}, mainPictures()),
  ),
  ...(onItsWay ? [onItsWay] : []),
  ...(all ? [all] : []),
];
const appendix = [
  containment(),
  section("more-pictures", "More pictures", h("div", {class: "pictures"}, appendixPictures())),
  ...moreSettings(),
  film(),
  cost(),
  yearly(),
  unknowns(),
  assumptions(),
  warnings(),
  validation(),
  inputs(),
];
// A page saved from the browser holds what the script made; it is made anew from the data.
const top = document.getElementById("top")!,
  main = document.getElementById("report")!,
  foot = document.getElementById("foot")!;
top.replaceChildren();
const printAll = h("button", {type: "button"}, "Print the report");
printAll.addEventListener("click", () => print());
const moment = momentChoice();
for (const child of header().flat(3)) if (child instanceof Node) top.append(child);
top.append(h("div", {class: "tools"}, unitsChoice(), appendixChoice(), printAll), contents([...parts, ...appendix]));
main.replaceChildren(
  ...(moment ? [h("div", {class: "tools sticky"}, moment)] : []),
  ...parts,
  h("div", {class: "appendix"}, h("p", {class: "kind"}, "Appendix"), appendix),
);
foot.replaceChildren(
  h("p", {}, "Made with open-source software; this file works offline and contains all its numbers."),
);
document.getElementById("print-card")?.addEventListener("click", printCard);
redrawAll();
root.dataset.ready = "yes";
