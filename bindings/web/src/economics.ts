// SPDX-License-Identifier: BSD-3-Clause
// Cost per load, and one year as a chain a reader can recompute. What was not given is absent, never invented.
import {blocks, done, has, label, many, num, predicted, type Side, text, whatIsMissing} from "./data";
import {type Child, currency, h, isNamed, q, say, section, table} from "./dom";
import type {Kind} from "./units";

interface Step {
  words: string;
  key: string; // below summary/cost
  kind: Kind;
  high?: string; // key of the upper end of a range
}

const digits = 4; // as many as are known; enough to follow a product by hand
const load: Step[] = [
  {words: "Film per load", key: "film_mass_kg", kind: "fine"},
  {words: "Film price", key: "film_price_per_kg", kind: "price"},
  {words: "Film cost per load = film \u00d7 price", key: "film_per_load", kind: "money"},
  {words: "Mass of film on a roll", key: "roll_mass_kg", kind: "bigmass"},
  {words: "Length of film on a roll", key: "roll_length_m", kind: "length"},
  {words: "Loads per roll = roll \u00f7 film per load", key: "loads_per_roll", kind: "count"},
  {words: "Time of a roll change", key: "roll_change_time_min", kind: "minutes"},
  {words: "Labour rate", key: "labour_rate_per_h", kind: "hourly"},
  {
    words: "Roll changes per load = time \u00d7 rate \u00f7 loads per roll",
    key: "roll_changes_per_load",
    kind: "money",
  },
  {words: "Film and roll changes per load", key: "per_load", kind: "money"},
  {words: "CO2e factor of film", key: "co2e_factor_low", high: "co2e_factor_high", kind: "ratio"},
  {words: "CO2e per load = film \u00d7 factor", key: "co2e_low_kg", high: "co2e_high_kg", kind: "footprint"},
  {
    words: "Energy factor of film",
    key: "energy_factor_low_MJ_per_kg",
    high: "energy_factor_high_MJ_per_kg",
    kind: "energyfactor",
  },
  {words: "Primary energy per load = film \u00d7 factor", key: "energy_low_MJ", high: "energy_high_MJ", kind: "energy"},
];
const year: Step[] = [
  {words: "Loads per year", key: "year/loads", kind: "count"},
  {words: "Film drawn from rolls = loads \u00d7 film length per load", key: "year/film_length_km", kind: "km"},
  {words: "Film = loads \u00d7 film per load", key: "year/film_mass_kg", kind: "fine"},
  {words: "Rolls and roll changes = film \u00f7 mass on a roll", key: "year/rolls", kind: "count"},
  {words: "Time of roll changes = rolls \u00d7 time of a change", key: "year/roll_change_time_h", kind: "hours"},
  {words: "Film cost = film \u00d7 price", key: "year/film", kind: "money"},
  {words: "Roll changes = time \u00d7 labour rate", key: "year/roll_changes", kind: "money"},
  {words: "Film and roll changes together", key: "year/total", kind: "money"},
  {words: "CO2e = film \u00d7 factor", key: "year/co2e_low_kg", high: "year/co2e_high_kg", kind: "footprint"},
  {
    words: "Primary energy = film \u00d7 factor",
    key: "year/energy_low_MJ",
    high: "year/energy_high_MJ",
    kind: "energy",
  },
];

const place = (side: Side, key: string): string => `${side.place}/summary/cost/${key}`;
const monetary: Kind[] = ["money", "price", "hourly"];

function amount(side: Side, step: Step): Child {
  if (!predicted(side)) return whatIsMissing(side);
  if (!has(place(side, step.key))) return h("span", {class: "none"}, "not given");
  const money = monetary.includes(step.kind) ? [currency(side), "\u00a0"] : "";
  const all = step.key === "year/loads" ? 9 : digits; // a number somebody gave
  const span = step.high && has(place(side, step.high)) && num(place(side, step.key)) !== num(place(side, step.high));
  const low = q(place(side, step.key), step.kind, Boolean(span), all);
  return [money, low, span ? [" to ", q(place(side, step.high as string), step.kind, false, digits)] : ""];
}

function chain(caption: string, steps: Step[]): HTMLElement[] {
  const shown = steps.filter((step) => done.some((side) => has(place(side, step.key))));
  return blocks.map((group) =>
    table(
      caption,
      [{head: "Step"}, ...group.map((side) => ({head: many ? label(side) : "Amount", numeric: true}))],
      shown.map((step) => [step.words, ...group.map((side) => amount(side, step))]),
      {hideCaption: true, class: "steps"},
    ),
  );
}

function sources(): Child {
  const told = new Set<string>();
  return done.flatMap((side) =>
    ["co2e_source", "energy_source"].map((key) => {
      const words = text(place(side, key));
      if (words === "" || told.has(key + words)) return null;
      told.add(key + words);
      return h(
        "p",
        {class: "quiet"},
        key === "co2e_source" ? "CO2e factor: " : "Energy factor: ",
        say(place(side, key)),
        ".",
      );
    }),
  );
}

export function cost(): HTMLElement {
  const asked = done.filter((side) => has(`${side.place}/summary/cost`));
  if (asked.length === 0)
    return section(
      "cost",
      "Cost per load",
      h("p", {}, "No film price is given (", h("code", {}, "film.price"), "), so no cost is shown."),
    );
  const unnamed = asked.some((side) => !isNamed(side));
  return section(
    "cost",
    "Cost per load",
    chain("Film, money, CO2e and energy of one load", load),
    unnamed
      ? h(
          "p",
          {class: "quiet"},
          "\u00a4 is the currency of the film price; name it with ",
          h("code", {}, "cost.currency"),
          ".",
        )
      : null,
    sources(),
  );
}

export function yearly(): HTMLElement {
  const known = done.filter((side) => has(place(side, "year")));
  if (known.length === 0)
    return section(
      "yearly",
      "Yearly figures",
      h(
        "p",
        {},
        "The loads per year are not given (",
        h("code", {}, "cost.loads_per_year"),
        "), so there are no yearly figures.",
      ),
    );
  return section(
    "yearly",
    "Yearly figures",
    h(
      "p",
      {},
      "Loads, film, rolls, money, CO2e: each line follows from the lines above it and from the amounts per load.",
    ),
    chain("One year, step by step", year),
  );
}
