// SPDX-License-Identifier: BSD-3-Clause
// The question and its answer, then containment at the stations.
import {
  areDrawn,
  at,
  capital,
  done,
  has,
  label,
  list,
  many,
  num,
  outputName,
  type Side,
  sides,
  stations,
  text,
  warningsOf,
  warningsOfAll,
} from "./data";
import {rangeWords, withBand} from "./bands";
import {compared, heading} from "./compared";
import type {Kind} from "./units";
import {brief, type Child, framed, h, q, say, section, table, unit} from "./dom";

const finding = (side: Side, name: string): string => `${side.place}/detail/findings/${name}`;
const weakest = (side: Side): string => text(finding(side, "weakest_station"));
const stored = (side: Side): string =>
  `${side.place}/summary/containment/after_storage/${weakest(side)}/hoop_tension_N_per_m`;
const wrapped = (side: Side): string => `${side.place}/summary/containment/end/${weakest(side)}/hoop_tension_N_per_m`;

/** "18 % less": the size of a relative change and its direction in words. */
export const lessOrMore = (place: string): Child => [q(place, "size"), (num(place) ?? 0) < 0 ? " less" : " more"];

function holds(side: Side): Child {
  const storage = num(`${side.place}/detail/storage_s`) ?? 0;
  const change = num(finding(side, "weakest_change"));
  return [
    "Of the three stations, the ",
    say(finding(side, "weakest_station")),
    " one holds least: hoop tension is ",
    q(wrapped(side), "tension"),
    " when wrapping ends",
    storage > 0
      ? [
          " and ",
          q(stored(side), "tension"),
          " after ",
          q(`${side.place}/detail/storage_s`, "time"),
          " of storage",
          rangeWords(side, `containment.after_storage.${weakest(side)}.hoop_tension_N_per_m`, "tension"),
          change === null ? "" : [", ", lessOrMore(finding(side, "weakest_change"))],
        ]
      : "",
    ".",
  ];
}

function against(side: Side): Child {
  const count = num(finding(side, "targets")) ?? 0;
  if (count === 0) return "No target is set, so this page reports the tension without a verdict.";
  const met = num(finding(side, "targets_met")) ?? 0;
  if (met === count) return h("span", {class: "met"}, "Every target set is met.");
  return [
    h("span", {class: "missed"}, [
      "Targets missed: ",
      list(`${side.place}/summary/targets`)
        .flatMap((_, i) => {
          const place = `${side.place}/summary/targets/${i}`;
          if (at(`${place}/met`) === true) return [];
          if (has(`${place}/probability`)) return [[say(`${place}/station`)]]; // the sentence below has the numbers
          const kind = text(`${place}/unit`) === "N" ? "force" : "tension";
          return [[say(`${place}/station`), " ", q(`${place}/predicted`, kind), " of ", q(`${place}/wanted`, kind)]];
        })
        .map((part, i) => (i === 0 ? part : ["; ", part])),
    ]),
    ".",
  ];
}

/** The candidate against the present: the first side is the present one. */
function versus(present: Side, candidate: Side): Child {
  const cost = has(`${candidate.place}/versus_first/cost_change`);
  return [
    h("strong", {}, brief(`${candidate.place}/name`)),
    " holds ",
    q(stored(candidate), "tension"),
    " at its weakest station after storage against ",
    q(stored(present), "tension"),
    " now (",
    lessOrMore(`${candidate.place}/versus_first/containment_change`),
    "), uses ",
    q(`${candidate.place}/summary/film/mass_kg`, "mass"),
    " of film against ",
    q(`${present.place}/summary/film/mass_kg`, "mass"),
    " (",
    lessOrMore(`${candidate.place}/versus_first/mass_change`),
    ")",
    cost
      ? [" and costs ", lessOrMore(`${candidate.place}/versus_first/cost_change`), " per load"]
      : at(`${candidate.place}/versus_first/present_costs_nothing`) === true
        ? [" and costs money, while the present side costs nothing"]
        : "",
    ".",
  ];
}

/** Set side by side over the draws: the sentence of a candidate with its bands; empty without draws. */
const drawn = (side: Side): string => (areDrawn ? `comparison/sides/${side.index}/sentence` : "");

function saved(side: Side): Child {
  const place = `comparison/sides/${side.index}/savings_sentence`;
  return text(place) === "" ? null : h("p", {}, say(place));
}

/** What is to be said of the candidates against the present side. */
function verdicts(present: Side, others: Side[]): Child {
  if (present.failed)
    return h("p", {class: "answer"}, "The present side could not be computed, so there is nothing to compare with.");
  if (others.length <= 2)
    return others.map((side) => {
      const targets = (num(finding(side, "targets")) ?? 0) > 0 ? [" ", against(side)] : "";
      if (drawn(side) !== "") return [h("p", {class: "answer"}, say(drawn(side)), targets), saved(side)];
      return present.measured ? readOnly() : h("p", {class: "answer"}, versus(present, side), targets);
    });
  return [
    present.measured ? readOnly() : h("p", {class: "answer"}, manyVersus(present, others)),
    others.map((side) => (drawn(side) === "" ? null : h("p", {}, say(drawn(side))))),
  ];
}

const readOnly = (): Child =>
  h(
    "p",
    {class: "answer"},
    "The present side is known from readings: the table of all sides shows them beside the predictions for the candidates.",
  );

/** Three or more candidates: the ends of the range, and who beats the present side on both counts. */
function manyVersus(present: Side, others: Side[]): Child {
  const best = others.reduce((a, b) => ((num(stored(b)) ?? 0) > (num(stored(a)) ?? 0) ? b : a));
  const lightest = others.reduce((a, b) => ((num(mass(b)) ?? Infinity) < (num(mass(a)) ?? Infinity) ? b : a));
  const cost = (side: Side): number | null =>
    num(`${side.place}/versus_first/cost_change`) ?? num(`${side.place}/versus_first/mass_change`);
  const better = others.filter(
    (side) => (num(`${side.place}/versus_first/containment_change`) ?? -1) >= 0 && (cost(side) ?? 1) <= 0,
  );
  const money = others.every((side) => has(`${side.place}/versus_first/cost_change`));
  return [
    label(best),
    " holds most at its weakest station after storage, ",
    q(stored(best), "tension"),
    " against ",
    q(stored(present), "tension"),
    " now; ",
    label(lightest),
    " uses least film, ",
    q(mass(lightest), "mass"),
    " against ",
    q(mass(present), "mass"),
    ". ",
    better.length
      ? [
          "At least as much containment for no more ",
          money ? "money" : "film",
          " than now: ",
          better.map((side, i) => [i ? ", " : "", label(side)]),
          ".",
        ]
      : ["No candidate holds at least as much as now for no more ", money ? "money" : "film", "."],
  ];
}
const mass = (side: Side): string => `${side.place}/summary/film/mass_kg`;

function risks(): Child {
  const items: Child[] = [];
  // The same warning of several sides stands once.
  const told = new Map<string, {severity: string; place: string; whose: Side[]}>();
  for (const place of warningsOfAll()) told.set(place, {severity: text(`${place}/severity`), place, whose: []});
  for (const side of sides.filter((s) => !s.failed))
    for (const place of warningsOf(side)) {
      const severity = text(`${place}/severity`);
      const entry = told.get(severity + text(`${place}/text`)) ?? {severity, place, whose: []};
      entry.whose.push(side);
      told.set(severity + text(`${place}/text`), entry);
    }
  for (const grave of ["danger", "caution"])
    for (const {severity, place, whose} of told.values())
      if (severity === grave)
        items.push(
          h(
            "li",
            {},
            h("span", {class: severity}, severity),
            ": ",
            !many || whose.length === 0
              ? ""
              : whose.length === sides.length
                ? "all sides: "
                : [whose.map((s, i) => [i ? ", " : "", label(s)]), ": "],
            say(`${place}/text`),
          ),
        );
  const failed = sides.filter((side) => side.failed);
  for (const side of failed)
    items.push(
      h("li", {}, h("span", {class: "danger"}, "not computed"), ": ", label(side), ": ", say(`${side.place}/message`)),
    );
  const unknown =
    done[0] && list(`${done[0].place}/summary/assumed`).length > 0 ? `${done[0].place}/summary/assumed/0` : "";
  if (unknown)
    items.push(
      h(
        "li",
        {},
        h("span", {class: "caution"}, "unknown"),
        ": ",
        "the range taken for ",
        h("code", {"data-words": `${unknown}/key`}, text(`${unknown}/key`)),
        " (",
        say(`${unknown}/low`),
        " to ",
        say(`${unknown}/high`),
        ")",
        has(`${unknown}/effect`) ? [" alone moves the weakest station by ", q(`${unknown}/effect`, "share")] : "",
        "; see ",
        h("a", {href: "#unknowns"}, "the largest unknowns"),
        ".",
      ),
    );
  const most = 6;
  const rest = items.length > most ? [h("li", {}, h("a", {href: "#warnings"}, "more warnings"))] : [];
  return [h("h3", {}, "Risks"), h("ul", {class: "risks"}, items.slice(0, most), rest)];
}

/** The target's quantity with its band, and what the band is made of. */
function banded(side: Side): Child {
  const shown = ["target_sentence", "bands_note"].filter((name) => text(finding(side, name)) !== "");
  return shown.map((name) => h("p", {}, say(finding(side, name))));
}

export function answer(): HTMLElement {
  if (done.length === 0)
    return section(
      "answer",
      "Question and answer",
      h("p", {class: "answer"}, "The prediction could not be computed."),
      risks(),
    );
  if (!many)
    return section(
      "answer",
      "Question and answer",
      h(
        "p",
        {class: "question"},
        "How much tension holds the load when wrapping ends, and how much is left after storage?",
      ),
      h("p", {class: "answer"}, holds(done[0]), " ", against(done[0])),
      banded(done[0]),
      risks(),
    );
  const present = sides[0];
  const others = done.filter((side) => side.index > 0);
  return section(
    "answer",
    "Question and answer",
    h(
      "p",
      {class: "question"},
      "Does a candidate hold the load as well as ",
      label(sides[0]) === "present" ? "the present side" : brief("sides/0/name"),
      ", and how much film does it use?",
    ),
    verdicts(present, others),
    risks(),
  );
}

/** Readings give pull forces; what nobody read stays empty. */
function measuredCells(side: Side, station: string, targeted: boolean): Child[] {
  const read = (moment: string, key: string, kind: Kind): Child => {
    const place = compared(side, `containment.${moment}.${station}.${key}`);
    return has(place) ? q(place, kind, true) : h("span", {class: "none"}, "\u2013");
  };
  const none = h("span", {class: "none"}, "\u2013");
  return [
    none,
    read("end", "hoop_tension_N_per_m", "tension"),
    none,
    read("after_storage", "hoop_tension_N_per_m", "tension"),
    "",
    read("end", "pull_force_N", "force"),
    read("after_storage", "pull_force_N", "force"),
    "",
    ...(targeted ? [""] : []),
  ];
}

function targetOf(side: Side, station: string): Child {
  const found = list(`${side.place}/summary/targets`).findIndex(
    (_, i) => text(`${side.place}/summary/targets/${i}/station`) === station,
  );
  if (found < 0) return h("span", {class: "none"}, "none set");
  const place = `${side.place}/summary/targets/${found}`;
  const met = at(`${place}/met`) === true;
  const kind = text(`${place}/unit`) === "N" ? "force" : "tension";
  return [q(`${place}/wanted`, kind), " ", h("span", {class: met ? "met" : "missed"}, met ? "met" : "missed")];
}

/** The least hoop tension of a station in storage, and when and how warm it is then. */
function weakestCell(side: Side, station: string): HTMLElement {
  const place = `${side.place}/summary/containment/weakest/${station}`;
  return h(
    "span",
    {},
    withBand(side, `containment.weakest.${station}.hoop_tension_N_per_m`, `${place}/hoop_tension_N_per_m`, "tension"),
    " after ",
    q(`${place}/time_s`, "time"),
    ", ",
    q(`${place}/temperature_C`, "celsius"),
  );
}

export function containment(): HTMLElement {
  const place = (side: Side, moment: string, station: string, key: string): string =>
    `${side.place}/summary/containment/${moment}/${station}/${key}`;
  const cell = (side: Side, moment: string, station: string, key: string, kind: Kind): Child =>
    withBand(side, `containment.${moment}.${station}.${key}`, place(side, moment, station, key), kind);
  const targeted = done.some((side) => list(`${side.place}/summary/targets`).length > 0);
  const tension = capital(outputName("containment/hoop_tension_N_per_m"));
  const pull = capital(outputName("containment/pull_force_N"));
  const columns = [
    {head: "Station"},
    {head: ["Height", unit("height")], numeric: true},
    {head: [tension, ", end of wrapping", unit("tension")], numeric: true},
    {head: ["Weakest in storage", unit("tension")], numeric: true},
    {head: [tension, ", after storage", unit("tension")], numeric: true},
    {head: ["Kept", unit("share")], numeric: true},
    {head: [pull, ", end", unit("force")], numeric: true},
    {head: [pull, ", after storage", unit("force")], numeric: true},
    {head: capital(outputName("containment/film_layers")), numeric: true},
    ...(targeted ? [{head: "Target"}] : []),
  ] as {head: Child; numeric?: boolean}[];
  const cells = (side: Side, station: string): Child[] => [
    q(place(side, "end", station, "height_m"), "height", true),
    cell(side, "end", station, "hoop_tension_N_per_m", "tension"),
    weakestCell(side, station),
    cell(side, "after_storage", station, "hoop_tension_N_per_m", "tension"),
    q(`${side.place}/detail/kept/${station}`, "share", true),
    cell(side, "end", station, "pull_force_N", "force"),
    cell(side, "after_storage", station, "pull_force_N", "force"),
    q(place(side, "end", station, "film_layers"), "count", true),
    ...(targeted ? [targetOf(side, station)] : []),
  ];
  const note = h(
    "p",
    {class: "quiet"},
    "Hoop tension is the film force per height of load, all layers together, mean of the four faces",
    done[0] ? [" over a band of ", q(`${done[0].place}/detail/band_height_mm`, "small")] : "",
    ". A pull force is the reading of a pull test with a plate on a face; it is not a hoop tension.",
    done.some((side) => has(`${side.place}/summary/band/values`))
      ? " Below a number stand the ends between which it lies nine times in ten, over all that is uncertain in the inputs."
      : "",
  );
  if (!many)
    return section(
      "containment",
      "Containment",
      done.length
        ? table(
            "At the stations, at the end of wrapping and after storage",
            columns,
            stations.map((s) => [s, ...cells(done[0], s)]),
          )
        : null,
      note,
    );
  const head = [{head: "Side"}, ...columns.slice(1)];
  const made = h(
    "table",
    {},
    h("caption", {}, "Sides beside each other at each station"),
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        head.map((c) => h("th", {scope: "col", class: (c as {numeric?: boolean}).numeric ? "n" : undefined}, c.head)),
      ),
    ),
    stations.map((s) =>
      h(
        "tbody",
        {class: "group"},
        h("tr", {}, h("th", {class: "head", scope: "rowgroup", colspan: head.length}, s)),
        sides.map((side) =>
          side.failed
            ? h(
                "tr",
                {class: "failed"},
                h("th", {scope: "row"}, label(side)),
                h("td", {colspan: head.length - 1}, "not computed"),
              )
            : side.measured
              ? h(
                  "tr",
                  {},
                  h("th", {scope: "row"}, label(side), " (measured)"),
                  measuredCells(side, s, targeted).map((c, i) =>
                    h("td", {class: head[i + 1].numeric ? "n" : undefined}, c),
                  ),
                )
              : h(
                  "tr",
                  {},
                  h("th", {scope: "row"}, label(side)),
                  cells(side, s).map((c, i) => h("td", {class: head[i + 1].numeric ? "n" : undefined}, c)),
                ),
        ),
      ),
    ),
  );
  return section("containment", "Containment", framed(made), note);
}

export function header(): Child {
  const kind = many ? "Comparison of wraps" : "Prediction of one wrap";
  const name = many
    ? [label(sides[0]), ` and ${sides.length - 1 === 1 ? "a candidate" : "candidates"}`]
    : label(sides[0]) || "Untitled scenario";
  const first = done[0];
  return [
    h("p", {class: "kind"}, kind),
    h("h1", {}, h("bdi", {"data-words": "sides/0/name"}, name)),
    many
      ? h(
          "ol",
          {class: "sides"},
          sides.map((side) =>
            h(
              "li",
              {},
              heading(side),
              side.index === 0 && label(side) !== "present" ? " (present)" : "",
              side.failed ? h("span", {class: "danger"}, " not computed") : "",
            ),
          ),
        )
      : null,
    h(
      "p",
      {class: "quiet"},
      "hoopfield ",
      h("span", {"data-words": "version"}, text("version")),
      first
        ? [
            ", inputs ",
            h("span", {"data-words": `${first.place}/summary/inputs_hash`}, text(`${first.place}/summary/inputs_hash`)),
          ]
        : "",
      ". A prediction, not a certificate.",
    ),
  ];
}
