// The graphic laid over the video: wires the pieces asked for to the feed. What
// a piece looks like and says is the elements' business.

import "../elements/named-indicator.js";
import "../elements/rally-insert.js";
import "../elements/rally-ribbon.js";
import "../elements/score-plate.js";
import "../elements/strap.js";
import "../elements/streak-moment.js";
import "../elements/tide-line.js";
import { RtElement } from "../elements/element.js";
import { make } from "../shared/dom.js";
import { readOptions } from "../shared/options.js";
import { dress, pageSource } from "../shared/page.js";
import { PIECE, arrange } from "../shared/placing.js";
import { needStyles } from "../shared/styles.js";
import { REPLACED_WORDS } from "../shared/words.js";

needStyles("graphic.css", import.meta.url);

const options = readOptions(location.href);
const colors = dress(options, document.documentElement);
// Browsers inside streaming programs differ; their log shall say which it is.
console.info(`graphic in ${navigator.userAgent}`);

/** What the page's title says where all is not well. @type {Record<string, string>} */
const TITLES = { lost: "Connection lost. Is Rallytide running?", replaced: REPLACED_WORDS };

/** @type {RtElement[]} */
const elements = [];
const stage = document.querySelector(".stage");
for (const [edge, lines] of Object.entries(arrange(options.pieces, options.at, options.scale))) {
  // Lines come from the edge inwards; on the page they stand from above.
  const fromAbove = edge === "bottom" ? [...lines].reverse() : lines;
  stage?.append(
    make("div", { "data-edge": edge }, ...fromAbove.map((line) => make("div", { class: "line" }, ...line.map(placed)))),
  );
}

pageSource(options, "viewer").subscribe((view) => {
  colors.follow(view.match);
  document.documentElement.dataset["connection"] = view.connection.phase;
  // On air the graphic goes on as on a lost line; whoever looks at the page itself is told.
  const said = TITLES[view.connection.phase];
  document.title = said === undefined ? "Graphic" : `${said} · Graphic`;
  for (const element of elements) element.view = view;
});

/**
 * Pieces at the same place stand below each other.
 * @param {import("../shared/placing.js").Box} box
 */
function placed({ column, pieces, room }) {
  const node = make("div", { "data-column": column }, ...pieces.flatMap(elementsOf));
  node.style.setProperty("--rt-room", String(room));
  node.toggleAttribute(
    "data-tight",
    pieces.some((piece) => PIECE[piece].wide > room),
  );
  return node;
}

/**
 * One element a piece, but for `show`: one for each indicator named.
 * @param {import("../shared/options.js").Piece} piece
 */
function elementsOf(piece) {
  return (piece === "show" ? options.show : [""]).map((name) => {
    const element = document.createElement(PIECE[piece].tag);
    if (name !== "") element.setAttribute("name", name);
    if (piece === "tide") element.toggleAttribute("beside-score", options.pieces.includes("score"));
    if (element instanceof RtElement) elements.push(element);
    return element;
  });
}
