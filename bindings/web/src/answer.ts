// SPDX-License-Identifier: BSD-3-Clause
// The answer in words: the sentences that the command prints first, too.
import {done, has, label, list, many, num, type Side, sides, text} from "./data";
import {type Child, h, q, say} from "./dom";

const finding = (side: Side, name: string): string => `${side.place}/detail/findings/${name}`;
const weakest = (side: Side): string => text(finding(side, "weakest_station"));
const stored = (side: Side): string =>
  `${side.place}/summary/containment/after_storage/${weakest(side)}/hoop_tension_N_per_m`;
const mass = (side: Side): string => `${side.place}/summary/film/mass_kg`;

/** Three or more candidates: the ends of the range, and who is at least as good as the present wrap in both. */
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

const sentence = (side: Side): Child => {
  const place = `comparison/sides/${side.index}`;
  return [
    h("p", {class: "answer"}, say(`${place}/sentence`)),
    text(`${place}/trial_sentence`) === "" ? null : h("p", {class: "quiet trial"}, say(`${place}/trial_sentence`)),
  ];
};

/** What is to be said of the candidates against the present wrap. */
function verdicts(present: Side, others: Side[]): Child {
  if (present.failed)
    return h("p", {class: "answer"}, "The present wrap could not be computed, so there is nothing to compare with.");
  if (others.length <= 2) return others.map(sentence);
  return [
    present.measured
      ? h("p", {class: "answer"}, "The present wrap is known from readings.")
      : h("p", {class: "answer"}, manyVersus(present, others)),
  ];
}

function alone(side: Side): Child {
  const first = text(finding(side, "first_sentence")) === text(finding(side, "stations_sentence"));
  return [
    h("p", {class: "answer"}, say(finding(side, "first_sentence"))),
    first ? null : h("p", {}, say(finding(side, "stations_sentence"))),
    list(`${side.place}/summary/targets`).length === 0
      ? h("p", {class: "quiet"}, "No target is set, so this report gives no verdict.")
      : null,
  ];
}

export function answer(): Child {
  const candidates = done.filter((side) => side.index > 0);
  return many ? verdicts(sides[0], candidates) : alone(done[0]);
}
