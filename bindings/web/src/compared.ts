// SPDX-License-Identifier: BSD-3-Clause
// All sides in one table: sorting, what dominates what, and one factor at a time.
import * as Plot from "@observablehq/plot";
import {axis, drawing, figure, ink, shown} from "./chart";
import {verdictCell} from "./bands";
import {
  areDrawn,
  at,
  has,
  label,
  list,
  many,
  num,
  quantityWords,
  type Side,
  sides,
  stations,
  text,
  whatIsMissing,
} from "./data";
import {brief, type Child, currency, folded, framed, h, q, say, section, table, unit} from "./dom";
import {isMoney, type Kind} from "./units";

const own = (side: Side): string => `comparison/sides/${side.index}`;
export const compared = (side: Side, name: string): string => `${own(side)}/numbers/${name}`;

/** Numbers of the comparison by name; their words stand in the data. */
const columns: [string, Kind][] = [
  ["containment.after_storage.least_station.hoop_tension_N_per_m", "tension"],
  ["containment.after_storage.least_station.pull_force_N", "force"],
  ["film.mass_kg", "output:film/mass_kg"],
  ["cost.per_load", "output:cost/per_load"],
  ["cost.break_even_price_per_kg", "output:cost/film_price_per_kg"],
  ["cost.co2e_low_kg", "output:cost/co2e_low_kg"],
  ["cost.co2e_high_kg", "output:cost/co2e_high_kg"],
  ["pattern.turns", "output:pattern/turns"],
  ["span.force_set_N", "output:span/force_set_N"],
  ["film.prestretch_percent", "percent"],
  ["film.stretch_on_load_percent", "output:film/stretch_on_load_percent"],
  ["targets.missed", "count"],
];

/** The place of a side in the order given, as the list under the headline counts it. */
const order = (index: number): Child => h("span", {"data-count": true}, String(index + 1));

function names(indices: string): Child {
  const found = list(indices);
  if (found.length === 0) return "none";
  return found.map((index, i) => [i ? ", " : "", order(Number(index))]);
}

function sortable(made: HTMLElement): HTMLElement {
  const body = made.querySelector("tbody");
  const heads = [...made.querySelectorAll("thead th")];
  heads.forEach((head, column) => {
    const button = h("button", {type: "button"}, [...head.childNodes]);
    head.replaceChildren(button);
    button.addEventListener("click", () => {
      const up = head.getAttribute("aria-sort") !== "ascending";
      for (const other of heads) other.removeAttribute("aria-sort");
      head.setAttribute("aria-sort", up ? "ascending" : "descending");
      const key = (row: Element): number | string => {
        const cell = row.children[column];
        const value = cell?.querySelector("data")?.getAttribute("value");
        return value === null || value === undefined ? (cell?.textContent ?? "") : Number(value);
      };
      const rows = [...(body?.children ?? [])].sort((a, b) => {
        const x = key(a),
          y = key(b);
        // Sides without the number stay at the end in either direction.
        if (typeof x !== typeof y) return typeof x === "number" ? -1 : 1;
        const order = typeof x === "number" && typeof y === "number" ? x - y : String(x).localeCompare(String(y));
        return up ? order : -order;
      });
      body?.replaceChildren(...rows);
    });
  });
  return made;
}

function overview(): Child {
  const measured = sides.some((side) => side.measured);
  const drawn = sides.some((side) => has(`${own(side)}/versus/words`));
  const shownColumns = columns.filter(
    ([name]) => sides.some((side) => has(compared(side, name))) && (measured || !name.endsWith("pull_force_N")),
  );
  const head: {head: Child; numeric?: boolean}[] = [
    {head: "Side"},
    ...(drawn ? [{head: "Containment, nine times in ten" as Child}] : []),
    ...shownColumns.map(([name, kind]) => ({
      head: [quantityWords(name), unit(kind)] as Child,
      numeric: true,
    })),
    {head: "Dominated by"},
  ];
  const made = h(
    "table",
    {class: "dense"},
    h("caption", {}, "All sides; a click on a head sorts by it"),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        head.map((c) => h("th", {scope: "col", class: c.numeric ? "n" : undefined}, c.head)),
      ),
    ),
    h(
      "tbody",
      {},
      sides.map((side) =>
        side.failed
          ? h(
              "tr",
              {class: "failed"},
              h("th", {scope: "row"}, order(side.index), " ", label(side)),
              drawn ? h("td", {}, "\u2013") : null,
              shownColumns.map(() => h("td", {class: "n"}, "\u2013")),
              h("td", {}, whatIsMissing(side)),
            )
          : h(
              "tr",
              {},
              h(
                "th",
                {scope: "row"},
                order(side.index),
                " ",
                label(side),
                side.index === 0 && label(side) !== "present" ? " (present)" : "",
                side.measured ? " (measured)" : "",
              ),
              drawn ? h("td", {}, verdictCell(side)) : null,
              shownColumns.map(([name, kind]) =>
                h(
                  "td",
                  {class: "n"},
                  name.startsWith("cost.break_even") && (num(compared(side, name)) ?? 0) < 0
                    ? "none: roll changes alone cost more"
                    : has(compared(side, name))
                      ? [isMoney(kind) ? [currency(side), "\u00a0"] : "", q(compared(side, name), kind, true)]
                      : h("span", {class: "none"}, "\u2013"),
                ),
              ),
              h("td", {}, names(`${own(side)}/dominated_by`)),
            ),
      ),
    ),
  );
  const frame = framed(sortable(made));
  frame.classList.add("keep");
  return [
    frame,
    h(
      "p",
      {class: "quiet"},
      "Sides are numbered in the order given. At its break-even price a film costs as much per load as that of the present side.",
    ),
  ];
}

const filmNumbers: [string, Kind][] = [
  ["secant_modulus_MPa", "stress"],
  ["stress_at_200_MPa", "stress"],
  ["hardening_slope_MPa", "stress"],
  ["unloading_stiffness_MPa", "stress"],
  ["kept_24_h_percent", "percent"],
  ["kept_30_d_percent", "percent"],
  ["permanent_set_percent", "percent"],
  ["break_stretch_percent", "percent"],
];

/** Virtual tests of every film at its stretch on the load: what the differences between films come from. */
function filmsAlone(): Child {
  const told = sides.filter((side) => filmNumbers.some(([name]) => has(compared(side, `film_numbers.${name}`))));
  if (told.length === 0) return null;
  const quantities = list("comparison/quantities").map((_, i) => text(`comparison/quantities/${i}/name`));
  const long = (name: string): Child =>
    say(`comparison/quantities/${quantities.indexOf(`film_numbers.${name}`)}/long_name`);
  const shown = filmNumbers.filter(([name]) => told.some((side) => has(compared(side, `film_numbers.${name}`))));
  const made = h(
    "table",
    {class: "dense"},
    h(
      "caption",
      {},
      "The films alone, in virtual tests at the stretch each has on the load; a click on a head sorts by it",
    ),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        h("th", {scope: "col"}, "Side"),
        shown.map(([name, kind]) => h("th", {scope: "col", class: "n"}, long(name), unit(kind))),
      ),
    ),
    h(
      "tbody",
      {},
      told.map((side) =>
        h(
          "tr",
          {},
          h("th", {scope: "row"}, order(side.index), " ", label(side)),
          shown.map(([name, kind]) =>
            h(
              "td",
              {class: "n"},
              has(compared(side, `film_numbers.${name}`))
                ? q(compared(side, `film_numbers.${name}`), kind, true)
                : h("span", {class: "none"}, "\u2013"),
            ),
          ),
        ),
      ),
    ),
  );
  const frame = framed(sortable(made));
  frame.classList.add("keep");
  return frame;
}

function dominance(): Child {
  const containment = text("comparison/measures/containment");
  if (containment === "")
    return h("p", {}, "No containment is known for every side, so nothing can be said about dominance.");
  const cost = text("comparison/measures/cost") || "film.mass_kg";
  const kindOf = (name: string): Kind =>
    columns.find(([n]) => n === name)?.[1] ?? (name.endsWith("_N") ? "force" : name.endsWith("_kg") ? "mass" : "count");
  const dominated = sides.filter((side) => list(`${own(side)}/dominated_by`).length > 0);
  const points = sides.filter((side) => has(compared(side, containment)) && has(compared(side, cost)));
  if (points.length < 2) return null;
  return figure({
    id: "dominance",
    wide: true,
    title:
      dominated.length === 0
        ? areDrawn
          ? "No side is surely better in both containment and cost"
          : "No side is better in both containment and cost: the choice is a trade-off between the two"
        : [
            dominated.slice(0, 3).map((side, i) => [i ? ", " : "", label(side)]),
            dominated.length > 3 ? " and others" : "",
            dominated.length === 1 ? " holds" : " hold",
            " no more and cost",
            dominated.length === 1 ? "s" : "",
            " no less than another side",
          ],
    panels: [
      {
        drawings: [
          drawing("Containment of every side against what it costs.", (width) => ({
            height: 340,
            marginRight: 30,
            x: {
              label: axis(quantityWords(cost), kindOf(cost)),
              grid: true,
              nice: true,
              inset: 20,
              labelAnchor: "center",
              labelArrow: "none",
            },
            y: {
              label: axis(quantityWords(containment).replace(", after storage", ""), kindOf(containment)),
              grid: true,
              nice: true,
              inset: 20,
              labelAnchor: "center",
              labelArrow: "none",
            },
            marks: [
              Plot.dot(points, {
                x: (s: Side) => shown(num(compared(s, cost)) ?? NaN, kindOf(cost)),
                y: (s: Side) => shown(num(compared(s, containment)) ?? NaN, kindOf(containment)),
                r: 6,
                stroke: (s: Side) => (s.index === 0 ? ink.orange : ink.blue),
                strokeWidth: 2,
                fill: (s: Side) =>
                  list(`${own(s)}/dominated_by`).length ? "#ffffff" : s.index === 0 ? ink.orange : ink.blue,
                symbol: (s: Side) => (s.index === 0 ? "square" : "circle"),
              }),
              Plot.text(points, {
                x: (s: Side) => shown(num(compared(s, cost)) ?? NaN, kindOf(cost)),
                y: (s: Side) => shown(num(compared(s, containment)) ?? NaN, kindOf(containment)),
                text: (s: Side) => (points.length > 6 || width < 420 ? String(s.index + 1) : label(s)),
                dy: -14,
                stroke: "#ffffff",
                strokeWidth: 4,
                fill: ink.black,
              }),
            ],
          })),
        ],
      },
    ],
    caption: "The square is the present side, a hollow mark a side that is dominated.",
    tables: () =>
      table(
        "Containment and cost of every side",
        [
          {head: "Side"},
          {head: [quantityWords(containment), unit(kindOf(containment))], numeric: true},
          {head: [quantityWords(cost), unit(kindOf(cost))], numeric: true},
          {head: "Dominates"},
          {head: "Dominated by"},
        ],
        points.map((side) => [
          [order(side.index), " ", label(side)],
          q(compared(side, containment), kindOf(containment), true),
          [isMoney(kindOf(cost)) ? [currency(side), "\u00a0"] : "", q(compared(side, cost), kindOf(cost), true)],
          names(`${own(side)}/dominates`),
          names(`${own(side)}/dominated_by`),
        ]),
      ),
  });
}

const explained: [string, Kind][] = [
  ["containment.after_storage.least_station.hoop_tension_N_per_m", "tension"],
  ["film.mass_kg", "output:film/mass_kg"],
];

/** With many candidates: what each factor adds to the weakest station, mean of both orders, one row per candidate. */
function factorOverview(): Child {
  const [name, kind] = explained[0];
  const kinds_: string[] = [];
  const cellOf = new Map<string, string>();
  list("comparison/differences").forEach((_, d) =>
    list(`comparison/differences/${d}/factors`).forEach((_f, i) => {
      const factor = text(`comparison/differences/${d}/factors/${i}/factor`);
      if (!kinds_.includes(factor)) kinds_.push(factor);
      cellOf.set(`${d} ${factor}`, `comparison/differences/${d}/factors/${i}/mean/${name}`);
    }),
  );
  if (!list("comparison/differences").some((_, d) => has(`comparison/differences/${d}/total/${name}`))) return null;
  const cell = (place: string | undefined): Child =>
    place && has(place) ? q(place, kind, true) : h("span", {class: "none"}, "\u2013");
  return table(
    ["What each factor adds: ", quantityWords(name), ", mean of both orders", unit(kind)],
    [{head: "Candidate"}, ...kinds_.map((f) => ({head: f, numeric: true})), {head: "together", numeric: true}],
    list("comparison/differences").map((_, d) => [
      label(sides[num(`comparison/differences/${d}/candidate`) ?? 0]),
      ...kinds_.map((f) => cell(cellOf.get(`${d} ${f}`))),
      cell(`comparison/differences/${d}/total/${name}`),
    ]),
  );
}

function factors(): Child {
  if (list("comparison/differences").length > 2)
    return [factorOverview(), folded("Both orders, and the film per load, for every candidate", allFactors)];
  return allFactors();
}

function allFactors(): Child {
  return list("comparison/differences").map((_, d) => {
    const place = `comparison/differences/${d}`;
    const candidate = sides[num(`${place}/candidate`) ?? -1];
    if (!candidate) return null;
    const quantities = explained.filter(([name]) => has(`${place}/total/${name}`));
    const head: {head: Child; numeric?: boolean}[] = [
      {head: "Factor"},
      ...quantities.flatMap(([name, kind]) =>
        ["mean", "first to last", "last to first"].map((order) => ({
          head: [`${quantityWords(name)}, ${order}`, unit(kind)] as Child,
          numeric: true,
        })),
      ),
    ];
    const rows: Child[][] = list(`${place}/factors`).map((_f, i) => [
      say(`${place}/factors/${i}/factor`),
      ...quantities.flatMap(([name, kind]) =>
        ["mean", "forward", "reverse"].map((order) =>
          has(`${place}/factors/${i}/${order}/${name}`)
            ? q(`${place}/factors/${i}/${order}/${name}`, kind, true)
            : h("span", {class: "none"}, "\u2013"),
        ),
      ),
    ]);
    rows.push([
      h("strong", {}, "together"),
      ...quantities.flatMap(([name, kind]) => [0, 1, 2].map(() => q(`${place}/total/${name}`, kind, true))),
    ]);
    const messages = ["forward_message", "reverse_message"]
      .filter((key) => text(`${place}/${key}`) !== "")
      .map((key) => h("p", {class: "caution"}, say(`${place}/${key}`)));
    return [
      table(
        ["What makes ", label(candidate), " differ from ", label(sides[0]), ": one factor at a time, in both orders"],
        head,
        rows,
      ),
      messages,
    ];
  });
}

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
    "All sides and dominance",
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
            "Inputs are changed from the present side to the candidate, one group at a time. The contribution of a group depends on the order, so both orders are shown; in each order the contributions add up to the whole.",
          ),
          split,
        ]
      : null,
  );
}

export const heading = (side: Side): Child => [
  brief(`${side.place}/name`),
  text(`${side.place}/title`) && text(`${side.place}/title`) !== text(`${side.place}/name`)
    ? [": ", brief(`${side.place}/title`, 90)]
    : "",
];
