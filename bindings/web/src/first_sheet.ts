// SPDX-License-Identifier: BSD-3-Clause
// The first sheet: what is asked, what holds, what is saved, what to set and read, and what may go wrong.
import {answer} from "./answer";
import {withBand} from "./bands";
import {done, has, label, many, num, outputWords, type Side, sides, text} from "./data";
import {brief, type Child, h, q, say, section, sign, table, unit} from "./dom";
import {canBeDrawn, loadFigures} from "./load_figure";
import {atMoment, chosen} from "./moment";
import {risks} from "./risks";
import {firstSettings, input, readings} from "./settings";
import {changeOf, stationTable, wrapTable} from "./stations";
import type {Kind} from "./units";
import {compared} from "./wraps";

/** Who wrapped where, for whom, when: what `[report]` gives. */
function about(): Child {
  const facts = ["site", "customer", "author", "date"].filter((key) => text(`report/${key}`) !== "");
  if (facts.length === 0) return null;
  return h(
    "p",
    {class: "about"},
    facts.map((key, i) => [i ? " \u00b7 " : "", say(`report/${key}`)]),
  );
}

/** What the inputs of a wrap are known by: equal inputs have the same. */
function inputsOf(side: Side | undefined): Child {
  const place = `${side?.place}/summary/inputs_hash`;
  return has(place) ? h("span", {class: "quiet"}, "inputs ", h("span", {"data-words": place}, text(place))) : "";
}

function wraps(): Child {
  const line = (side: Side): Child => [
    side.failed ? h("span", {class: "danger"}, "not computed: ") : "",
    side.index === 0 && label(side) !== "present" ? "present, " : "",
    brief(`${side.place}/name`, 80),
    text(`${side.place}/title`) !== "" && text(`${side.place}/title`) !== side.name
      ? [": ", brief(`${side.place}/title`, 80)]
      : "",
    side.measured ? " (readings)" : "",
    " ",
    inputsOf(side),
  ];
  return h(
    "ol",
    {class: "wraps"},
    sides.map((side) => h("li", {}, line(side))),
  );
}

export function header(): Child[] {
  return [
    h(
      "p",
      {class: "kind"},
      many ? "Comparison of wraps" : "Prediction of one wrap",
      h("span", {class: "quiet"}, " \u00b7 hoopfield ", h("span", {"data-words": "version"}, text("version"))),
      h("span", {class: "quiet"}, " \u00b7 a prediction, not a certificate"),
    ),
    h(
      "h1",
      {},
      h(
        "bdi",
        {"data-words": "sides/0/name"},
        many
          ? `${label(sides[0])} and ${sides.length === 2 ? label(sides[1]) : "candidates"}`
          : label(sides[0]) || "Untitled scenario",
      ),
    ),
    about(),
    many ? wraps() : inputsOf(done[0]),
  ];
}

/** Of one load now and with the candidate, and what a year saves. */
interface Amount {
  words: string;
  load: string; // below summary
  name: string; // of the comparison
  year: string; // of the savings
  kind: Kind;
}
const amounts: Amount[] = [
  {
    words: "Film",
    load: "film/mass_kg",
    name: "film.mass_kg",
    year: "film_kg_per_year",
    kind: "output:cost/year/film_mass_kg",
  },
  {words: "Rolls", load: "", name: "", year: "rolls_per_year", kind: "count"},
  {words: "Money", load: "cost/per_load", name: "cost.per_load", year: "money_per_year", kind: "money"},
  {
    words: "CO2e",
    load: "cost/co2e_low_kg",
    name: "cost.co2e_low_kg",
    year: "co2e_kg_per_year",
    kind: "output:cost/year/co2e_low_kg",
  },
];

function amountOf(side: Side, {load, kind}: Amount): Child {
  const place = `${side.place}/summary/${load}`;
  if (load === "") return "";
  if (!has(place)) return h("span", {class: "none"}, "\u2013");
  const high = place.replace("_low_", "_high_");
  const ranged = high !== place && has(high);
  return [
    sign(side, kind),
    q(place, `output:${load}`, ranged),
    ranged ? [" to ", q(high, `output:${load.replace("_low_", "_high_")}`, true)] : "",
  ];
}

/** Film, money and emissions of a load, candidate beside present, and what a year saves. */
function saved(present: Side, candidate: Side): Child {
  const year = `comparison/sides/${candidate.index}/savings`;
  const rows = amounts.filter(
    ({load, year: key}) => has(`${year}/${key}/value`) || (load !== "" && has(`${candidate.place}/summary/${load}`)),
  );
  const yearly = rows.some(({year: key}) => has(`${year}/${key}/value`));
  return [
    table(
      "Film, money and emissions of a load, and what a year saves",
      [
        {head: "Per load"},
        {head: label(present), numeric: true},
        {head: label(candidate), numeric: true},
        ...(yearly ? [{head: "Saved per year", numeric: true}] : []),
      ],
      rows.map((row) => [
        row.words === "CO2e" ? [row.words, unit(row.kind)] : row.words,
        amountOf(present, row),
        [amountOf(candidate, row), row.name === "" ? "" : h("span", {class: "band"}, changeOf(candidate, row.name))],
        ...(yearly
          ? [
              [
                sign(candidate, row.kind),
                withBand(
                  {
                    value: `${year}/${row.year}/value`,
                    low: `${year}/${row.year}/p05`,
                    high: `${year}/${row.year}/p95`,
                  },
                  row.kind,
                  false,
                ),
              ],
            ]
          : []),
      ]),
      {hideCaption: true, class: "money"},
    ),
    yearly ? null : h("p", {class: "quiet"}, "Loads per year are not given, so nothing is said about a year."),
  ];
}

/** One wrap saves nothing: what it uses. */
function used(side: Side): Child {
  const rows: [string, Kind][] = [
    ["film/mass_kg", "output:film/mass_kg"],
    ["cost/per_load", "output:cost/per_load"],
    ["cost/year/film_mass_kg", "output:cost/year/film_mass_kg"],
    ["cost/year/rolls", "output:cost/year/rolls"],
    ["cost/year/total", "output:cost/year/total"],
    ["cost/year/co2e_low_kg", "output:cost/year/co2e_low_kg"],
  ];
  const place = (key: string): string => `${side.place}/summary/${key}`;
  return table(
    "Film and cost",
    [{head: "Film and cost"}, {head: "Amount", numeric: true}],
    rows
      .filter(([key]) => has(place(key)))
      .map(([key, kind]) => [outputWords(key).split(":")[0], [sign(side, kind), q(place(key), kind)]]),
    {hideCaption: true},
  );
}

function money(): Child {
  if (!many) return [h("h3", {}, "Film and cost"), used(done[0])];
  const candidates = done.filter((side) => side.index > 0);
  if (sides.length > 2) return null;
  const loads = input(sides[0], "cost.loads_per_year");
  return [
    h("h3", {}, "Film, money, emissions", loads ? [": ", loads, " loads a year"] : ""),
    candidates.map((side) => saved(sides[0], side)),
  ];
}

const signOff = (): Child =>
  h(
    "div",
    {class: "sign-off"},
    ["Settings tried by", "On", "Seen by, for the site", "On"].map((words) =>
      h("p", {}, h("span", {class: "line"}), words),
    ),
    h(
      "p",
      {class: "quiet whole"},
      "A signature says that these settings were tried, not that the load is safe: local rules and a qualified person decide whether it may travel.",
    ),
  );

/** The loads drawn: the present one and one candidate, which is the one that holds most where there are several. */
function drawings(): Child {
  const [first, ...others] = done.filter(canBeDrawn);
  if (!first) return null;
  const least = "containment.weakest.least_station.hoop_tension_N_per_m";
  const held = (side: Side): number => num(compared(side, least)) ?? 0;
  const best = others.sort((a, b) => held(b) - held(a))[0];
  return h("div", {id: "load"}, loadFigures(best ? [first, best] : [first], chosen()));
}

/** Settings, readings, money and risks; with more than four wraps the settings stand on their card alone. */
const beside = (): HTMLElement =>
  h(
    "div",
    {class: "two"},
    h("div", {}, h("h3", {}, "Set at the machine"), firstSettings(), money()),
    h("div", {}, h("h3", {}, "Read on the wrapped load"), readings(), risks(3)),
  );

export function firstSheet(): HTMLElement {
  if (done.length === 0)
    return section("answer", "Answer", h("p", {class: "answer"}, "The prediction could not be computed."), risks(3));
  const table_ = h("div", {}, sides.length > 2 ? "" : stationTable());
  if (sides.length > 2) atMoment(() => table_.replaceChildren(wrapTable()));
  return section("answer", "Answer", answer(), drawings(), table_, sides.length > 4 ? risks(3) : beside(), signOff());
}
