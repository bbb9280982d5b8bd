// SPDX-License-Identifier: BSD-3-Clause
// What may go wrong, gravest first, in words without keys.
import {done, label, list, many, type Side, sides, text, warningsOf, warningsOfAll} from "./data";
import {type Child, h, say} from "./dom";

interface Risk {
  severity: string;
  place: string; // of the words
  whose: Side[]; // empty: of the comparison as a whole
}

/** Where the words without keys stand for a text that names one. */
const plainPlaces = new Map(
  list("plain_texts").map((_, i) => [text(`plain_texts/${i}/text`), `plain_texts/${i}/plain`]),
);

/** The same warning of several wraps stands once. */
function warned(): Risk[] {
  const told = new Map<string, Risk>();
  const tell = (place: string, whose: Side[]): void => {
    const words = text(`${place}/text`),
      severity = text(`${place}/severity`);
    const known = told.get(severity + words) ?? {severity, place: plainPlaces.get(words) ?? `${place}/text`, whose: []};
    known.whose.push(...whose);
    told.set(severity + words, known);
  };
  for (const place of warningsOfAll()) tell(place, []);
  for (const side of sides.filter((s) => !s.failed)) for (const place of warningsOf(side)) tell(place, [side]);
  return [...told.values()];
}

function all(): Risk[] {
  const failed = sides
    .filter((side) => side.failed)
    .map((side) => {
      const place = `${side.place}/message`;
      return {severity: "not computed", place: plainPlaces.get(text(place)) ?? place, whose: [side]};
    });
  const unknown = done
    .slice(-1)
    .filter((side) => text(`${side.place}/detail/findings/largest_unknown`) !== "")
    .map((side) => ({
      severity: "unknown",
      place: `${side.place}/detail/findings/largest_unknown`,
      whose: [] as Side[],
    }));
  const told = warned();
  const of = (severity: string): Risk[] => told.filter((risk) => risk.severity === severity);
  return [...of("danger"), ...failed, ...unknown, ...of("caution")];
}

const owners = (whose: Side[]): Child =>
  !many || whose.length === 0
    ? ""
    : whose.length === sides.length
      ? "every wrap: "
      : whose.length > 3
        ? [
            h("span", {"data-count": true}, String(whose.length)),
            " of ",
            h("span", {"data-count": true}, String(sides.length)),
            " wraps: ",
          ]
        : [whose.map((side, i) => [i ? ", " : "", label(side)]), ": "];

export function risks(most: number): Child {
  const found = all();
  const rest = found.length - most;
  return [
    h("h3", {}, "Largest risks"),
    h(
      "ul",
      {class: "risks"},
      found
        .slice(0, most)
        .map(({severity, place, whose}) =>
          h(
            "li",
            {},
            h("span", {class: severity === "danger" || severity === "not computed" ? "danger" : "caution"}, severity),
            ": ",
            owners(whose),
            say(place),
          ),
        ),
      found.length === 0 ? h("li", {}, "No warning was raised.") : null,
    ),
    rest > 0
      ? h(
          "p",
          {class: "quiet"},
          h("a", {href: "#warnings"}, rest === 1 ? "one more" : `${rest} more`),
          " in the appendix",
        )
      : null,
  ];
}
