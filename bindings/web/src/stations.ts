// SPDX-License-Identifier: BSD-3-Clause
// What the film holds at top, middle and bottom: at every moment, candidate beside present, against the target.
import {type Banded, banded, inLine, known, withBand} from "./bands";
import {
  anyStored,
  capital,
  containmentOf,
  done,
  has,
  label,
  list,
  many,
  type Moment,
  num,
  outputName,
  outputWords,
  type Side,
  sides,
  type Station,
  stations,
  targetOf,
  text,
} from "./data";
import {type Child, h, q, sign, table, unit} from "./dom";
import {chosen, inWords} from "./moment";
import type {Kind} from "./units";

export interface Judged {
  key: string; // of the JSON object
  kind: Kind;
  name: string;
}
const hoop: Judged = {
  key: "hoop_tension_N_per_m",
  kind: "tension",
  name: capital(outputName("containment/hoop_tension_N_per_m")),
};
const pull: Judged = {key: "pull_force_N", kind: "force", name: capital(outputName("containment/pull_force_N"))};

/** Places of the targets that stations have; one in transit has none. */
const stationTargets = (side: Side): string[] =>
  list(`${side.place}/summary/targets`)
    .map((_, i) => `${side.place}/summary/targets/${i}`)
    .filter((place) => (stations as string[]).includes(text(`${place}/station`)));

/** The quantity of the targets, else of the comparison, else hoop tension. */
export function judged(): Judged {
  const targets = done.flatMap((side) => stationTargets(side).map((place) => text(`${place}/quantity`)));
  if (targets.length > 0) return targets[0] === "pull_force" ? pull : hoop;
  return text("comparison/measures/containment").endsWith(pull.key) ? pull : hoop;
}

const none = (words = "\u2013"): HTMLElement => h("span", {class: "none"}, words);
const nameOf = (moment: Moment, station: string, q_: Judged): string => `containment.${moment}.${station}.${q_.key}`;
const placeOf = (side: Side, moment: Moment, station: string, key: string): string =>
  `${containmentOf(side, moment, station)}/${key}`;

/** A number of a side with its band; of a measured side the mean of its readings. */
export function held(side: Side, moment: Moment, station: Station, q_: Judged, show = withBand): Child {
  if (side.failed) return none("not computed");
  if (!side.measured)
    return show(banded(side, nameOf(moment, station, q_), placeOf(side, moment, station, q_.key)), q_.kind);
  const read = `comparison/sides/${side.index}/numbers/${nameOf(moment, station, q_)}`;
  return has(read) ? q(read, q_.kind, true) : none();
}

/** When a station is weakest in storage, and how warm it is then. */
function whenWords(side: Side, station: Station): Child {
  const place = placeOf(side, "weakest", station, "time_s");
  return [
    num(place) === 0 ? "as storage begins" : ["after ", q(place, "time")],
    ", ",
    q(placeOf(side, "weakest", station, "temperature_C"), "celsius"),
  ];
}

function when(side: Side, station: Station): Child {
  if (!has(placeOf(side, "weakest", station, "time_s"))) return "";
  return h("span", {class: "band"}, whenWords(side, station));
}

/** Whether every station of these wraps is weakest at the same moment. */
function weakestTogether(shown: Side[]): boolean {
  const times = shown
    .filter((side) => done.includes(side))
    .flatMap((side) => stations.map((s) => num(placeOf(side, "weakest", s, "time_s"))));
  return new Set(times).size === 1;
}

const changeAt = (place: string): Banded => ({
  value: `${place}/change`,
  low: `${place}/low_change`,
  high: `${place}/high_change`,
});

/** By how much a candidate differs from the present wrap, to the digits its band leaves. */
export function changeOf(side: Side, name: string): Child {
  const place = `comparison/sides/${side.index}/against_present/${name}`;
  return has(`${place}/change`) ? known(changeAt(place), "change", false) : "";
}

/** A candidate against the present wrap, with the ends between which the change lies nine times in ten. */
export function changed(side: Side, name: string, show = withBand): Child {
  const place = `comparison/sides/${side.index}/against_present/${name}`;
  if (!has(`${place}/change`)) return none();
  return show(changeAt(place), "change", false);
}

const whole = 0.2; // a width that leaves whole per cents

/** Met, missed, or neither: the words of the program where there are draws, as in its first sentence. */
function verdict(place: string): HTMLElement {
  const words = text(`${place}/verdict`);
  return h("span", {class: words === "met" ? "met" : words === "missed" ? "missed" : "caution"}, words);
}

/** What is held at the moment of the target, what is wanted, and whether it is met. */
export function target(side: Side, station: Station): Child {
  const place = targetOf(side, station);
  if (place === undefined) return none("none set");
  const kind = text(`${place}/unit`) === "N" ? "force" : "tension";
  const chance = has(`${place}/probability`) ? [" in ", q(`${place}/probability`, "share", false, 3, whole)] : "";
  return [
    q(`${place}/predicted`, kind, true),
    " of ",
    q(`${place}/wanted`, kind),
    h("span", {class: "band"}, verdict(place.replace("/summary/targets/", "/detail/findings/targets_told/")), chance),
  ];
}

/** "after storage": the moment of the targets. */
const targetMoment = (): string => {
  const side = done.find((one) => stationTargets(one).length > 0);
  return side ? text(`${side.place}/detail/findings/targets_told/0/moment`) : "";
};

/** "Target after 7 days of storage": not the weakest moment where a warm day lies in between. */
const targetHead = (side: Side): Child =>
  targetMoment() === "after storage" && has(`${side.place}/detail/storage_s`)
    ? ["Target after ", q(`${side.place}/detail/storage_s`, "time"), " of storage"]
    : ["Target ", targetMoment()];

const isTargeted = (): boolean => done.some((side) => stationTargets(side).length > 0);
const sameTargets = (): boolean =>
  new Set(
    done.map((side) =>
      stationTargets(side)
        .map((place) => num(`${place}/wanted`))
        .join(" "),
    ),
  ).size === 1;

type Cell = {head: Child; of: (station: Station) => Child};

/** One or two wraps: per station now, weakest in storage and when, the difference, the target. */
export function stationTable(): HTMLElement {
  const q_ = judged();
  const shown = sides.slice(0, 2);
  const pair = shown.length === 2;
  const together = anyStored && weakestTogether(shown);
  const whose = (side: Side): Child => (pair ? [", ", label(side)] : "");
  const columns: Cell[] = shown.map((side) => ({head: ["Wrapped", whose(side)], of: (s) => held(side, "end", s, q_)}));
  if (anyStored)
    for (const side of shown)
      columns.push({
        head: ["Weakest in storage", whose(side)],
        of: (s) => [held(side, "weakest", s, q_), together ? "" : when(side, s)],
      });
  if (pair)
    columns.push({
      head: "Difference of the weakest",
      of: (s) => changed(shown[1], nameOf(anyStored ? "weakest" : "end", s, q_)),
    });
  if (isTargeted()) {
    const judgedSides = pair && !sameTargets() ? shown : [done[done.length - 1]];
    for (const side of judgedSides)
      columns.push({
        head: [targetHead(side), judgedSides.length > 1 ? whose(side) : ""],
        of: (s) => target(side, s),
      });
  }
  return table(
    [
      q_.name,
      unit(q_.kind),
      ": below a number the ends between which it lies nine times in ten",
      together && done[0] ? ["; weakest ", whenWords(done[0], "top")] : "",
    ],
    [{head: "Station"}, ...columns.map(({head}) => ({head, numeric: true}))],
    stations.map((s) => [s, ...columns.map(({of}) => of(s))]),
    {class: "cards"},
  );
}

/** Three wraps and more: one row each, at the moment chosen. */
export function wrapTable(): HTMLElement {
  const q_ = judged();
  const measure = text("comparison/measures/containment");
  const costed = done.every((side) => has(`${side.place}/summary/cost/per_load`));
  const moment = chosen();
  const isLong = sides.length > 4;
  const show = isLong ? known : withBand,
    line = isLong ? inLine : withBand;
  const columns: {head: Child; of: (side: Side) => Child}[] = [
    ...stations.map((s) => ({head: capital(s), of: (side: Side) => held(side, moment, s, q_, show)})),
    {
      head: "Against present",
      of: (side) => (side.index === 0 || measure === "" ? none() : changed(side, measure, line)),
    },
    {
      head: outputWords("film/mass_kg"),
      of: (side) => (has(filmOf(side)) ? q(filmOf(side), "output:film/mass_kg") : none()),
    },
  ];
  if (costed)
    columns.push({
      head: capital(outputName("cost/per_load")),
      of: (side) =>
        has(`${side.place}/summary/cost/per_load`)
          ? [sign(side, "money"), q(`${side.place}/summary/cost/per_load`, "money")]
          : none(),
    });
  return table(
    [q_.name, unit(q_.kind), " at the stations, film and cost of every wrap"],
    [{head: "Wrap"}, ...columns.map(({head}) => ({head, numeric: true}))],
    sides.map((side) => [
      [String(side.index + 1), " ", label(side)],
      ...columns.map(({of}) => (side.failed ? none("not computed") : of(side))),
    ]),
    {class: "cards"},
  );
}
const filmOf = (side: Side): string =>
  side.measured ? `comparison/sides/${side.index}/numbers/film.mass_kg` : `${side.place}/summary/film/mass_kg`;

/** Every number of the stations at the moment chosen, for the appendix. */
export function momentTable(side: Side, moment: Moment): HTMLElement {
  const rows: [string, Kind, string][] = [
    [hoop.key, hoop.kind, hoop.name],
    [pull.key, pull.kind, pull.name],
  ];
  return table(
    [many ? [label(side), ", "] : "", inWords[moment]],
    [
      {head: "Station"},
      {head: ["Height", unit("height")], numeric: true},
      ...rows.map(([, kind, name]) => ({head: [name, unit(kind)] as Child, numeric: true})),
      {head: capital(outputName("containment/film_layers")), numeric: true},
      ...(moment === "after_storage" ? [{head: ["Kept", unit("share")] as Child, numeric: true}] : []),
      ...(moment === "weakest" ? [{head: "When", numeric: true}] : []),
    ],
    stations.map((s) => [
      s,
      q(placeOf(side, moment, s, "height_m"), "height", true),
      ...rows.map(([key, kind, name]) => held(side, moment, s, {key, kind, name})),
      q(placeOf(side, moment, s, "film_layers"), "count", true),
      ...(moment === "after_storage" ? [q(`${side.place}/detail/kept/${s}`, "share", true)] : []),
      ...(moment === "weakest" ? [when(side, s)] : []),
    ]),
    {class: "stations"},
  );
}
