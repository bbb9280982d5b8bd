// SPDX-License-Identifier: BSD-3-Clause
// One factor at a time: what makes a candidate differ from the present wrap.
import {has, label, list, num, sides, text} from "./data";
import {type Child, folded, h, q, say} from "./dom";
import {type Head, headed, quantityLine} from "./heads";
import type {Kind} from "./units";

const explained: [string, Kind][] = [
  ["containment.after_storage.least_station.hoop_tension_N_per_m", "tension"],
  ["film.mass_kg", "output:film/mass_kg"],
];

const value = (place: string | undefined, kind: Kind): Child =>
  place && has(place) ? q(place, kind, true) : h("span", {class: "none"}, "\u2013");

const row = (head: Child, cells: Child[]): HTMLElement =>
  h(
    "tr",
    {},
    h("th", {scope: "row"}, head),
    cells.map((cell) => h("td", {class: "n"}, cell)),
  );

/** With many candidates: what each factor adds to the weakest station, mean of both orders, one row per candidate. */
function factorOverview(): Child {
  const [name, kind] = explained[0];
  const factors_: string[] = [];
  const cellOf = new Map<string, string>();
  list("comparison/differences").forEach((_, d) =>
    list(`comparison/differences/${d}/factors`).forEach((_f, i) => {
      const factor = text(`comparison/differences/${d}/factors/${i}/factor`);
      if (!factors_.includes(factor)) factors_.push(factor);
      cellOf.set(`${d} ${factor}`, `comparison/differences/${d}/factors/${i}/mean/${name}`);
    }),
  );
  if (!list("comparison/differences").some((_, d) => has(`comparison/differences/${d}/total/${name}`))) return null;
  return headed(
    ["What each factor adds, mean of both orders: ", quantityLine(name, kind, true)],
    [{words: "Candidate"}, ...[...factors_, "together"].map((words): Head => ({words, numeric: true}))],
    list("comparison/differences").map((_, d) =>
      row(label(sides[num(`comparison/differences/${d}/candidate`) ?? 0]), [
        ...factors_.map((f) => value(cellOf.get(`${d} ${f}`), kind)),
        value(`comparison/differences/${d}/total/${name}`, kind),
      ]),
    ),
    true,
  );
}

const orders: [string, string, string][] = [
  ["mean", "mean", "Mean of both orders"],
  ["forward", "first to last", "The factors changed from the first of the table to the last"],
  ["reverse", "last to first", "The factors changed from the last of the table to the first"],
];

/** One table per candidate and quantity: the factors with their share in either order. */
function ofCandidate(d: number): Child {
  const place = `comparison/differences/${d}`;
  const candidate = sides[num(`${place}/candidate`) ?? -1];
  if (!candidate) return null;
  const heads = orders.map(([, words, meaning]): Head => ({words, meaning, title: meaning, numeric: true}));
  const tables = explained
    .filter(([name]) => has(`${place}/total/${name}`))
    .map(([name, kind]) =>
      headed(
        ["What makes ", label(candidate), " differ from ", label(sides[0]), ": ", quantityLine(name, kind, false)],
        [{words: "Factor"}, ...heads],
        [
          ...list(`${place}/factors`).map((_f, i) =>
            row(
              say(`${place}/factors/${i}/factor`),
              orders.map(([key]) => value(`${place}/factors/${i}/${key}/${name}`, kind)),
            ),
          ),
          row(
            h("strong", {}, "together"),
            orders.map(() => q(`${place}/total/${name}`, kind, true)),
          ),
        ],
        false,
      ),
    );
  const messages = ["forward_message", "reverse_message"]
    .filter((key) => text(`${place}/${key}`) !== "")
    .map((key) => h("p", {class: "caution"}, say(`${place}/${key}`)));
  return [h("div", {class: "beside"}, tables), messages];
}

export function factors(): Child {
  const all = (): Child => list("comparison/differences").map((_, d) => ofCandidate(d));
  if (list("comparison/differences").length <= 2) return all();
  return [factorOverview(), folded("Both orders, and the film per load, for every candidate", all)];
}
