// SPDX-License-Identifier: BSD-3-Clause
// What is set at the panel, and the film it takes.
import {
  blocks,
  capital,
  done,
  has,
  inputLabel,
  label,
  list,
  many,
  outputName,
  outputWords,
  predicted,
  type Side,
  sides,
  type Station,
  stations,
  text,
  whatIsMissing,
} from "./data";
import {banded, inLine} from "./bands";
import {brief, type Child, h, q, section, table} from "./dom";

const panel = [
  "film.width",
  "film.thickness",
  "delivery.prestretch",
  "delivery.tension.dial",
  "delivery.tension.force",
  "delivery.tension.control",
  "delivery.tension.length_per_turn",
  "rotation.speed",
  "rotation.ramp_turns",
  "pattern.start_height",
  "pattern.bottom_turns",
  "pattern.roping_width",
  "carriage.speed_up",
  "carriage.speed_down",
  "pattern.overlap",
  "pattern.pitch",
  "pattern.top_turns",
  "pattern.top_overhang",
  "pattern.descent",
];

function index(side: Side, key: string): number {
  return list(`${side.place}/inputs`).findIndex((_, i) => text(`${side.place}/inputs/${i}/key`) === key);
}

/** The words of one input in both units, with a mark when nobody gave it. */
export function input(side: Side, key: string): Child {
  const found = index(side, key);
  if (found < 0) return null;
  const place = `${side.place}/inputs/${found}`;
  return [
    inputWords(place),
    text(`${place}/origin`) === "assumed" ? h("span", {class: "origin-assumed"}, " assumed") : "",
  ];
}

export function inputWords(place: string): Child {
  const metric = text(`${place}/metric`),
    inchPound = text(`${place}/inch_pound`);
  const any = metric.length > 40 ? "any " : "";
  if (metric === inchPound) return h("bdi", {class: any, "data-words": `${place}/metric`}, metric);
  return [
    h("bdi", {class: `${any}metric`, "data-words": `${place}/metric`}, metric),
    h("bdi", {class: `${any}inch-pound`, "data-words": `${place}/inch_pound`}, inchPound),
  ];
}

function value(side: Side, key: string): Child {
  if (key === "carriage.speed_up")
    return has(`${side.place}/detail/carriage/up_m_per_min`)
      ? q(`${side.place}/detail/carriage/up_m_per_min`, "carriage")
      : null;
  if (key === "carriage.speed_down")
    return has(`${side.place}/detail/carriage/down_m_per_min`)
      ? q(`${side.place}/detail/carriage/down_m_per_min`, "carriage")
      : null;
  if (key === "pattern.pitch" && predicted(side))
    return q(`${side.place}/summary/pattern/pitch_mm`, "output:pattern/pitch_mm");
  if (key === "pattern.overlap" && predicted(side)) return q(`${side.place}/summary/pattern/overlap`, "share");
  const words = input(side, key);
  return words !== null && key === "pattern.descent"
    ? text(`${side.place}/inputs/${index(side, key)}/metric`) === "true"
      ? "yes"
      : "no"
    : words;
}

/** What matters most of the panel, for the first sheet. */
const first = [
  "delivery.prestretch",
  "delivery.tension.force",
  "delivery.tension.dial",
  "rotation.speed",
  "carriage.speed_up",
  "carriage.speed_down",
  "pattern.overlap",
  "pattern.top_overhang",
];

/** What to read off the wrapped load, and with what. */
const checks: [string, string][] = [
  ["pattern/turns", "counted"],
  ["pattern/rotation_time_s", "stop-watch"],
  ["film/mass_kg", "weighed"],
  ["film/stretch_on_load_percent", "two marks, tape"],
  ["film/laid_width_mm", "last turn, tape"],
];

/** The card of the present wrap and the first candidates, for one sheet. */
export function settings(): HTMLElement {
  return section(
    "settings",
    "Settings card",
    card(blocks[0]),
    h("p", {class: "no-print"}, h("button", {type: "button", id: "print-card"}, "Print this card alone")),
  );
}

/** Where there are more wraps than one card holds: the other cards. */
export const moreSettings = (): HTMLElement[] =>
  blocks.length > 1 ? [section("more-settings", "More settings cards", blocks.slice(1).map(card))] : [];

const columns = (what: string, group: Side[]): {head: Child}[] => [
  {head: what},
  ...group.map((side) => ({head: many ? label(side) : "Value"})),
];

function settingRows(keys: string[], group: Side[]): Child[][] {
  return keys
    .filter((key) => group.some((side) => value(side, key) !== null))
    .map((key) => [
      capital(inputLabel(key)),
      ...group.map((side) => value(side, key) ?? h("span", {class: "none"}, "\u2013")),
    ]);
}

/** The pull force to expect when wrapping ends, with its unit; of the wrap to be tried also with its band. */
const pullNow = (side: Side, station: Station): Child => {
  const name = `containment.end.${station}.pull_force_N`;
  const place = `${side.place}/summary/containment/end/${station}/pull_force_N`;
  return many && side.index === 0 ? q(place, "force") : inLine(banded(side, name, place), "force");
};

/** What the readings of a wrapped load should be, each with its means. */
function readingRows(group: Side[], taken = checks): Child[][] {
  const pull = outputName("containment/pull_force_N");
  return [
    ...stations.map((station) => [
      `${capital(pull)}, ${station}`,
      ...group.map((side) => (predicted(side) ? pullNow(side, station) : "\u2013")),
    ]),
    ...taken.map(([place, means]) => [
      `${outputWords(place)}: ${means}`,
      ...group.map((side) => (predicted(side) ? use(side, place) : "\u2013")),
    ]),
  ];
}

/** The last wraps of the page that can be set and read: the candidate beside the present one. */
const onFirstSheet = (): Side[] => (sides.length <= 2 ? sides.filter(predicted) : done.slice(-1));

export const firstSettings = (): HTMLElement =>
  table("Settings", columns("Setting", onFirstSheet()), settingRows(first, onFirstSheet()), {hideCaption: true});

export const readings = (): HTMLElement =>
  table("Readings to take", columns("Reading", onFirstSheet()), readingRows(onFirstSheet(), checks.slice(2)), {
    hideCaption: true,
  });

function card(group: Side[]): HTMLElement {
  const film = done[0]
    ? h(
        "p",
        {},
        "Film: ",
        group.map((side, i) => [i ? "; " : "", brief(`${side.place}/film`, 80)]),
      )
    : null;
  return h(
    "div",
    {class: "card"},
    h(
      "p",
      {},
      h("strong", {}, "For: "),
      group.map((side, i) => [i ? "; " : "", brief(`${side.place}/name`, 80)]),
    ),
    film,
    h(
      "div",
      {class: many ? "" : "halves"},
      h(
        "div",
        {},
        h("h3", {}, "Set at the machine"),
        table("Settings", columns("Setting", group), settingRows(panel, group), {hideCaption: true}),
      ),
      h(
        "div",
        {},
        h("h3", {}, "Then check on the wrapped load"),
        table("Readings to expect", columns("Reading", group), readingRows(group), {hideCaption: true}),
      ),
    ),
    h(
      "p",
      {class: "quiet"},
      "Stop the machine and lock it out before you reach into it. A prediction is not a certificate: local rules and a qualified person decide.",
    ),
  );
}

// Words and units as the program declares them.
const uses = [
  "film/mass_kg",
  "film/length_on_roll_m",
  "pattern/turns",
  "film/stretch_on_load_percent",
  "film/prestretch_force_N",
  "film/laid_width_mm",
  "span/force_mean_N",
  "load/edge_line_force_N_per_m",
];
const use = (side: Side, place: string): Child => q(`${side.place}/summary/${place}`, `output:${place}`);

export function film(): HTMLElement {
  if (!many && done.length)
    return section(
      "film",
      outputWords("film/mass_kg"),
      h(
        "dl",
        {class: "facts"},
        uses.map((place) => h("div", {}, h("dt", {}, outputWords(place)), h("dd", {}, use(done[0], place)))),
      ),
    );
  return section(
    "film",
    outputWords("film/mass_kg"),
    blocks.map((group) =>
      table(
        "Film, turns and forces",
        [{head: "Quantity"}, ...group.map((side) => ({head: label(side), numeric: true}))],
        uses.map((place) => [
          outputWords(place),
          ...group.map((side) => (predicted(side) ? use(side, place) : whatIsMissing(side))),
        ]),
      ),
    ),
  );
}
