// SPDX-License-Identifier: BSD-3-Clause
// Samples with words for what the drawing shows beside the scale.
import {h} from "./dom";
import {ink} from "./load_object";
import {fills, path, svg} from "./load_svg";

export type LoadKey = HTMLElement;

function sample(make: (fill: {bare: string; loose: string}) => SVGElement, words: string): LoadKey {
  const fill = fills();
  const box = svg(
    "svg",
    {width: 26, height: 14, viewBox: "0 0 26 14", "aria-hidden": "true"},
    fill.definitions,
    make(fill),
  );
  return h("li", {}, box, h("span", {}, words));
}

const box = {x: 0.5, y: 0.5, width: 25, height: 13, stroke: ink, "stroke-width": 1};
export const bareKey = (words: string): LoadKey => sample((fill) => svg("rect", {...box, fill: fill.bare}), words);
export const looseKey = (words: string): LoadKey => sample((fill) => svg("rect", {...box, fill: fill.loose}), words);
export const layersKey = (words: string): LoadKey =>
  sample(
    () =>
      svg("path", {
        d: path([
          [2, 13],
          [10, 13],
          [10, 9],
          [22, 9],
          [22, 5],
          [14, 5],
          [14, 1],
          [2, 1],
        ]),
        fill: "#dfe4e8",
        stroke: ink,
        "stroke-width": 1,
      }),
    words,
  );
