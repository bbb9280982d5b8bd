// SPDX-License-Identifier: BSD-3-Clause
// What the numbers rest on: unknowns, assumptions, warnings, validation, inputs, cautions.
import {at, blocks, done, has, label, list, many, type Side, sides, text, warningsOf, warningsOfAll} from "./data";
import {type Child, folded, h, q, say, section, table, unit} from "./dom";
import {inputWords} from "./settings";

const mayOpen = (side: Side, words: string, make: () => Child): Child =>
  many ? folded([label(side), ": ", words], make, true) : make();

/** What can hurt whoever measures an input so. */
const careful = (place: string): Child =>
  text(place) === "" ? null : h("div", {}, h("span", {class: "caution"}, "caution"), ": ", say(place));

function unknownTable(side: Side): Child {
  const place = (i: number): string => `${side.place}/summary/assumed/${i}`;
  const count = list(`${side.place}/summary/assumed`).length;
  if (count === 0) return h("p", {}, "No assumed input was ranked.");
  const row = (i: number): Child[] => [
    h("code", {"data-words": `${place(i)}/key`}, text(`${place(i)}/key`)),
    [say(`${place(i)}/value`), " (", say(`${place(i)}/low`), " to ", say(`${place(i)}/high`), ")"],
    at(`${place(i)}/failed`) === true
      ? ["cannot be computed: ", say(`${place(i)}/message`)]
      : [
          q(`${place(i)}/containment_low_N_per_m`, "tension", true),
          " to ",
          q(`${place(i)}/containment_high_N_per_m`, "tension", true),
        ],
    has(`${place(i)}/effect`) ? q(`${place(i)}/effect`, "share", true) : "\u2013",
    [say(`${place(i)}/how_to_measure`, "\u2013"), careful(`${place(i)}/caution`)],
  ];
  const columns = [
    {head: "Input"},
    {head: "Assumed (range)"},
    {head: ["Weakest station over the range", unit("tension")] as Child},
    {head: ["Spread", unit("share")], numeric: true},
    {head: "How to measure it", wordy: true},
  ];
  const few = Math.min(5, count);
  return [
    table(
      "Largest effect first",
      columns,
      Array.from({length: few}, (_, i) => row(i)),
    ),
    count > few
      ? folded(`All ${count} assumed inputs that were ranked`, () =>
          table(
            "All ranked inputs",
            columns,
            Array.from({length: count}, (_, i) => row(i)),
          ),
        )
      : null,
  ];
}

export function unknowns(): HTMLElement {
  const ranked = done.filter((side) => list(`${side.place}/summary/assumed`).length > 0);
  const some = ranked.length > 0 && ranked.length < done.length;
  return section(
    "unknowns",
    "Largest unknowns",
    h(
      "p",
      {},
      "Each assumed input is moved to both ends of its range, one at a time; the table says what the weakest station holds after storage. Measuring the first few improves this prediction most.",
    ),
    some
      ? h(
          "p",
          {},
          "Ranked for ",
          ranked.map((side, i) => [i ? ", " : "", label(side)]),
          " only.",
        )
      : null,
    (some ? ranked : done).map((side) => mayOpen(side, "unknowns", () => unknownTable(side))),
  );
}

function origins(side: Side): {[origin: string]: number[]} {
  const found: {[origin: string]: number[]} = {};
  list(`${side.place}/inputs`).forEach((_, i) => (found[text(`${side.place}/inputs/${i}/origin`)] ??= []).push(i));
  return found;
}

export function assumptions(): HTMLElement {
  return section(
    "assumptions",
    "Assumptions",
    h(
      "p",
      {},
      "Inputs that were not given, with the value used instead. Each is described by ",
      h("code", {}, "hoopfield explain KEY"),
      ".",
    ),
    sides
      .filter((side) => list(`${side.place}/inputs`).length)
      .map((side) =>
        folded(
          [many ? [label(side), ": "] : "", `${(origins(side).assumed ?? []).length} assumed inputs`],
          () =>
            table(
              "Assumed inputs",
              [
                {head: "Input"},
                {head: "Taken as"},
                {head: "Meaning", wordy: true},
                {head: "How to measure it", wordy: true},
              ],
              (origins(side).assumed ?? []).map((i) => {
                const place = `${side.place}/inputs/${i}`;
                return [
                  h("code", {"data-words": `${place}/key`}, text(`${place}/key`)),
                  inputWords(`${place}`),
                  say(`declarations/${text(`${place}/key`)}/sentence`),
                  [
                    say(`declarations/${text(`${place}/key`)}/measure`, "\u2013"),
                    careful(`declarations/${text(`${place}/key`)}/caution`),
                  ],
                ];
              }),
              {hideCaption: true},
            ),
          true,
        ),
      ),
  );
}

const warningItem = (place: string): HTMLElement =>
  h(
    "li",
    {},
    h("span", {class: text(`${place}/severity`)}, text(`${place}/severity`)),
    ": ",
    say(`${place}/text`),
    text(`${place}/key`) ? [" (", h("code", {"data-words": `${place}/key`}, text(`${place}/key`)), ")"] : "",
  );

export function warnings(): HTMLElement {
  const whole = warningsOfAll();
  const lists = sides
    .filter((side) => !side.failed)
    .map((side) => {
      const items = warningsOf(side).map(warningItem);
      return [
        many ? h("h3", {}, label(side)) : null,
        items.length ? h("ul", {class: "risks"}, items) : h("p", {}, "None."),
      ];
    });
  return section(
    "warnings",
    "Warnings",
    whole.length ? [h("h3", {}, "The comparison as a whole"), h("ul", {class: "risks"}, whole.map(warningItem))] : null,
    lists,
    sides
      .filter((s) => s.failed)
      .map((side) => h("p", {class: "danger"}, label(side), ": ", say(`${side.place}/message`))),
  );
}

export function validation(): HTMLElement {
  const rows = list("validation").map((_, i) => [
    say(`validation/${i}/title`),
    say(`validation/${i}/label`),
    say(`validation/${i}/result`),
  ]);
  return section(
    "validation",
    "Validation status",
    h(
      "p",
      {},
      "What the computation was compared with, and the result. A calibration proves nothing, because the model was fitted to it. Not validated: span force, the load\u2019s stiffness, recovery of film at large stretch.",
    ),
    rows.length
      ? table("Cases", [{head: "Case"}, {head: "Kind of truth"}, {head: "Result"}], rows)
      : h("p", {}, "This build contains no record of its validation."),
  );
}

/** Where an input of a side stands, by its key. */
const inputPlaces = new Map(
  sides.map((side) => [
    side,
    new Map(
      list(`${side.place}/inputs`).map((_, i) => [text(`${side.place}/inputs/${i}/key`), `${side.place}/inputs/${i}`]),
    ),
  ]),
);
const inputOf = (side: Side, key: string): string | undefined => inputPlaces.get(side)?.get(key);

/** Every key of these sides once, in the order of the reference. */
const keysOf = (group: Side[]): string[] => [
  ...new Set(group.flatMap((side) => [...(inputPlaces.get(side)?.keys() ?? [])])),
];

function isSame(group: Side[], key: string): boolean {
  return new Set(group.map((side) => text(`${inputOf(side, key)}/metric`))).size === 1;
}

/** One input: its value, and where it comes from when nobody gave it. */
function inputCell(side: Side, key: string): Child {
  const place = inputOf(side, key);
  if (place === undefined) return h("span", {class: "none"}, "\u2013");
  const origin = text(`${place}/origin`);
  return [
    inputWords(place),
    origin === "given" ? "" : h("span", {class: `origin-${origin}`}, " ", origin),
    text(`${place}/source`) === "" ? "" : h("span", {class: "band"}, say(`${place}/source`)),
  ];
}

/** The inputs of up to four wraps in one table; a row in which they differ is marked. */
function inputTable(group: Side[]): HTMLElement {
  const compared_ = group.length > 1;
  const made = table(
    compared_ ? "Every input; \u2260 marks those that differ" : "Every input",
    [
      {head: "Input"},
      ...group.map((side) => ({head: compared_ ? label(side) : "Value"})),
      ...(compared_ ? [] : [{head: "Meaning", wordy: true}]),
    ],
    keysOf(group).map((key) => [
      [compared_ && !isSame(group, key) ? h("strong", {}, "\u2260 ") : "", h("code", {}, key)],
      ...group.map((side) => inputCell(side, key)),
      ...(compared_ ? [] : [say(`declarations/${key}/sentence`)]),
    ]),
    {class: "inputs", hideCaption: true},
  );
  return made;
}

export function inputs(): HTMLElement {
  const known = blocks.map((group) => group.filter((side) => list(`${side.place}/inputs`).length > 0));
  const counted = (group: Side[]): string => {
    const differing = keysOf(group).filter((key) => !isSame(group, key)).length;
    return group.length > 1 ? `, ${differing} of them differ` : "";
  };
  return section(
    "inputs",
    "Inputs with units and sources",
    known
      .filter((group) => group.length > 0)
      .map((group) =>
        folded(
          [
            many ? [group.map((side, i) => [i ? ", " : "", label(side)]), ": "] : "",
            `${keysOf(group).length} inputs${counted(group)}`,
          ],
          () => [
            group.map((side) =>
              h(
                "p",
                {class: "quiet"},
                many ? [label(side), ": "] : "",
                "from ",
                list(`${side.place}/files`).map((_, i) => [i ? ", " : "", say(`${side.place}/files/${i}`)]),
                ".",
              ),
            ),
            inputTable(group),
          ],
          true,
        ),
      ),
    sides
      .filter((side) => text(`${side.place}/notes`))
      .map((side) =>
        folded(
          [many ? [label(side), ": "] : "", "notes in the scenario"],
          () => h("p", {}, say(`${side.place}/notes`)),
          true,
        ),
      ),
  );
}

export function cautions(): HTMLElement {
  return section(
    "cautions",
    "Cautions",
    h(
      "ul",
      {class: "risks"},
      list("cautions").map((_, i) => h("li", {}, say(`cautions/${i}`))),
    ),
  );
}
