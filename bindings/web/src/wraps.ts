// SPDX-License-Identifier: BSD-3-Clause
// The numbers of all wraps. Two or three stand in columns, a candidate beside the present one with the difference; more
// of them stand in rows.
import {verdictCell} from "./bands";
import {has, label, list, many, num, short, type Side, sides, text, whatIsMissing} from "./data";
import {type Child, h, q, say, sign} from "./dom";
import {type Head, headed, lines, quantityHead, quantityLine} from "./heads";
import type {Kind} from "./units";

export const own = (side: Side): string => `comparison/sides/${side.index}`;
export const compared = (side: Side, name: string): string => `${own(side)}/numbers/${name}`;
type Columns = [string, Kind][];

/** Numbers of the comparison by name; their words stand in the data. */
const held: Columns = [
  ["containment.after_storage.least_station.hoop_tension_N_per_m", "tension"],
  ["containment.after_storage.least_station.pull_force_N", "force"],
  ["targets.missed", "count"],
  ["film.mass_kg", "output:film/mass_kg"],
  ["cost.per_load", "output:cost/per_load"],
  ["cost.break_even_price_per_kg", "output:cost/film_price_per_kg"],
];
const wrapped: Columns = [
  ["film.prestretch_percent", "percent"],
  ["span.force_set_N", "output:span/force_set_N"],
  ["film.stretch_on_load_percent", "output:film/stretch_on_load_percent"],
  ["pattern.turns", "output:pattern/turns"],
  ["cost.co2e_low_kg", "output:cost/co2e_low_kg"],
  ["cost.co2e_high_kg", "output:cost/co2e_high_kg"],
];
const ofFilms: Columns = [
  ["film_numbers.secant_modulus_MPa", "stress"],
  ["film_numbers.stress_at_200_MPa", "stress"],
  ["film_numbers.hardening_slope_MPa", "stress"],
  ["film_numbers.unloading_stiffness_MPa", "stress"],
  ["film_numbers.kept_24_h_percent", "percent"],
  ["film_numbers.kept_30_d_percent", "percent"],
  ["film_numbers.permanent_set_percent", "percent"],
  ["film_numbers.break_stretch_percent", "percent"],
];

/** What unit a number of the comparison is read in. */
export const kindOf = (name: string): Kind =>
  [...held, ...wrapped].find(([n]) => n === name)?.[1] ??
  (name.endsWith("_N") ? "force" : name.endsWith("_kg") ? "mass" : name.endsWith("_N_per_m") ? "tension" : "count");

/** The place of a wrap in the order given, as the list under the headline counts it. */
export const order = (index: number): Child => h("span", {"data-count": true}, String(index + 1));

export function names(indices: string): Child {
  const found = list(indices);
  if (found.length === 0) return "none";
  return found.map((index, i) => [i ? ", " : "", order(Number(index))]);
}

const measured = sides.some((side) => side.measured);
/** The numbers that some wrap has; predictions are compared by hoop tension, readings by pull force. */
const known = (columns: Columns): Columns =>
  columns.filter(
    ([name]) => sides.some((side) => has(compared(side, name))) && (measured || !name.endsWith("pull_force_N")),
  );

const nothing = (): Child => h("span", {class: "none"}, "\u2013");

function cell(side: Side, name: string, kind: Kind): Child {
  const place = compared(side, name);
  if (!has(place)) return nothing();
  if (name.startsWith("cost.break_even") && (num(place) ?? 0) < 0) return "none: roll changes alone cost more";
  return [sign(side, kind), q(place, kind, true)];
}

const role = (side: Side): string =>
  side.measured ? " (measured)" : side.index === 0 && label(side) !== "present" ? " (present)" : "";

/** Wraps in rows; a head sorts by its column. */
function inRows(
  caption: Child,
  shown: Side[],
  columns: Columns,
  more: {head: Head; cell: (s: Side) => Child}[],
): Child {
  if (columns.length === 0) return null;
  const heads: Head[] = [
    {words: "Wrap"},
    ...columns.map(([name, kind]) => quantityHead(name, kind)),
    ...more.map((m) => m.head),
  ];
  const rows = shown.map((side) =>
    h(
      "tr",
      {class: side.failed ? "failed" : undefined},
      h("th", {scope: "row"}, order(side.index), " ", label(side), role(side)),
      columns.map(([name, kind]) => h("td", {class: "n"}, side.failed ? nothing() : cell(side, name, kind))),
      more.map((m, i) => h("td", {}, !side.failed ? m.cell(side) : i === 0 ? whatIsMissing(side) : nothing())),
    ),
  );
  return headed(caption, heads, rows, true);
}

function signed(place: string, kind: Kind): Child {
  return [(num(place) ?? 0) > 0 ? "+" : "", q(place, kind, true)];
}

/** Candidate less present: the number, the share, and where nine of ten draws lie. */
function difference(side: Side, name: string, kind: Kind): Child {
  const place = `${own(side)}/against_present/${name}`;
  if (!has(place)) return nothing();
  const shares = kind !== "percent" && !kind.endsWith("_percent") && kind !== "count";
  return [
    h("span", {class: "q"}, sign(side, kind), signed(`${place}/difference`, kind)),
    shares && has(`${place}/change`)
      ? [" ", h("span", {class: "q"}, "(", q(`${place}/change`, "change", false, 2), ")")]
      : "",
    has(`${place}/low`)
      ? h("span", {class: "band"}, signed(`${place}/low`, kind), " to ", signed(`${place}/high`, kind))
      : "",
  ];
}

/** The head of a wrap's column: what it is, and its name. */
function sideHead(side: Side): Head {
  const what = side.index === 0 ? "Present" : sides.length > 2 ? ["Candidate ", order(side.index)] : "Candidate";
  const name = label(side);
  const plain = name === "present" || name === "candidate";
  const cut = short(name, 22);
  const about = side.failed ? "not computed" : side.measured ? "measured" : "";
  const second = plain ? about : [h("bdi", {"data-words": `${side.place}/name`}, cut), about ? `, ${about}` : ""];
  return {
    words: second === "" ? what : lines(what, second),
    meaning: cut === name ? undefined : say(`${side.place}/name`),
    title: cut === name ? undefined : name,
    numeric: true,
  };
}

/** Two or three wraps in columns, a number in a row. */
function inColumns(caption: Child, columns: Columns, beaten: boolean): Child {
  if (columns.length === 0) return null;
  const drawn = sides.some((side) => columns.some(([name]) => has(`${own(side)}/against_present/${name}/low`)));
  const heads: Head[] = [{words: "Quantity"}];
  for (const side of sides) {
    heads.push(sideHead(side));
    if (side.index > 0)
      heads.push({
        words: drawn ? lines("Difference,", "nine times in ten") : "Difference",
        meaning: drawn
          ? "Candidate less present; below it where nine of ten draws over what is uncertain lie"
          : undefined,
        numeric: true,
      });
  }
  const row = (head: Child, make: (side: Side) => Child, apart: (side: Side) => Child): HTMLElement =>
    h(
      "tr",
      {},
      h("th", {scope: "row"}, head),
      sides.map((side) => [
        h("td", {class: "n"}, make(side)),
        side.index > 0 ? h("td", {class: "n"}, apart(side)) : null,
      ]),
    );
  const rows = columns.map(([name, kind]) =>
    row(
      quantityLine(name, kind, true),
      (side) => cell(side, name, kind),
      (side) => difference(side, name, kind),
    ),
  );
  if (beaten && text("comparison/measures/containment") !== "")
    rows.push(
      row(
        "Beaten by (holds no less and costs no more)",
        (side) => (side.failed ? nothing() : names(`${own(side)}/dominated_by`)),
        () => "",
      ),
    );
  return headed(caption, heads, rows, false);
}

/** Few wraps stand beside each other with their differences. */
const few = many && sides.length <= 3;

/** Every wrap with what it holds, what it costs and how it is made. */
export function overview(): Child {
  const drawn = sides.some((side) =>
    has(`${own(side)}/against_present/${text("comparison/measures/containment")}/words`),
  );
  const against: Head = {
    words: lines("Holds, against", "the present"),
    meaning: "More, less or not to be told apart, with the range of nine draws in ten over what is uncertain",
  };
  const beaten: Head = {
    words: "Beaten by",
    meaning: "Wraps that hold no less and cost no more, and are better in one of the two",
  };
  const numbered = sides.length > 2 ? "Wraps are numbered in the order given." : "";
  const even = known(held).some(([name]) => name.startsWith("cost.break_even"))
    ? " At its break-even price a film costs as much per load as that of the present wrap."
    : "";
  return [
    few
      ? inColumns(
          sides.length === 2 ? "The present wrap and the candidate" : "The present wrap and the candidates",
          [...known(held), ...known(wrapped)],
          true,
        )
      : [
          inRows("What each wrap holds and costs", sides, known(held), [
            ...(drawn ? [{head: against, cell: verdictCell}] : []),
            {head: beaten, cell: (side: Side) => names(`${own(side)}/dominated_by`)},
          ]),
          inRows("How each wrap is made", sides, known(wrapped), []),
        ],
    h("p", {class: "quiet"}, numbered, even),
  ];
}

/** Virtual tests of every film at its stretch on the load: what the differences between films come from. */
export function filmsAlone(): Child {
  const told = sides.filter((side) => ofFilms.some(([name]) => has(compared(side, name))));
  if (told.length === 0) return null;
  const caption = "The films alone, in virtual tests at the stretch each has on the load";
  if (few) return inColumns(caption, known(ofFilms), false);
  return inRows(caption, told, known(ofFilms), []);
}
