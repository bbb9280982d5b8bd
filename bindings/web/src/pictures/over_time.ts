// SPDX-License-Identifier: BSD-3-Clause
// Hoop tension in storage, on an axis of time that shows warm days, with the weakest moment marked.
import * as Plot from "@observablehq/plot";
import {
  axis,
  differenceExtent,
  type Draw,
  drawing,
  extent,
  ink,
  onTop,
  type Picture,
  shown,
  stationStroke,
  zeroLine,
} from "../chart";
import {done, label, list, num, nums, type Side, type Station, stations, anyStored, containmentOf} from "../data";
import {type Child, q, table, unit} from "../dom";
import * as s from "./sides";
import {
  along,
  caption,
  isSteady,
  mark,
  onTwoLines,
  place,
  right,
  sameWarmth,
  series,
  shade,
  tensionName,
  time,
  upwards,
  warmth,
  weakest,
  xy,
} from "./storage_parts";

function single(): Picture {
  const side = s.first;
  const station = s.leastStation(side, "weakest");
  const values = s.all(stations.map((n) => place(side, `${n}_N_per_m`)));
  const below = (num(weakest(side, station, "hoop_tension_N_per_m")) ?? 0) > 0.25 * extent(values)[1];
  const tension: Draw = (width) => ({
    height: 300,
    marginRight: right,
    x: along(width, {named: isSteady(side)}),
    y: upwards(values, tensionName),
    marks: [
      ...shade(),
      Plot.ruleY([0]),
      ...stations.map((n) => {
        const stroke = stationStroke[n];
        return Plot.line(series(side, n), {...xy, ...s.pen(stroke)});
      }),
      ...stations.flatMap((n) => mark(side, n, stationStroke[n].colour, n === station ? {width, below} : undefined)),
    ],
  });
  return {
    id: "over-time",
    title: [
      s.whose(),
      `The ${station} is weakest `,
      (num(weakest(side, station, "time_s")) ?? 0) > 0
        ? [q(weakest(side, station, "time_s"), "time"), " after wrapping"]
        : "when wrapping ends",
      ": ",
      q(weakest(side, station, "hoop_tension_N_per_m"), "tension"),
      " of the ",
      q(`${containmentOf(side, "end", station)}/hoop_tension_N_per_m`, "tension"),
      " it had",
    ],
    keys: stations.map((n) => stationStroke[n]),
    layout: "stack",
    panels: [
      {
        drawings: [
          drawing(
            "Hoop tension at top, middle and bottom over storage; rings mark the weakest moment of each.",
            tension,
          ),
          ...(isSteady(side) ? [] : [warmth([[side, {stroke: ink.black, strokeWidth: 2}]])]),
        ],
      },
    ],
    caption: ["Rings mark the weakest moments. ", caption([side])],
    tables: s.perSide(numbers),
  };
}

function pairTitle({present, candidate}: s.Pair, station: Station): Child {
  const found = s.told(candidate, s.hoop("weakest", station));
  return [
    `The candidate is weakest at the ${station}, `,
    (num(weakest(candidate, station, "time_s")) ?? 0) > 0
      ? [q(weakest(candidate, station, "time_s"), "time"), " after wrapping"]
      : "when wrapping ends",
    ", with ",
    q(weakest(candidate, station, "hoop_tension_N_per_m"), "tension"),
    found && s.isApart(found.words)
      ? [", ", s.lessOrMore(found.place, "tension"), " than the present wrap at its weakest there"]
      : [
          found && found.words !== ""
            ? "; it cannot be told from the present wrap, which holds "
            : "; the present wrap holds ",
          q(weakest(present, station, "hoop_tension_N_per_m"), "tension"),
          " at its weakest there",
        ],
  ];
}

function both(pair: s.Pair): Picture {
  const station = s.leastStation(pair.candidate, "weakest");
  const name = `over_time/${station}_N_per_m`;
  const difference = nums(s.apart(pair.candidate, name));
  const times = nums(s.apart(pair.candidate, "over_time/time_s"));
  const values = s.all(done.map((side) => place(side, `${station}_N_per_m`)));
  const held = (side: Side): number => num(weakest(side, station, "hoop_tension_N_per_m")) ?? 0;
  const [lower, upper] =
    held(pair.candidate) <= held(pair.present) ? [pair.candidate, pair.present] : [pair.present, pair.candidate];
  const room = extent(values)[1];
  // Words stand below their ring where the other line leaves room for them.
  const below = (side: Side, width: number): boolean =>
    side === lower ? held(lower) > 0.25 * room : held(upper) - held(lower) > (onTwoLines(width) ? 0.28 : 0.18) * room;
  const steady = isSteady(pair.present) && isSteady(pair.candidate);
  const same = sameWarmth(pair.present, pair.candidate);
  return {
    id: "over-time",
    wide: true,
    title: pairTitle(pair, station),
    keys: s.bothKeys,
    layout: "timed",
    panels: [
      {
        drawings: [
          drawing(`Hoop tension at the ${station} over storage, candidate and present wrap in one panel.`, (width) => ({
            height: 280,
            marginRight: right,
            x: along(width, {named: steady}),
            y: upwards(values, `${tensionName}, ${station}`),
            marks: [
              ...shade(),
              Plot.ruleY([0]),
              ...s.bothSides.map(([side, stroke]) => Plot.line(series(side, station), {...xy, ...s.pen(stroke)})),
              ...mark(pair.present, station, ink.orange, {width, below: below(pair.present, width)}),
              ...mark(pair.candidate, station, ink.blue, {width, below: below(pair.candidate, width)}),
            ],
          })),
          drawing(`Candidate minus present at the ${station} over storage, with a line at zero.`, (width) => ({
            height: 280,
            marginRight: right,
            x: along(width),
            y: {
              label: axis("Candidate minus present", "tension"),
              domain: differenceExtent(difference).map((v) => shown(v, "tension")),
              grid: true,
              labelAnchor: "center",
              labelArrow: "none",
              ticks: 5,
            },
            marks: [
              ...shade(),
              zeroLine("y"),
              Plot.line(
                difference.map((v, i) => ({at: time.place(times[i]), value: shown(v, "tension")})),
                {...xy, stroke: ink.black, strokeWidth: 2, className: "difference"},
              ),
            ],
          })),
          ...(steady
            ? []
            : [
                warmth(
                  same
                    ? [[pair.candidate, {stroke: ink.black, strokeWidth: 2}]]
                    : s.bothSides.map(([side, k]) => [side, s.pen(k, 2)]),
                ),
              ]),
        ],
      },
    ],
    caption: ["Rings mark the weakest moments. ", caption(done)],
    tables: s.perSide(numbers, () =>
      table(
        "Candidate minus present",
        [{head: "Time", numeric: true}, ...stations.map((n) => ({head: [n, unit("tension")] as Child, numeric: true}))],
        times.map((_, i) => [
          q(`${s.apart(pair.candidate, "over_time/time_s")}/${i}`, "time"),
          ...stations.map((n) => q(`${s.apart(pair.candidate, `over_time/${n}_N_per_m`)}/${i}`, "tension", true)),
        ]),
      ),
    ),
  };
}

/** One small panel per candidate: its weakest station, with the same station of the present wrap. */
function small(): Picture {
  const values = s.all(done.flatMap((side) => stations.map((n) => place(side, `${n}_N_per_m`))));
  const draw =
    (side: Side): Draw =>
    (width) => {
      const station = s.leastStation(side, "weakest");
      const x = along(width, {margin: 44});
      return {
        height: 150,
        marginLeft: 44,
        marginRight: right,
        marginBottom: 24,
        x: {...x, label: null},
        y: {...upwards(values, tensionName), ...onTop, ticks: 4},
        marks: [
          ...shade(),
          Plot.ruleY([0]),
          s.present ? Plot.line(series(s.present, station), {...xy, ...s.pen(s.presentStroke, 2)}) : null,
          Plot.line(series(side, station), {...xy, ...s.pen(s.candidateStroke, 2)}),
          ...mark(side, station, ink.blue),
        ],
      };
    };
  const held = (side: Side): string => weakest(side, s.leastStation(side, "weakest"), "hoop_tension_N_per_m");
  const unsteady = done.find((side) => !isSteady(side));
  return {
    id: "over-time",
    wide: true,
    title: [
      "At its weakest moment and station a candidate holds ",
      s.rangeOf(s.candidates, held, "tension"),
      s.present ? ["; the present wrap ", q(held(s.present), "tension")] : "",
    ],
    keys: s.present ? s.bothKeys : undefined,
    layout: "small",
    panels: [
      ...s.candidates.map((side) => ({
        name: `${label(side)}: ${s.leastStation(side, "weakest")}`,
        drawings: [
          drawing(
            `Hoop tension of ${label(side)} at its weakest station over storage beside the present wrap.`,
            draw(side),
          ),
        ],
      })),
      ...(unsteady
        ? [
            {
              name: `temperature of ${label(unsteady)}`,
              drawings: [warmth([[unsteady, {stroke: ink.black, strokeWidth: 2}]])],
            },
          ]
        : []),
    ],
    caption: [
      "Each candidate at its weakest station, named above its panel; rings mark the weakest moments. ",
      caption(done),
    ],
    tables: s.perSide(numbers),
  };
}

const numbers = (side: Side): Child =>
  table(
    s.captionOf(side, "Hoop tension over storage"),
    [
      {head: "Time", numeric: true},
      {head: ["Temperature", unit("celsius")], numeric: true},
      ...stations.map((n) => ({head: [n, unit("tension")] as Child, numeric: true})),
    ],
    list(place(side, "time_s")).map((_, i) => [
      q(`${place(side, "time_s")}/${i}`, "time"),
      q(`${place(side, "temperature_C")}/${i}`, "celsius", true),
      ...stations.map((n) => q(`${place(side, `${n}_N_per_m`)}/${i}`, "tension", true)),
    ]),
  );

/** Nothing without storage. */
export const overTime = (): Picture | null =>
  !anyStored ? null : s.pair ? both(s.pair) : s.several ? small() : single();
