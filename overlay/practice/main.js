// The page to practice on: wires keys, buttons and time to the trainer, the trainer to
// the drawing. There is no outbox and no shelf here, and there must never be one.

/** @import { Tag } from "./choreography.js" */
/** @import { Chosen } from "./page.js" */
/** @import { View } from "./trainer.js" */
import { daylightChoice, followDaylight } from "../shared/daylight.js";
import { render } from "../shared/html.js";
import { withKey } from "../shared/key.js";
import { lasting } from "../shared/memory.js";
import { part } from "../shared/charting/court-view.js";
import { KeyDesk, leaveFocus } from "../shared/charting/key-desk.js";
import { keySign } from "../shared/charting/layouts.js";
import { Lapse } from "../shared/charting/lapse.js";
import { LocalChart, fetchRules } from "../shared/charting/local-chart.js";
import { actOnTouch } from "../shared/charting/touch.js";
import { said } from "../shared/charting/words.js";
import { sceneAt, steppedBack } from "./choreography.js";
import { FIRST_TEMPO } from "./clock.js";
import { CourtDrawing } from "./court.js";
import { cueActions, endActions, endActionsAlone, isUsual, shotActions } from "./hints.js";
import { KeptMatches } from "./kept-matches.js";
import { keepSet, lastSetsWords } from "./last-sets.js";
import { asked, readMatch } from "./made-up.js";
import { page } from "./page.js";
import { tally } from "./tally.js";
import { Trainer } from "./trainer.js";

const options = new URLSearchParams(location.search);
const seed = options.has("seed") ? Number(options.get("seed")) : undefined;
const still = matchMedia("(prefers-reduced-motion: reduce)");
const root = part(".page");

followDaylight(options.get("theme"));
const look = daylightChoice();
const drawing = new CourtDrawing();
const code = await fetchRules(withKey("/chart/chart.wasm", location.href));
/** Reads matches; the trainer's own holds the volunteer's chart. */
const reader = await LocalChart.from(code);
const trainer = new Trainer(await LocalChart.from(code), (view) => show(view, false));
const keyDesk = new KeyDesk(() => {
  trainer.view.strokes = keyDesk.keys.strokes;
  show(trainer.view, true);
});
trainer.view.strokes = keyDesk.keys.strokes;
const matches = new KeptMatches(lasting, ask, () => Math.floor(Math.random() * 1_000_000));
const lapse = new Lapse(() => trainer.press("lapse", performance.now()));
const back = backLink(options.get("court"));
/** @type {Chosen} */
let chosen = { rallies: "10", tempo: String(FIRST_TEMPO), detail: "shots", hints: true };
let problem = "";

/** @param {number} wanted @returns {Promise<string>} */
async function ask(wanted) {
  const response = await fetch(withKey(`/practice/matches/${wanted}`, location.href)).catch(() => null);
  if (!response?.ok) throw new Error(response === null ? "can't be reached" : `answers ${response.status}`);
  return response.text();
}

/** What was drawn last, beside the court: drawn again only where it has changed. @type {unknown[]} */
let drawn = [];

/** @param {View} view @param {boolean} anew */
function show(view, anew) {
  const { phase, plan, header, rally } = view;
  if (plan !== null && header !== null && (phase === "ready" || phase === "playing" || phase === "waiting")) {
    drawing.show(header, sceneAt(plan, still.matches ? steppedBack(plan, view.head) : view.head), tagWords);
  }
  const now = [phase, view.answer, view.state, view.message, view.paused, view.tempo, rally, view.comparison];
  if (!anew && now.every((one, place) => one === drawn[place])) return;
  const before = drawn[0];
  drawn = now;
  const lastSets = lastSetsWords(lasting);
  const hands = keyDesk.hands();
  const { letters } = keyDesk;
  const state = { view, hands, letters, chosen, problem, lastSets, drawing: drawing.node, look, keyWords, back };
  render(page(state), root);
  if (phase === "done" && before !== "done") part("[data-do='again']").focus();
}

/** @param {Tag} tag a word on the court, and the keys for it */
function tagWords({ kind, word, shot }) {
  const { rally, strokes } = trainer.view;
  const shots = asked(rally?.shots ?? [], strokes);
  const played = shots[shot];
  if (rally === null || played === undefined) return said(word);
  const contact = kind !== "stroke" || isUsual(played) || played.contact === null ? "" : `, ${said(played.contact)}`;
  const actions =
    kind === "stroke"
      ? shotActions(played, shot + 1, strokes)
      : kind === "cue"
        ? cueActions(shots, shot, word)
        : (trainer.view.state.detail === "ends" ? endActionsAlone : endActions)(
            rally.end.how,
            rally.end.by,
            played.team,
          );
  const keys = chosen.hints ? keyWords(actions) : "";
  return `${said(word)}${contact}${keys === "" ? "" : ` ${keys}`}`;
}

/** @param {readonly string[]} actions @returns {string} their keys; nothing where keys are switched off */
function keyWords(actions) {
  const { keys, layout } = keyDesk;
  return keys.on ? actions.map((action) => `[${keySign(keys.codes[action] ?? "", layout)}]`).join(" ") : "";
}

/** @param {string} action */
function press(action) {
  if (action === "help") return keyDesk.help();
  const before = trainer.view.phase;
  trainer.press(action, performance.now());
  lapse.watch(trainer.view.state);
  if (before !== "done" && trainer.view.phase === "done") keepSet(lasting, tally(trainer.view.comparisons));
}

addEventListener("keydown", (event) => {
  const action = keyDesk.actionOf(event, keyDesk.hands());
  if (action === null || trainer.view.phase === "choose" || trainer.view.phase === "done") return;
  event.preventDefault();
  if (!event.repeat || action === "older" || action === "newer") press(action);
});

actOnTouch(root, "[data-action]", (button) => press(button.dataset["action"] ?? ""));

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  DO[button.dataset["do"] ?? ""]?.();
  // A pointer leaves no focus behind that would swallow the next space bar.
  if (event.detail > 0) button.blur();
});

/** @type {Record<string, () => void>} */
const DO = {
  keys: () => keyDesk.show(),
  finish: () => {
    trainer.finish();
    if (trainer.view.phase === "done") keepSet(lasting, tally(trainer.view.comparisons));
  },
  again: () => {
    chosen = { ...chosen, tempo: String(trainer.view.tempo) };
    trainer.leave();
    part(".choose [name=rallies]").focus();
  },
};

root.addEventListener("submit", (event) => {
  event.preventDefault();
  if (event.target instanceof HTMLFormElement) void begin(new FormData(event.target));
});

/** @param {FormData} data */
async function begin(data) {
  const text = (/** @type {string} */ name) => String(data.get(name));
  chosen = { rallies: text("rallies"), tempo: text("tempo"), detail: text("detail"), hints: data.has("hints") };
  try {
    const made = readMatch(await matches.take(seed), reader, Number(chosen.rallies));
    problem = "";
    trainer.begin(made, Number(chosen.tempo), /** @type {View["state"]["detail"]} */ (chosen.detail));
    leaveFocus();
  } catch (error) {
    problem = error instanceof Error ? error.message : String(error);
    show(trainer.view, true);
  }
  fill();
}

/** Made-up matches for when the network is gone. */
function fill() {
  matches.fill().catch((error) => console.info(`no made-up match more for later: ${String(error)}`));
}

function frame() {
  trainer.tick(performance.now());
  requestAnimationFrame(frame);
}

document.addEventListener("visibilitychange", () => {
  if (document.hidden) trainer.pause(performance.now());
});

/** @param {string | null} court that the page was opened from */
function backLink(court) {
  const known = court !== null && /^[\w-]{1,64}$/.test(court);
  const href = withKey(known ? `/courts/${court}/chart` : "/", location.href).href;
  return { href, words: known ? `Back to court ${court}` : "Back" };
}

show(trainer.view, true);
fill();
requestAnimationFrame(frame);
