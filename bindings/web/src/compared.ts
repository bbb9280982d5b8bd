// SPDX-License-Identifier: BSD-3-Clause
// The section that compares the wraps: their numbers, what beats what, readings, adjustments, one factor at a time.
import {at, has, label, list, many, quantityWords, sides, stations, text} from "./data";
import {type Child, h, q, say, section, table, unit} from "./dom";
import {dominance} from "./dominance";
import {factors} from "./factors";
import type {Kind} from "./units";
import {filmsAlone, overview, own} from "./wraps";

/** Value before and after, in both styles; words of the writer, since a key may have any unit. */
const adjusted = (place: string): Child => [
  h("span", {class: "metric"}, say(`${place}/metric/before`), " \u2192 ", say(`${place}/metric/after`)),
  " ",
  h("span", {class: "inch-pound"}, say(`${place}/inch_pound/before`), " \u2192 ", say(`${place}/inch_pound/after`)),
];

/** Place among the readings, name of the number in the comparison, kind. */
const readingRows: [string, string, Kind][] = [
  ...["end", "after_storage"].flatMap((m) =>
    stations.map((s): [string, string, Kind] => [
      `${m}/${s}/pull_force_N`,
      `containment.${m}.${s}.pull_force_N`,
      "force",
    ]),
  ),
  ["film_mass_kg", "film.mass_kg", "output:film/mass_kg"],
  ["stretch_on_load_percent", "film.stretch_on_load_percent", "output:film/stretch_on_load_percent"],
];

/** Means of readings with what says how far to trust them. */
function readings(): Child {
  return sides
    .filter((side) => side.measured && has(`${own(side)}/readings`))
    .map((side) => {
      const rows = readingRows
        .filter(([place]) => has(`${own(side)}/readings/${place}`))
        .map(([place, name, kind]): Child[] => {
          const value = `${own(side)}/readings/${place}`;
          return [
            [quantityWords(name), unit(kind)],
            q(`${value}/mean`, kind, true),
            has(`${value}/standard_error`) ? ["\u00b1 ", q(`${value}/standard_error`, kind, true)] : "unknown",
            q(`${value}/loads`, "count", true),
          ];
        });
      return table(
        ["Readings of ", label(side), ": mean and standard error over loads"],
        [
          {head: "Reading"},
          {head: "Mean", numeric: true},
          {head: "Standard error", numeric: true},
          {head: "Loads", numeric: true},
        ],
        rows,
      );
    });
}

function adjustments(): Child {
  const items = sides.flatMap((side) =>
    list(`${own(side)}/adjustments`).map((_, i) => {
      const place = `${own(side)}/adjustments/${i}`;
      return h(
        "li",
        {},
        label(side),
        ": ",
        h("code", {"data-words": `${place}/key`}, text(`${place}/key`)),
        " ",
        adjusted(place),
        ": ",
        say(`${place}/why`),
      );
    }),
  );
  return [
    h("p", {}, "Compared: ", say("comparison/mode/text"), "."),
    items.length ? h("ul", {class: "risks"}, items) : null,
  ];
}

/** Nothing for a single prediction. */
export function comparedSides(): HTMLElement | null {
  if (!many || at("comparison") === null || at("comparison") === undefined) return null;
  const split = list("comparison/differences").length ? factors() : null;
  return section(
    "sides",
    "All wraps compared",
    overview(),
    filmsAlone(),
    readings(),
    dominance(),
    adjustments(),
    split
      ? [
          h("h3", {}, "Where the difference comes from"),
          h(
            "p",
            {},
            "Inputs are changed from the present wrap to the candidate, one group at a time. The contribution of a group depends on the order, so both orders are shown; in each order the contributions add up to the whole.",
          ),
          split,
        ]
      : null,
  );
}
