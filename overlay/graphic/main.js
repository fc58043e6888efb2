// The graphic laid over the video: wires the pieces asked for to the feed. What
// a piece looks like and says is the elements' business.

import "../elements/named-indicator.js";
import "../elements/rally-ribbon.js";
import "../elements/score-plate.js";
import "../elements/streak-moment.js";
import "../elements/tide-line.js";
import { RtElement } from "../elements/element.js";
import { readOptions } from "../shared/options.js";
import { dress, pageSource } from "../shared/page.js";
import { needStyles } from "../shared/styles.js";

/** @type {Record<import("../shared/options.js").Piece, { tag: string, place: string }>} */
const PIECES = {
  score: { tag: "rt-score-plate", place: "top-left" },
  moment: { tag: "rt-streak-moment", place: "top-left" },
  show: { tag: "rt-named-indicator", place: "top-right" },
  tide: { tag: "rt-tide-line", place: "bottom" },
  ribbon: { tag: "rt-rally-ribbon", place: "bottom" },
};

needStyles("graphic.css", import.meta.url);

const options = readOptions(location.href);
const colours = dress(options, document.documentElement);
// Browsers inside streaming programs differ; their log shall say which it is.
console.info(`graphic in ${navigator.userAgent}`);

const stage = document.querySelector(".stage");
/** @type {RtElement[]} */
const elements = [];
for (const piece of options.pieces) {
  const { tag, place } = PIECES[piece];
  // A moment goes where the score goes, unless it is sent elsewhere.
  const own = options.at[piece] ?? (piece === "moment" ? options.at.score : undefined);
  const box = placeAt(own ?? place);
  // One element a piece, but for `show`: one for each indicator named.
  for (const name of piece === "show" ? options.show : [""]) {
    const element = document.createElement(tag);
    if (name !== "") element.setAttribute("name", name);
    if (piece === "tide") element.toggleAttribute("beside-score", options.pieces.includes("score"));
    if (element instanceof RtElement) elements.push(element);
    box.append(element);
  }
}

pageSource(options, "viewer").subscribe((view) => {
  colours.follow(view.match);
  document.documentElement.dataset["connection"] = view.connection.phase;
  for (const element of elements) element.view = view;
});

/**
 * Pieces at the same place stand below each other.
 * @param {string} place
 * @returns {Element}
 */
function placeAt(place) {
  let box = stage?.querySelector(`[data-place="${place}"]`);
  if (!box) {
    box = document.createElement("div");
    box.setAttribute("data-place", place);
    stage?.append(box);
  }
  return box;
}
