// SPDX-License-Identifier: BSD-3-Clause
// Cost per load, and one year as a chain a reader can recompute. What was not given is absent, never invented.
import {
  blocks,
  capital,
  done,
  has,
  label,
  many,
  num,
  outputName,
  outputWords,
  predicted,
  type Side,
  text,
  whatIsMissing,
} from "./data";
import {type Child, h, isNamed, q, say, section, sign, table} from "./dom";
import type {Kind} from "./units";

/** A number below summary/cost; its words and units are those the program declares. */
interface Step {
  key: string;
  high?: string; // key of the upper end of a range
  from?: string; // how it follows from the lines above
}

const digits = 4; // as many as are known; enough to follow a product by hand
const load: Step[] = [
  {key: "film_mass_kg"},
  {key: "film_price_per_kg"},
  {key: "film_per_load", from: "film \u00d7 price"},
  {key: "roll_mass_kg"},
  {key: "roll_length_m"},
  {key: "loads_per_roll", from: "roll \u00f7 film"},
  {key: "roll_change_time_min"},
  {key: "labour_rate_per_h"},
  {key: "roll_changes_per_load", from: "time \u00d7 rate \u00f7 loads per roll"},
  {key: "per_load"},
  {key: "co2e_factor_low", high: "co2e_factor_high"},
  {key: "co2e_low_kg", high: "co2e_high_kg", from: "film \u00d7 factor"},
  {key: "energy_factor_low_MJ_per_kg", high: "energy_factor_high_MJ_per_kg"},
  {key: "energy_low_MJ", high: "energy_high_MJ", from: "film \u00d7 factor"},
];
const year: Step[] = [
  {key: "year/loads"},
  {key: "year/film_length_km", from: "loads \u00d7 length per load"},
  {key: "year/film_mass_kg", from: "loads \u00d7 film"},
  {key: "year/rolls", from: "film \u00f7 mass on a roll"},
  {key: "year/roll_change_time_h", from: "rolls \u00d7 time of a change"},
  {key: "year/film", from: "film \u00d7 price"},
  {key: "year/roll_changes", from: "time \u00d7 labour rate"},
  {key: "year/total"},
  {key: "year/co2e_low_kg", high: "year/co2e_high_kg", from: "film \u00d7 factor"},
  {key: "year/energy_low_MJ", high: "year/energy_high_MJ", from: "film \u00d7 factor"},
];

const kindOf = (step: Step): Kind => `output:cost/${step.key}`;
/** The declared words, without the end of the range that a line with both ends does not name. */
function wordsOf(step: Step): string {
  const words = outputWords(`cost/${step.key}`).split(":")[0];
  return (step.high ? words.replace(/, low$/, "") : words) + (step.from ? ` = ${step.from}` : "");
}

const place = (side: Side, key: string): string => `${side.place}/summary/cost/${key}`;

function amount(side: Side, step: Step): Child {
  if (!predicted(side)) return whatIsMissing(side);
  if (!has(place(side, step.key))) return h("span", {class: "none"}, "not given");
  const money = sign(side, kindOf(step));
  const all = step.key === "year/loads" ? 9 : digits; // a number somebody gave
  const span = step.high && has(place(side, step.high)) && num(place(side, step.key)) !== num(place(side, step.high));
  const low = q(place(side, step.key), kindOf(step), Boolean(span), all);
  return [money, low, span ? [" to ", q(place(side, step.high as string), kindOf(step), false, digits)] : ""];
}

function chain(caption: string, steps: Step[]): HTMLElement[] {
  const shown = steps.filter((step) => done.some((side) => has(place(side, step.key))));
  return blocks.map((group) =>
    table(
      caption,
      [{head: "Step"}, ...group.map((side) => ({head: many ? label(side) : "Amount", numeric: true}))],
      shown.map((step) => [wordsOf(step), ...group.map((side) => amount(side, step))]),
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
      capital(outputName("cost/per_load")),
      h("p", {}, "No film price is given (", h("code", {}, "film.price"), "), so no cost is shown."),
    );
  const unnamed = asked.some((side) => !isNamed(side));
  return section(
    "cost",
    capital(outputName("cost/per_load")),
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
