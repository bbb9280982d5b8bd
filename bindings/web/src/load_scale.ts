// SPDX-License-Identifier: BSD-3-Clause
// Steps of colour for hoop tension: few enough to be told apart and read off, round numbers at their edges.
import {type DrawingFormat, type DrawnLoad, ink, letters, quietInk} from "./load_object";
import {svg, textWidth} from "./load_svg";

/**
 * From straw through green to indigo. Lightness falls in equal steps, so that order is kept in grey and for every kind
 * of colour vision. One row for each number of steps.
 */
const ramps: {[count: number]: string[]} = {
  5: ["#faeeb3", "#7acf8e", "#009c99", "#006284", "#222d4d"],
  6: ["#faeeb3", "#98d68f", "#11b498", "#008493", "#005781", "#222d4d"],
  7: ["#faeeb3", "#abdb91", "#3ec293", "#009c99", "#00758d", "#054f7c", "#222d4d"],
};
const fewest = 5,
  most = 7;

export interface Steps {
  bounds: number[]; // in the unit shown, one more than there are colours
  colours: string[];
  of: (tension: number) => number; // step of a tension in N/m
}

// Sizes of a step; the further down, the harder to count in.
const sizes = [
  [1, 2, 5],
  [2.5, 4],
  [1.5, 3, 1.25],
  [1.2, 6, 8],
];
const forFew = 3; // rows that six or seven steps are worth against five

/** Round bounds of five to seven steps that hold a range. */
function roundBounds(low: number, high: number): number[] {
  const middle = Math.abs(low + high) / 2 || 1;
  if (!(high - low > 1e-3 * middle)) [low, high] = [low - 0.02 * middle, high + 0.02 * middle];
  const power = 10 ** Math.floor(Math.log10((high - low) / most));
  let best: number[] = [],
    least = Infinity;
  sizes.forEach((row, hardness) => {
    for (const size of row)
      for (const step of [size * power, 10 * size * power]) {
        const from = Math.floor(low / step + 1e-9),
          count = Math.ceil(high / step - 1e-9) - from;
        const cost = hardness + (count === fewest ? forFew : 0);
        if (count < fewest || count > most || cost >= least) continue;
        least = cost;
        best = Array.from({length: count + 1}, (_, i) => Number(((from + i) * step).toPrecision(12)));
      }
  });
  if (best.length > 0) return best;
  return Array.from({length: fewest + 1}, (_, i) => low + ((high - low) * i) / fewest);
}

export function stepsOf(load: DrawnLoad, format: DrawingFormat): Steps {
  const bounds = roundBounds(format.tension(load.scale[0]), format.tension(load.scale[1]));
  const count = bounds.length - 1,
    step = (bounds[count] - bounds[0]) / count;
  return {
    bounds,
    colours: ramps[count],
    of: (tension) => Math.max(0, Math.min(count - 1, Math.floor((format.tension(tension) - bounds[0]) / step + 1e-9))),
  };
}

/** The steps in a row with the numbers at their edges. */
export function scaleDrawing(load: DrawnLoad, format: DrawingFormat): SVGElement {
  const {bounds, colours} = stepsOf(load, format);
  const words = bounds.map(format.number);
  const side = Math.ceil(Math.max(textWidth(words[0], format), textWidth(words[words.length - 1], format)) / 2) + 2;
  const width = Math.min(format.width, 360);
  const cell = (width - 2 * side) / colours.length;
  // Numbers that would touch are left out, the first and the last never.
  const widest = Math.max(...words.map((word) => textWidth(word, format))) + 6;
  const every = Math.max(1, Math.ceil(widest / cell));
  const top = letters + 6,
    bar = 12;
  const height = top + bar + letters + 6;
  return svg(
    "svg",
    {
      viewBox: `0 0 ${width} ${height}`,
      width,
      height,
      class: "load-scale",
      role: "img",
      "aria-label": `Scale of ${format.tensionName}, ${format.tensionUnit}: ${words.join(", ")}`,
      "data-bounds": bounds.join(" "),
      "font-size": letters,
    },
    svg("text", {x: side, y: letters, fill: quietInk}, `${format.tensionName}, ${format.tensionUnit}`),
    colours.map((colour, i) =>
      svg("rect", {
        x: side + i * cell,
        y: top,
        width: cell,
        height: bar,
        fill: colour,
        "data-step": i,
        stroke: ink,
        "stroke-width": 0.6,
      }),
    ),
    words.map((word, i) =>
      i % every === 0
        ? svg("text", {x: side + i * cell, y: top + bar + letters + 1, "text-anchor": "middle", fill: ink}, word)
        : null,
    ),
  );
}
