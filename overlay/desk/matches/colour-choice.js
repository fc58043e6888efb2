// Choosing team colours: how they will look on every plate and in grey, and what
// the graphic will correct. The graphic's own rule (shared/colours.js) decides.

import { SHAPE_CONTRAST, contrast, fitToPlate, luminance, parseColour } from "../../shared/colours.js";
import { make } from "../../shared/dom.js";
import { PLATE } from "../../shared/palette.js";

/** Where colors have to stand out: the plates of the look. */
export const GROUNDS = /** @type {const} */ ([
  { name: "dark plate", colour: PLATE.dark },
  { name: "light plate", colour: PLATE.light },
  { name: "text with a dark rim", colour: PLATE.text },
]);

/** Closer than this in lightness, two colours are one grey. */
const GREY_APART = 1.5;

/** @param {string} colour */
export function greyOf(colour) {
  const light = luminance(colour);
  const value = Math.round(255 * (light <= 0.0031308 ? light * 12.92 : 1.055 * light ** (1 / 2.4) - 0.055));
  return `#${value.toString(16).padStart(2, "0").repeat(3)}`;
}

/**
 * @param {string} a @param {string} b
 * @returns {string[]} what will be corrected, and what to mind
 */
export function colourWords(a, b) {
  const said = new Set();
  for (const [which, typed] of [
    ["first", a],
    ["second", b],
  ]) {
    const colour = parseColour(typed ?? "");
    if (colour === null) continue;
    for (const { name, colour: ground } of GROUNDS.slice(0, 2)) {
      const ratio = contrast(colour, ground);
      if (ratio >= SHAPE_CONTRAST) continue;
      const fitted = fitToPlate(colour, ground);
      said.add(
        `On the ${name} the ${which} team's colour would drown (${ratio.toFixed(1)} : 1, needed ${SHAPE_CONTRAST} : 1); it is drawn as ${fitted} there.`,
      );
    }
  }
  const pair = [parseColour(a), parseColour(b)];
  if (pair[0] != null && pair[1] != null && contrast(pair[0], pair[1]) < GREY_APART) {
    said.add(
      "In grey both look alike. Shapes still tell the teams apart (round and diamond), but two colours of different lightness are easier to see.",
    );
  }
  return said.size === 0 ? ["Both stand out from every plate as they are."] : [...said];
}

/** The pair on every ground, each as the graphic will draw it. */
export class ColourSample {
  #swatches = GROUNDS.flatMap(({ name, colour }) => [
    { name, ground: colour, grey: false },
    { name: `${name}, in grey`, ground: colour, grey: true },
  ])
    .filter(({ name }) => name !== "text with a dark rim, in grey")
    .map((one) => ({
      ...one,
      a: make("span", { class: "rt-shape", "data-team": "a" }),
      b: make("span", { class: "rt-shape", "data-team": "b" }),
    }));
  #words = make("ul", { class: "colour-words", "aria-live": "polite" });
  node = make(
    "div",
    { class: "colour-sample" },
    ...this.#swatches.map(({ name, ground, a, b }) => {
      const plate = make("span", { class: "plate" }, a, b);
      plate.style.background = ground;
      return make("span", { class: "swatch" }, plate, make("span", { class: "ground" }, name));
    }),
    this.#words,
  );

  /** @param {string} a @param {string} b */
  show(a, b) {
    for (const swatch of this.#swatches) {
      for (const [node, typed] of /** @type {const} */ ([
        [swatch.a, a],
        [swatch.b, b],
      ])) {
        const colour = parseColour(typed);
        const fitted = colour === null ? swatch.ground : fitToPlate(colour, swatch.ground);
        node.style.background = swatch.grey ? greyOf(fitted) : fitted;
      }
    }
    const said = colourWords(a, b);
    if (
      this.#words.childElementCount !== said.length ||
      said.join() !== [...this.#words.children].map((one) => one.textContent).join()
    ) {
      this.#words.replaceChildren(...said.map((sentence) => make("li", {}, sentence)));
    }
  }
}
