// SPDX-License-Identifier: BSD-3-Clause
// The pictures of where the tension comes from and where it goes. Each title states what the data say.
import * as Plot from "@observablehq/plot";
import {axis, type Draw, drawing, extent, figure, ink, type Picture, shown, stationStroke} from "./chart";
import {
  capital,
  done,
  faces,
  has,
  inputLabel,
  label,
  list,
  many,
  num,
  nums,
  outputName,
  outputWords,
  type Side,
  sides,
  stations,
  text,
} from "./data";
import {type Child, h, q, say, table, unit} from "./dom";

const detail = (side: Side): string => `${side.place}/detail`;
const finding = (side: Side, name: string): string => `${detail(side)}/findings/${name}`;
const all = (places: string[]): number[] => places.flatMap(nums);
// Names that several pictures use, as the program declares them.
const tensionName = capital(outputName("hoop_tension_N_per_m"));
const layersName = capital(outputName("film_layers"));
const spanName = capital(inputLabel("delivery.tension.force"));

function panels(draw: (side: Side) => HTMLElement[]): Picture["panels"] {
  return done.map((side) => ({name: many ? label(side) : undefined, drawings: draw(side)}));
}
/** Says whose numbers a title speaks of when there are several. */
const whose = (): Child => (many ? [`${label(done[0])}: `] : null);
const perSide =
  (make: (side: Side) => Child): (() => Child) =>
  () =>
    done.map((side) => make(side));
const captionOf = (side: Side, words_: string): string => (many ? `${label(side)}: ${words_}` : words_);

function overHeight(): Picture {
  const place = (side: Side, name: string): string => `${detail(side)}/over_height/${name}`;
  const top = extent(all(done.flatMap((s) => [place(s, "end_N_per_m/mean"), place(s, "after_storage_N_per_m/mean")])));
  const layers = extent(all(done.map((s) => place(s, "film_layers/mean"))));
  const heights = extent(done.map((s) => num(`${detail(s)}/load/height_m`) ?? NaN));
  const draw = (side: Side): HTMLElement[] => {
    const z = nums(place(side, "height_m"));
    const end = nums(place(side, "end_N_per_m/mean")),
      after = nums(place(side, "after_storage_N_per_m/mean"));
    const film = nums(place(side, "film_layers/mean"));
    const rows = (values: number[], scale: (v: number) => number) =>
      values.map((v, i) => ({x: scale(v), y: shown(z[i], "height")}));
    const y: Plot.ScaleOptions = {
      label: axis(capital(outputName("height_m")), "height"),
      domain: heights.map((v) => shown(v, "height")),
      grid: true,
      labelAnchor: "center",
      labelArrow: "none",
    };
    const tension: Draw = () => ({
      height: done.length > 2 ? 230 : 330,
      x: {
        label: axis(outputWords("containment/hoop_tension_N_per_m"), "tension"),
        domain: top.map((v) => shown(v, "tension")),
        labelAnchor: "center",
        labelArrow: "none",
        nice: true,
      },
      y,
      marks: [
        Plot.ruleX([0]),
        Plot.line(
          rows(end, (v) => shown(v, "tension")),
          {x: "x", y: "y", stroke: ink.grey, strokeWidth: 2, strokeDasharray: "6 3"},
        ),
        Plot.line(
          rows(after, (v) => shown(v, "tension")),
          {x: "x", y: "y", stroke: ink.blue, strokeWidth: 2.5},
        ),
      ],
    });
    const step: Draw = () => ({
      height: done.length > 2 ? 230 : 330,
      x: {
        label: outputWords("containment/film_layers"),
        domain: layers,
        labelAnchor: "center",
        labelArrow: "none",
        nice: true,
      },
      y,
      marks: [
        Plot.ruleX([0]),
        Plot.areaX(
          rows(film, (v) => v),
          {x: "x", y: "y", fill: "#d8dee2"},
        ),
        Plot.line(
          rows(film, (v) => v),
          {x: "x", y: "y", stroke: ink.black},
        ),
      ],
    });
    const compact = done.length > 2;
    return [
      drawing(
        `Hoop tension over the height of ${many ? label(side) : "the load"}, at the end of wrapping and after storage.`,
        tension,
      ),
      ...(compact ? [] : [drawing(`Film layers over the height of ${many ? label(side) : "the load"}.`, step)]),
    ];
  };
  const first = done[0];
  return {
    id: "over-height",
    wide: true,
    title: [
      whose(),
      "After storage hoop tension is least at ",
      q(`${first.place}/summary/containment/after_storage/least/height_m`, "place"),
      " above the deck, on the ",
      say(`${first.place}/summary/containment/after_storage/least/face`),
      " face: ",
      q(`${first.place}/summary/containment/after_storage/least/hoop_tension_N_per_m`, "tension"),
    ],
    keys: [
      {name: "end of wrapping", colour: ink.grey, dash: "6 3"},
      {name: "after storage", colour: ink.blue, dash: ""},
    ],
    panels: panels(draw),
    caption:
      "Hoop tension is the force of all film layers per height of load. The curve follows the layers beside it; where the load gives, each further layer adds less than its share.",
    tables: perSide((side) =>
      table(
        captionOf(side, "Hoop tension and film layers over height"),
        [
          {head: ["Height", unit("height")], numeric: true},
          {head: ["End, mean of faces", unit("tension")], numeric: true},
          {head: ["After storage, mean", unit("tension")], numeric: true},
          ...faces.map((f) => ({head: [`After storage, ${f}`, unit("tension")] as Child, numeric: true})),
          {head: [layersName, ", mean"], numeric: true},
        ],
        list(place(side, "height_m")).map((_, i) => [
          q(`${place(side, "height_m")}/${i}`, "height", true),
          q(`${place(side, "end_N_per_m/mean")}/${i}`, "tension", true),
          q(`${place(side, "after_storage_N_per_m/mean")}/${i}`, "tension", true),
          ...faces.map((f) => q(`${place(side, `after_storage_N_per_m/${f}`)}/${i}`, "tension", true)),
          q(`${place(side, "film_layers/mean")}/${i}`, "count", true),
        ]),
      ),
    ),
  };
}

function faceMap(): Picture {
  const place = (side: Side, name: string): string => `${detail(side)}/over_height/${name}`;
  const range = extent(all(done.flatMap((s) => faces.map((f) => place(s, `after_storage_N_per_m/${f}`)))));
  const draw = (side: Side): HTMLElement[] => [
    drawing(
      `The four faces of ${many ? label(side) : "the load"} unrolled side by side; colour is hoop tension after storage over height.`,
      (width) => {
        const z = nums(place(side, "height_m"));
        const length = num(`${detail(side)}/load/length_m`) ?? 1,
          across = num(`${detail(side)}/load/width_m`) ?? 1;
        const tall = num(`${detail(side)}/load/height_m`) ?? 1;
        const half = tall / Math.max(1, z.length) / 2;
        const cells: {x1: number; x2: number; y1: number; y2: number; value: number}[] = [];
        const marks: {x: number; name: string}[] = [];
        let from = 0;
        for (const face of faces) {
          const to = from + (face === "front" || face === "back" ? across : length);
          marks.push({x: shown((from + to) / 2, "height"), name: face});
          nums(place(side, `after_storage_N_per_m/${face}`)).forEach((value, i) =>
            cells.push({
              x1: shown(from, "height"),
              x2: shown(to, "height"),
              y1: shown(z[i] - half, "height"),
              y2: shown(z[i] + half, "height"),
              value: shown(value, "tension"),
            }),
          );
          from = to;
        }
        const edges = [0, across, across + length, 2 * across + length, 2 * across + 2 * length].map((v) =>
          shown(v, "height"),
        );
        return {
          height: Math.min(430, Math.max(190, Math.round(((width - 80) * tall) / (2 * across + 2 * length)) + 110)),
          marginTop: 26,
          x: {
            label: axis("Distance along the unrolled perimeter", "height"),
            labelAnchor: "center",
            labelArrow: "none",
          },
          y: {
            label: axis("Height", "height"),
            labelAnchor: "center",
            labelArrow: "none",
            domain: [0, shown(tall, "height")],
          },
          color: {
            scheme: "cividis",
            domain: range.map((v) => shown(v, "tension")),
            label: axis(`${tensionName} after storage`, "tension"),
          },
          marks: [
            Plot.rect(cells, {
              x1: "x1",
              x2: "x2",
              y1: "y1",
              y2: "y2",
              fill: "value",
              stroke: "value",
              strokeWidth: 0.4,
            }),
            Plot.ruleX(edges, {stroke: "#ffffff", strokeWidth: 1.5}),
            Plot.text(marks, {x: "x", text: "name", frameAnchor: "top", dy: -14, fontWeight: 600}),
          ],
        };
      },
    ),
  ];
  const first = done[0];
  const same = Math.abs(num(finding(first, "face_difference")) ?? 0) < 0.01;
  return {
    id: "faces",
    wide: true,
    title: same
      ? [whose(), "All four faces carry the same tension within one percent"]
      : [
          whose(),
          "The ",
          say(finding(first, "weakest_face")),
          " face carries ",
          q(finding(first, "face_difference"), "size"),
          " less than the ",
          say(finding(first, "strongest_face")),
          " face",
        ],
    panels: panels(draw),
    caption: [
      colourKey(range),
      "Faces seen from outside, in the order front, left, back, right. Dark is low tension, bright is high tension.",
      h("pre", {class: "sketch", tabindex: "0"}, text("face_sketch")),
    ],
    tables: perSide((side) =>
      table(
        captionOf(side, "Hoop tension after storage by face, mean over the height"),
        [
          {head: "Face"},
          {head: ["Mean over height", unit("tension")], numeric: true},
          ...stations.map((s) => ({head: [s, unit("tension")] as Child, numeric: true})),
        ],
        faces.map((f) => [
          f,
          q(`${detail(side)}/face_means_N_per_m/${f}`, "tension", true),
          ...stations.map((s) =>
            q(`${side.place}/summary/containment/after_storage/${s}/faces/${f}/hoop_tension_N_per_m`, "tension", true),
          ),
        ]),
      ),
    ),
  };
}

function colourKey(range: [number, number]): HTMLElement {
  const holder = h("div", {class: "colour-key"});
  const render = (): void => {
    const legend = Plot.legend({
      color: {
        scheme: "cividis",
        domain: range.map((v) => shown(v, "tension")),
        label: axis(`${tensionName} after storage`, "tension"),
      },
      width: 280,
    });
    legend.setAttribute("role", "img");
    legend.setAttribute("aria-label", "Colour scale of the map");
    holder.replaceChildren(legend);
  };
  render();
  addEventListener("unitschanged", render);
  return holder;
}

function buildUp(): Picture {
  const place = (side: Side, name: string): string => `${detail(side)}/buildup/${name}`;
  const high = extent(
    all(done.flatMap((s) => [place(s, "middle/hoop_tension_N_per_m"), place(s, "middle/as_laid_N_per_m")])),
  );
  const highLayer = extent(
    all(done.flatMap((s) => [place(s, "layers/as_laid_N_per_m"), place(s, "layers/end_N_per_m")])),
  );
  const draw = (side: Side): HTMLElement[] => {
    const turn = nums(place(side, "turn"));
    const rows = nums(place(side, "middle/hoop_tension_N_per_m")).map((v, i) => ({
      turn: turn[i],
      now: shown(v, "tension"),
      laid: shown(nums(place(side, "middle/as_laid_N_per_m"))[i], "tension"),
    }));
    const layers = nums(place(side, "layers/end_N_per_m")).map((v, i) => ({
      layer: i + 1,
      now: shown(v, "tension"),
      laid: shown(nums(place(side, "layers/as_laid_N_per_m"))[i], "tension"),
    }));
    const growth: Draw = () => ({
      height: done.length > 2 ? 220 : 280,
      x: {label: "Turns wound", labelAnchor: "center", labelArrow: "none", domain: [0, Math.max(...turn, 1)]},
      y: {
        label: axis(`${tensionName} at the middle`, "tension"),
        labelAnchor: "center",
        labelArrow: "none",
        domain: high.map((v) => shown(v, "tension")),
        grid: true,
        nice: true,
      },
      marks: [
        Plot.areaY(rows, {x: "turn", y1: "now", y2: "laid", fill: "#f0d9c8"}),
        Plot.line(rows, {x: "turn", y: "laid", stroke: ink.grey, strokeDasharray: "6 3", strokeWidth: 2}),
        Plot.line(rows, {x: "turn", y: "now", stroke: ink.orange, strokeWidth: 2.5}),
        Plot.dot(rows, {x: "turn", y: "now", fill: ink.orange, r: 2}),
      ],
    });
    const single: Draw = () => ({
      height: done.length > 2 ? 220 : 280,
      x: {
        label: "Film layer, 1 lies on the load",
        labelAnchor: "center",
        labelArrow: "none",
        type: "band",
        tickSize: 0,
      },
      y: {
        label: axis("Tension of the layer", "tension"),
        labelAnchor: "center",
        labelArrow: "none",
        domain: highLayer.map((v) => shown(v, "tension")),
        grid: true,
        nice: true,
      },
      marks: [
        Plot.barY(layers, {x: "layer", y: "now", fill: ink.orange, inset: 2}),
        Plot.tickY(layers, {x: "layer", y: "laid", stroke: ink.black, strokeWidth: 2.5}),
        Plot.ruleY([0]),
      ],
    });
    return [
      drawing(
        `Hoop tension at the middle of ${many ? label(side) : "the load"} after each turn, below the sum of what the film carried when it was laid.`,
        growth,
      ),
      ...(done.length > 2
        ? []
        : [
            drawing(
              "Tension of each film layer at the middle at the end of wrapping, against what it had when it was laid.",
              single,
            ),
          ]),
    ];
  };
  const first = done[0];
  const loss = num(finding(first, "buildup_loss")) ?? 0;
  return {
    id: "build-up",
    wide: true,
    title:
      loss > 0.005
        ? [
            whose(),
            "When wrapping ends, older layers have lost ",
            q(finding(first, "buildup_loss"), "share"),
            " of the tension they were laid with",
          ]
        : [whose(), "The film keeps the tension it was laid with until wrapping ends"],
    keys: [
      {name: outputName("hoop_tension_N_per_m"), colour: ink.orange, dash: ""},
      {name: "sum as laid", colour: ink.grey, dash: "6 3"},
    ],
    panels: panels(draw),
    caption:
      "Every new turn closes the load a little and slackens the film under it, and film relaxes from the moment it is laid. The shaded gap is the loss of older layers; in the bars, the black mark is the tension of each layer when it was laid.",
    tables: perSide((side) => [
      table(
        captionOf(side, "Hoop tension after each turn"),
        [
          {head: "Turn", numeric: true},
          ...stations.flatMap((s) => [
            {head: [s, unit("tension")] as Child, numeric: true},
            {head: [`${s}, sum as laid`, unit("tension")] as Child, numeric: true},
          ]),
        ],
        list(place(side, "turn")).map((_, i) => [
          q(`${place(side, "turn")}/${i}`, "count", true),
          ...stations.flatMap((s) => [
            q(`${place(side, `${s}/hoop_tension_N_per_m`)}/${i}`, "tension", true),
            q(`${place(side, `${s}/as_laid_N_per_m`)}/${i}`, "tension", true),
          ]),
        ]),
      ),
      table(
        captionOf(side, "Film layers at the middle, end of wrapping"),
        [
          {head: "Layer", numeric: true},
          {head: ["As laid", unit("tension")], numeric: true},
          {head: ["End of wrapping", unit("tension")], numeric: true},
        ],
        list(place(side, "layers/end_N_per_m")).map((_, i) => [
          h("span", {"data-count": true}, String(i + 1)),
          q(`${place(side, "layers/as_laid_N_per_m")}/${i}`, "tension", true),
          q(`${place(side, "layers/end_N_per_m")}/${i}`, "tension", true),
        ]),
      ),
    ]),
  };
}

function spanForce(): Picture {
  const place = (side: Side, name: string): string => `${detail(side)}/span/${name}`;
  const range = extent([
    ...all(done.map((s) => place(s, "force_N"))),
    ...done.map((s) => num(`${s.place}/summary/span/force_set_N`) ?? NaN),
  ]);
  const draw = (side: Side): HTMLElement[] => [
    drawing(`Span force over one settled turn of ${many ? label(side) : "the load"} against the set force.`, () => {
      const angle = nums(place(side, "angle_deg"));
      const rows = nums(place(side, "force_N")).map((v, i) => ({angle: angle[i], force: shown(v, "force")}));
      const set = shown(num(`${side.place}/summary/span/force_set_N`) ?? NaN, "force");
      return {
        height: 260,
        x: {
          label: axis("Rotation of the load", "angle"),
          domain: [0, 360],
          ticks: [0, 90, 180, 270, 360],
          labelAnchor: "center",
          labelArrow: "none",
        },
        y: {
          label: axis(spanName, "force"),
          domain: range.map((v) => shown(v, "force")),
          grid: true,
          nice: true,
          labelAnchor: "center",
          labelArrow: "none",
        },
        marks: [
          Plot.ruleY([set], {stroke: ink.grey, strokeDasharray: "6 3", strokeWidth: 2}),
          Plot.line(rows, {x: "angle", y: "force", stroke: ink.blue, strokeWidth: 2.5}),
        ],
      };
    }),
  ];
  const first = done[0];
  const steady = (num(finding(first, "span_swing")) ?? 0) < 0.005;
  return {
    id: "span",
    title: steady
      ? [
          whose(),
          "The span holds the set force of ",
          q(`${first.place}/summary/span/force_set_N`, "force"),
          " throughout the turn",
        ]
      : [
          whose(),
          "The span force deviates from the set ",
          q(`${first.place}/summary/span/force_set_N`, "force"),
          " by up to ",
          q(finding(first, "span_swing"), "share"),
          " within a turn",
        ],
    keys: [
      {name: inputLabel("delivery.tension.force"), colour: ink.blue, dash: ""},
      {name: "set force", colour: ink.grey, dash: "6 3"},
    ],
    panels: panels(draw),
    caption:
      "A turning rectangle takes film up unevenly. How much the force varies depends on the control of the delivery; control \u201cconstant\u201d assumes a delivery without lag.",
    tables: perSide((side) =>
      table(
        captionOf(side, "Span force over one settled turn"),
        [
          {head: ["Angle", unit("angle")], numeric: true},
          {head: [spanName, unit("force")], numeric: true},
          {head: [capital(outputName("span/take_up_speed_m_per_s")), unit("speed")], numeric: true},
        ],
        list(place(side, "angle_deg")).map((_, i) => [
          q(`${place(side, "angle_deg")}/${i}`, "angle", true),
          q(`${place(side, "force_N")}/${i}`, "force", true),
          q(`${place(side, "take_up_speed_m_per_s")}/${i}`, "speed", true),
        ]),
      ),
    ),
  };
}

function overTime(): Picture {
  const place = (side: Side, name: string): string => `${detail(side)}/over_time/${name}`;
  const range = extent(all(done.flatMap((s) => stations.map((n) => place(s, `${n}_N_per_m`)))));
  const warm = extent(all(done.map((s) => place(s, "temperature_C"))), false);
  const pad = Math.max(1, 0.1 * (warm[1] - warm[0]));
  const start = 0.5; // s; time 0 has no place on a logarithmic axis and is drawn at its edge
  const draw = (side: Side): HTMLElement[] => {
    const time = nums(place(side, "time_s"));
    const end = Math.max(...time, 10);
    const marks_ = [
      [1, "1 s"],
      [60, "1 min"],
      [3600, "1 h"],
      [86400, "1 d"],
      [604800, "7 d"],
      [2592000, "30 d"],
      [31536000, "1 a"],
    ] as [number, string][];
    const ticks = marks_.filter(([t]) => t <= end * 1.001);
    // A linear axis of logarithms: the logarithmic one would drop labels that are no powers of ten.
    const x: Plot.ScaleOptions = {
      domain: [Math.log10(start), Math.log10(end)],
      label: capital(outputName("time_s")),
      labelAnchor: "center",
      labelArrow: "none",
      ticks: ticks.map(([t]) => Math.log10(t)),
      tickFormat: (t: number) => marks_.find(([v]) => Math.abs(Math.log10(v) - t) < 1e-9)?.[1] ?? "",
    };
    const tension: Draw = () => ({
      height: 260,
      x,
      marginRight: 24,
      y: {
        label: axis(tensionName, "tension"),
        domain: range.map((v) => shown(v, "tension")),
        grid: true,
        nice: true,
        labelAnchor: "center",
        labelArrow: "none",
      },
      marks: stations.flatMap((s) => {
        const rows = nums(place(side, `${s}_N_per_m`)).map((v, i) => ({
          time: Math.log10(Math.max(start, time[i])),
          value: shown(v, "tension"),
        }));
        const stroke = stationStroke[s];
        return [
          Plot.line(rows, {
            x: "time",
            y: "value",
            stroke: stroke.colour,
            strokeWidth: 2.5,
            strokeDasharray: stroke.dash || undefined,
          }),
        ];
      }),
    });
    const temperature: Draw = () => ({
      height: 165,
      x,
      marginRight: 24,
      y: {
        label: axis("Temperature", "celsius"),
        domain: [shown(warm[0] - pad, "celsius"), shown(warm[1] + pad, "celsius")],
        ticks: 4,
        grid: true,
        labelAnchor: "center",
        labelArrow: "none",
      },
      marks: [
        Plot.line(
          nums(place(side, "temperature_C")).map((v, i) => ({
            time: Math.log10(Math.max(start, time[i])),
            value: shown(v, "celsius"),
          })),
          {x: "time", y: "value", stroke: ink.black, strokeWidth: 2},
        ),
      ],
    });
    const both = h(
      "div",
      {},
      drawing(
        `Hoop tension at top, middle and bottom of ${many ? label(side) : "the load"} over storage, time on a logarithmic axis.`,
        tension,
      ),
      drawing("Storage temperature over the same time.", temperature),
    );
    return [both];
  };
  const first = done[0];
  const half = num(finding(first, "weakest_half_time_s"));
  return {
    id: "over-time",
    title:
      half !== null
        ? [
            whose(),
            "Half of the tension that the ",
            say(finding(first, "weakest_station")),
            " loses in storage is gone after ",
            q(finding(first, "weakest_half_time_s"), "time"),
          ]
        : [
            whose(),
            "Storage changes the ",
            say(finding(first, "weakest_station")),
            " by ",
            q(finding(first, "weakest_change"), "change"),
          ],
    keys: stations.map((s) => stationStroke[s]),
    panels: panels(draw),
    caption:
      "Film relaxes and the load creeps, both in proportion to the logarithm of time; the left edge is the moment at which wrapping ends. Higher temperature speeds up both; the temperature history is shown below.",
    tables: perSide((side) =>
      table(
        captionOf(side, "Hoop tension over storage"),
        [
          {head: "Time", numeric: true},
          {head: ["Temperature", unit("celsius")], numeric: true},
          ...stations.map((s) => ({head: [s, unit("tension")] as Child, numeric: true})),
        ],
        list(place(side, "time_s")).map((_, i) => [
          q(`${place(side, "time_s")}/${i}`, "time"),
          q(`${place(side, "temperature_C")}/${i}`, "celsius", true),
          ...stations.map((s) => q(`${place(side, `${s}_N_per_m`)}/${i}`, "tension", true)),
        ]),
      ),
    ),
  };
}

const pointNames: {[name: string]: string} = {
  prestretch: "pre-stretch",
  on_load: "on the load",
  after_storage: "after storage, middle",
};

function stiffness(): Picture {
  const place = (side: Side, name: string): string => `${detail(side)}/film/${name}`;
  const curveCount = (side: Side): number => list(place(side, "curves")).length;
  const dashes = ["", "7 3", "2 3"];
  const range = extent(
    done.flatMap((s) => [
      ...list(place(s, "curves")).flatMap((_, i) => nums(place(s, `curves/${i}/force_N`))),
      ...list(place(s, "points")).map((_, i) => num(place(s, `points/${i}/force_N`)) ?? NaN),
    ]),
  );
  const reach = extent(
    done.flatMap((s) => [
      ...list(place(s, "curves")).flatMap((_, i) => nums(place(s, `curves/${i}/stretch_percent`))),
      ...list(place(s, "points")).map((_, i) => num(place(s, `points/${i}/stretch_high_percent`)) ?? NaN),
    ]),
  );
  const draw = (side: Side): HTMLElement[] => [
    drawing(
      `Force of the whole film width over stretch for ${many ? label(side) : "the film"}, pulled fast and slowly, with the places of pre-stretch, lay-down and storage.`,
      (width) => {
        const points = list(place(side, "points")).map((_, i) => ({
          name: pointNames[text(place(side, `points/${i}/name`))] ?? "",
          x: num(place(side, `points/${i}/stretch_percent`)) ?? NaN,
          low: num(place(side, `points/${i}/stretch_low_percent`)) ?? NaN,
          high: num(place(side, `points/${i}/stretch_high_percent`)) ?? NaN,
          y: shown(num(place(side, `points/${i}/force_N`)) ?? NaN, "force"),
        }));
        const curves = list(place(side, "curves")).map((_, i) =>
          nums(place(side, `curves/${i}/force_N`)).map((v, k) => ({
            x: nums(place(side, `curves/${i}/stretch_percent`))[k],
            y: shown(v, "force"),
          })),
        );
        const symbols: {[name: string]: Plot.SymbolType} = {
          "pre-stretch": "square",
          "on the load": "circle",
          "after storage, middle": "triangle",
        };
        return {
          height: 300,
          marginRight: 20,
          symbol: {legend: false},
          x: {
            label: axis("Stretch", "percent"),
            domain: [0, reach[1]],
            labelAnchor: "center",
            labelArrow: "none",
            nice: true,
          },
          y: {
            label: axis("Force of the whole width", "force"),
            domain: range.map((v) => shown(v, "force")),
            grid: true,
            nice: true,
            labelAnchor: "center",
            labelArrow: "none",
          },
          marks: [
            ...curves.map((rows, i) =>
              Plot.line(rows, {
                x: "x",
                y: "y",
                stroke: i === 0 ? ink.blue : ink.grey,
                strokeWidth: 2,
                strokeDasharray: dashes[i] || undefined,
              }),
            ),
            Plot.ruleY(points, {x1: "low", x2: "high", y: "y", stroke: ink.orange, strokeWidth: 2}),
            Plot.dot(points, {
              x: "x",
              y: "y",
              symbol: (p: {name: string}) => symbols[p.name] ?? "circle",
              fill: ink.orange,
              stroke: "#ffffff",
              r: 6,
            }),
            // The labels stand left of their points: to the right the film ends.
            Plot.text(points, {
              x: "x",
              y: "y",
              text: "name",
              textAnchor: "end",
              dx: -10,
              dy: 13,
              fill: ink.black,
              stroke: "#ffffff",
              strokeWidth: 4,
              fontSize: width < 360 ? 11 : 12,
            }),
          ],
        };
      },
    ),
  ];
  const first = done[0];
  return {
    id: "stiffness",
    title: [
      whose(),
      (num(finding(first, "stretch_given_back_percent")) ?? 0) < 0
        ? "The span stretches the film further by "
        : "The film gives back ",
      q(finding(first, "stretch_given_back_percent"), "points"),
      " of stretch behind the rollers and reaches ",
      q(`${first.place}/summary/film/stretch_on_load_percent`, "percent"),
    ],
    keys:
      many || curveCount(first) === 0
        ? undefined
        : list(place(first, "curves")).map((_, i) => ({
            name: "",
            words: ["pulled at ", q(place(first, `curves/${i}/rate_per_s`), "rate")],
            colour: i === 0 ? ink.blue : ink.grey,
            dash: dashes[i],
          })),
    panels: panels(draw),
    caption:
      "Curves: film from the roll pulled at a constant rate, free to narrow (the first at the mean rate of the draw, the second slowly). Marks: the film of this wrap. Between the rollers the film keeps its width, warms up and is drawn at a constant force, so its mark need not lie on a curve. The bar after storage spans the film layers.",
    tables: perSide((side) => [
      table(
        captionOf(side, "Working points"),
        [
          {head: "Where"},
          {head: ["Stretch", unit("percent")], numeric: true},
          {head: ["least", unit("percent")], numeric: true},
          {head: ["most", unit("percent")], numeric: true},
          {head: ["Force of the whole width", unit("force")], numeric: true},
        ],
        list(place(side, "points")).map((_, i) => [
          pointNames[text(place(side, `points/${i}/name`))],
          q(place(side, `points/${i}/stretch_percent`), "percent", true),
          q(place(side, `points/${i}/stretch_low_percent`), "percent", true),
          q(place(side, `points/${i}/stretch_high_percent`), "percent", true),
          q(place(side, `points/${i}/force_N`), "force", true),
        ]),
      ),
      ...list(place(side, "curves")).map((_, i) =>
        table(
          [
            captionOf(side, "Pulled at "),
            q(place(side, `curves/${i}/rate_per_s`), "rate"),
            " and ",
            q(place(side, `curves/${i}/temperature_C`), "celsius"),
          ],
          [
            {head: ["Stretch", unit("percent")], numeric: true},
            {head: ["Force", unit("force")], numeric: true},
          ],
          list(place(side, `curves/${i}/force_N`)).map((_, k) => [
            q(`${place(side, `curves/${i}/stretch_percent`)}/${k}`, "percent", true),
            q(`${place(side, `curves/${i}/force_N`)}/${k}`, "force", true),
          ]),
        ),
      ),
    ]),
  };
}

function zones(): Picture {
  const place = (side: Side): string => `${detail(side)}/zones`;
  const range = extent(done.flatMap((s) => list(place(s)).map((_, i) => num(`${place(s)}/${i}/mass_kg`) ?? NaN)));
  const draw = (side: Side): HTMLElement[] => [
    drawing(`Film mass in each part of the wrap of ${many ? label(side) : "the load"}.`, (width) => {
      const rows = list(place(side)).map((_, i) => ({
        name: text(`${place(side)}/${i}/name`),
        mass: shown(num(`${place(side)}/${i}/mass_kg`) ?? 0, "mass"),
        above: shown(num(`${place(side)}/${i}/above_top_kg`) ?? 0, "mass"),
      }));
      return {
        height: 60 + 34 * rows.length,
        marginLeft: width < 380 ? 106 : 140,
        x: {
          label: axis("Film mass", "mass"),
          domain: range.map((v) => shown(v, "mass")),
          grid: true,
          nice: true,
          labelAnchor: "center",
          labelArrow: "none",
        },
        y: {label: null, domain: rows.map((r) => r.name), tickSize: 0},
        marks: [
          Plot.barX(rows, {x: "mass", y: "name", fill: ink.green, inset: 3}),
          Plot.barX(
            rows.filter((r) => r.above > 0),
            {x: "above", y: "name", fill: ink.purple, inset: 3},
          ),
          Plot.ruleX([0]),
        ],
      };
    }),
  ];
  const first = done[0];
  return {
    id: "zones",
    title: [
      whose(),
      "The ",
      say(finding(first, "largest_zone")),
      " takes ",
      q(finding(first, "largest_zone_share"), "share"),
      " of the film",
    ],
    keys: [
      {name: "film on the load", colour: ink.green, dash: ""},
      {name: "part above the top edge", colour: ink.purple, dash: ""},
    ],
    panels: panels(draw),
    caption: "Parts of the wrap in the order they are laid. They add up to the film mass per load.",
    tables: perSide((side) =>
      table(
        captionOf(side, "Film mass by part of the wrap"),
        [
          {head: "Part"},
          {head: outputWords("pattern/turns"), numeric: true},
          {head: ["Mass", unit("mass")], numeric: true},
          {head: ["Share", unit("share")], numeric: true},
          {head: ["Above the top edge", unit("mass")], numeric: true},
        ],
        list(place(side)).map((_, i) => [
          say(`${place(side)}/${i}/name`),
          q(`${place(side)}/${i}/turns`, "count", true),
          q(`${place(side)}/${i}/mass_kg`, "mass", true),
          q(`${place(side)}/${i}/share`, "share", true),
          q(`${place(side)}/${i}/above_top_kg`, "mass", true),
        ]),
      ),
    ),
  };
}

export function pictures(): HTMLElement[] {
  if (done.length === 0)
    return [
      h(
        "p",
        {},
        `${sides.length === 1 ? "This prediction" : "No side"} could be computed, so there is nothing to draw.`,
      ),
    ];
  const made = [overHeight(), faceMap(), buildUp(), spanForce(), overTime(), stiffness(), zones()].filter(
    (p) => p.panels.length > 0 && has(`${done[0].place}/detail`),
  );
  for (const p of made) if (many) p.wide = true;
  return made.map(figure);
}
