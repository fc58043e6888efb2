// A pair of team colors on every panel and in gray, each as the graphic will draw it.

import { fitToPlate, parseColor } from "../colors.js";
import { html } from "../html.js";
import { GROUNDS, colorWords, grayOf } from "./team-colors.js";

const SWATCHES = GROUNDS.flatMap(({ name, color }) => [
  { name, ground: color, gray: false },
  ...(name === "text with a dark rim" ? [] : [{ name: `${name}, in gray`, ground: color, gray: true }]),
]);

/** The pair on every ground, each as the graphic will draw it. @param {string} a @param {string} b */
export function colorSample(a, b) {
  /** @param {{ ground: string, gray: boolean }} swatch @param {string} typed */
  const drawn = ({ ground, gray }, typed) => {
    const color = parseColor(typed);
    if (color === null) return ground;
    const fitted = fitToPlate(color, ground);
    return gray ? grayOf(fitted) : fitted;
  };
  /** @param {(typeof SWATCHES)[number]} swatch @param {"a" | "b"} team @param {string} typed */
  const shape = (swatch, team, typed) =>
    html`<span class="rt-shape" data-team=${team} style=${`background: ${drawn(swatch, typed)}`}></span>`;
  return html`<div class="color-sample">
    ${SWATCHES.map(
      (swatch) =>
        html`<span class="swatch">
          <span class="panel" style=${`background: ${swatch.ground}`}
            >${shape(swatch, "a", a)}${shape(swatch, "b", b)}</span
          >
          <span class="ground">${swatch.name}</span>
        </span>`,
    )}
    <ul class="color-words" aria-live="polite">
      ${colorWords(a, b).map((sentence) => html`<li>${sentence}</li>`)}
    </ul>
  </div>`;
}
