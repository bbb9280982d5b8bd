// SPDX-License-Identifier: BSD-3-Clause
// What is set at the panel, and the film it takes.
import {blocks, done, has, label, list, many, outputWords, predicted, type Side, text, whatIsMissing} from "./data";
import {brief, type Child, h, q, section, table} from "./dom";

const panel: [string, string][] = [
  ["film.width", "Film width on the roll"],
  ["film.thickness", "Film thickness on the roll"],
  ["delivery.prestretch", "Pre-stretch"],
  ["delivery.tension.dial", "Force dial"],
  ["delivery.tension.force", "Span force"],
  ["delivery.tension.control", "Delivery control"],
  ["delivery.tension.length_per_turn", "Film per turn over perimeter"],
  ["rotation.speed", "Rotation speed"],
  ["rotation.ramp_turns", "Turns to full speed"],
  ["pattern.start_height", "Start height"],
  ["pattern.bottom_turns", "Bottom turns"],
  ["pattern.roping_width", "Roped width, bottom turns"],
  ["carriage.up", "Carriage speed up"],
  ["carriage.down", "Carriage speed down"],
  ["pattern.overlap", "Overlap"],
  ["pattern.pitch", "Climb per turn"],
  ["pattern.top_turns", "Top turns"],
  ["pattern.top_overhang", "Film above the top edge"],
  ["pattern.descent", "Wrap on the way down"],
];

function index(side: Side, key: string): number {
  return list(`${side.place}/inputs`).findIndex((_, i) => text(`${side.place}/inputs/${i}/key`) === key);
}

/** The words of one input in both units, with a mark when nobody gave it. */
function input(side: Side, key: string): Child {
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
  if (key === "carriage.up")
    return has(`${side.place}/detail/carriage/up_m_per_min`)
      ? q(`${side.place}/detail/carriage/up_m_per_min`, "carriage")
      : null;
  if (key === "carriage.down")
    return has(`${side.place}/detail/carriage/down_m_per_min`)
      ? q(`${side.place}/detail/carriage/down_m_per_min`, "carriage")
      : null;
  if (key === "pattern.pitch" && predicted(side)) return q(`${side.place}/summary/pattern/pitch_mm`, "small");
  if (key === "pattern.overlap" && predicted(side)) return q(`${side.place}/summary/pattern/overlap`, "share");
  const words = input(side, key);
  return words !== null && key === "pattern.descent"
    ? text(`${side.place}/inputs/${index(side, key)}/metric`) === "true"
      ? "yes"
      : "no"
    : words;
}

const checks: [string, string][] = [
  ["pattern/turns", "Turns to count"],
  ["pattern/rotation_time_s", "Time of rotation"],
  ["film/mass_kg", "Film to weigh, per load"],
  ["film/stretch_on_load_percent", "Stretch on the load, two marks and a tape"],
  ["film/laid_width_mm", "Width of the last turn, tape"],
];

/** One card per group of sides, each for one sheet. */
export function settings(): HTMLElement {
  return section(
    "settings",
    "Settings card",
    blocks.map(card),
    h("p", {class: "no-print"}, h("button", {type: "button", id: "print-card"}, "Print this card alone")),
  );
}

function card(group: Side[]): HTMLElement {
  const rows = panel
    .filter(([key]) => group.some((side) => value(side, key) !== null))
    .map(
      ([key, words]) =>
        [words, ...group.map((side) => value(side, key) ?? h("span", {class: "none"}, "\u2013"))] as Child[],
    );
  const readings = checks.map(
    ([place, words]) => [words, ...group.map((side) => (predicted(side) ? use(side, place) : "\u2013"))] as Child[],
  );
  const columns = (first: string): {head: Child}[] => [
    {head: first},
    ...group.map((side) => ({head: many ? label(side) : "Value"})),
  ];
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
      h("div", {}, h("h3", {}, "Set at the machine"), table("Settings", columns("Setting"), rows, {hideCaption: true})),
      h(
        "div",
        {},
        h("h3", {}, "Then check on the wrapped load"),
        table("Readings to expect", columns("Reading"), readings, {hideCaption: true}),
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
      "Film per load",
      h(
        "dl",
        {class: "facts"},
        uses.map((place) => h("div", {}, h("dt", {}, outputWords(place)), h("dd", {}, use(done[0], place)))),
      ),
    );
  return section(
    "film",
    "Film per load",
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
