// The second seat's page: wires keys, touches and buttons to the session, the session to
// the drawing. Holds no rule of its own.

/** @import { View } from "./session.js" */
/** @import { Half } from "./sides.js" */
import { actOnTouch } from "../shared/charting/touch.js";
import { daylightChoice } from "../shared/daylight.js";
import { setAttribute, setText } from "../shared/dom.js";
import { newId } from "../shared/ids.js";
import { withKey } from "../shared/key.js";
import { lasting } from "../shared/memory.js";
import { readOptions } from "../shared/options.js";
import { dressPage } from "../shared/page.js";
import { socketAddress } from "../shared/source.js";
import { needStyles } from "../shared/styles.js";
import { CueKeyDesk } from "./key-desk.js";
import { codeOf } from "./keys.js";
import { draw, lineOf } from "./render.js";
import { Session } from "./session.js";
import { Shelf } from "./shelf.js";
import { halves } from "./sides.js";

needStyles("../shared/theme.css", import.meta.url);
needStyles("../shared/controls.css", import.meta.url);
needStyles("../shared/charting/dialogs.css", import.meta.url);
needStyles("cues.css", import.meta.url);

const court = /\/courts\/([^/]+)\/cues/.exec(location.pathname)?.[1] ?? "1";
const CLIENT = "rallytide.cues.client";
const SWAPPED = `rallytide.cues.swapped.${court}`;

/** @param {string} selector @returns {HTMLElement} */
function part(selector) {
  const node = document.querySelector(selector);
  if (!(node instanceof HTMLElement)) throw new Error(`the page has no \`${selector}\``);
  return node;
}

/** @returns {string} who this browser is to the host, the same after a reload */
function client() {
  const kept = lasting.getItem(CLIENT) ?? newId();
  lasting.setItem(CLIENT, kept);
  return kept;
}

const colours = dressPage(readOptions(location.href));
part(".settings").append(daylightChoice());
let swapped = lasting.getItem(SWAPPED) === "true";
/** @type {View | null} */
let shown = null;
const keyDesk = new CueKeyDesk(redraw);

const session = new Session(
  {
    shelf: await Shelf.open(),
    court,
    client: client(),
    url: socketAddress(withKey(`/courts/${court}/intake`, location.href).href),
  },
  show,
);

/** @param {View} view */
function show(view) {
  shown = view;
  colours.follow(view.match);
  document.title = view.match === null ? "Cues" : `${view.match.title ?? "Match"} · Cues`;
  setText(part(".title"), view.match?.title ?? "Cues");
  const line = lineOf(view);
  setText(part(".line"), line.words);
  setAttribute(part(".line"), "data-line", line.state);
  // For whoever watches the page from outside: how far it has come.
  setAttribute(part("main"), "data-known", String(view.known));
  setAttribute(part("main"), "data-waiting", String(view.waiting));
  setAttribute(part("main"), "data-kept", String(view.kept && !view.keeping));
  draw(part("main"), view, { halves: sides(), sign });
}

/** Which team is on which half now. */
function sides() {
  return halves(shown?.score?.near, swapped);
}

/** @param {Half | null} half @param {string} what */
const sign = (half, what) => (keyDesk.keys.on ? keyDesk.sign(codeOf(keyDesk.keys, half, what)) : "");

function redraw() {
  if (shown !== null) show(shown);
}

/** @param {Half | null} half @param {string} what */
function press(half, what) {
  if (half === null) session.undo();
  else if (what === "depth") session.depth(sides()[half]);
  else session.cue(sides()[half], what);
}

actOnTouch(part("main"), "[data-press]", (button) => {
  const { half, press: what = "" } = button.dataset;
  press(half === "left" || half === "right" ? half : null, what);
});

// A long touch opens no menu over the keys.
part("main").addEventListener("contextmenu", (event) => {
  if (event.target instanceof Element && event.target.closest("[data-press]") !== null) event.preventDefault();
});

part("main").addEventListener("click", ({ target }) => {
  const button = target instanceof Element ? /** @type {HTMLElement | null} */ (target.closest("[data-do]")) : null;
  const place = Number(button?.dataset["place"]);
  if (button?.dataset["do"] === "take-over") session.takeOver();
  else if (button?.dataset["do"] === "drop") session.drop(place);
  else if (button?.dataset["do"] === "note") session.keepAsNote(place);
});

addEventListener("keydown", (event) => {
  const meaning = keyDesk.meaningOf(event);
  if (meaning === undefined) return;
  event.preventDefault();
  press(meaning.half, meaning.what);
});

part("[data-do='keys']").addEventListener("click", () => {
  /** @type {HTMLDetailsElement} */ (part(".more")).open = false;
  keyDesk.show();
});

part("[data-do='swap']").addEventListener("click", () => {
  swapped = !swapped;
  lasting.setItem(SWAPPED, String(swapped));
  redraw();
});

addEventListener("beforeunload", (event) => {
  if (shown !== null && !shown.kept && shown.waiting > 0) event.preventDefault();
});

session.start();
