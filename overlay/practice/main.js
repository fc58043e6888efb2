// The page to practice on: wires keys, buttons and time to the trainer, the trainer to
// the drawing. There is no outbox and no shelf here, and there must never be one.

/** @import { Half } from "../cues/sides.js" */
/** @import { Tag } from "./choreography.js" */
/** @import { Chosen } from "./page.js" */
/** @import { View } from "./trainer.js" */
import { CueKeyDesk } from "../cues/key-desk.js";
import { codeOf } from "../cues/keys.js";
import { daylightChoice, followDaylight } from "../shared/daylight.js";
import { render } from "../shared/html.js";
import { withKey } from "../shared/key.js";
import { lasting } from "../shared/memory.js";
import { part } from "../shared/charting/court-view.js";
import { KeyDesk, leaveFocus } from "../shared/charting/key-desk.js";
import { keySign } from "../shared/charting/layouts.js";
import { Lapse } from "../shared/charting/lapse.js";
import { LocalChart, fetchRules } from "../shared/charting/local-chart.js";
import { RefereeDesk } from "../shared/charting/referee.js";
import { actOnTouch } from "../shared/charting/touch.js";
import { said } from "../shared/charting/words.js";
import { sceneAt, steppedBack } from "./choreography.js";
import { FIRST_TEMPO } from "./clock.js";
import { CourtDrawing } from "./court.js";
import { Fixer } from "./fixer.js";
import { cueActions, endActions, endActionsAlone, isUsual, shotActions } from "./hints.js";
import { KeptMatches } from "./kept-matches.js";
import { fewWords, keepSet, lastSetsWords } from "./last-sets.js";
import { asked, readMatch } from "./made-up.js";
import { tasksFrom } from "./mistakes.js";
import { page } from "./page.js";
import { Seat } from "./seat.js";
import { SIDES } from "./seat-page.js";
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
const trainer = new Trainer(await LocalChart.from(code), () => show(false));
const fixer = new Fixer(await LocalChart.from(code), () => show(true));
const seat = new Seat(() => show(false));
const keyDesk = new KeyDesk(() => {
  trainer.view.strokes = keyDesk.keys.strokes;
  show(true);
});
/** The second seat's keys, once there is a set for it. @type {CueKeyDesk | null} */
let cueKeyDesk = null;
const refereeDesk = new RefereeDesk((content) => fixer.say(content, performance.now()));
trainer.view.strokes = keyDesk.keys.strokes;
const matches = new KeptMatches(lasting, ask, () => Math.floor(Math.random() * 1_000_000));
const lapse = new Lapse(() => (chosen.kind === "fixing" ? fixer : trainer).press("lapse", performance.now()));
const back = backLink(options.get("court"));
/** @type {Chosen} */
let chosen = { kind: "rallies", rallies: "10", tempo: String(FIRST_TEMPO), detail: "shots", hints: true };
let problem = "";

/** @param {number} wanted @returns {Promise<string>} */
async function ask(wanted) {
  const response = await fetch(withKey(`/practice/matches/${wanted}`, location.href)).catch(() => null);
  if (!response?.ok) throw new Error(response === null ? "can't be reached" : `answers ${response.status}`);
  return response.text();
}

/** What was drawn last, beside the court: drawn again only where it has changed. @type {unknown[]} */
let drawn = [];

/** Whatever set is under way. */
const set = () => ({ rallies: trainer, fixing: fixer, cues: seat })[chosen.kind];

/** @param {boolean} anew */
function show(anew) {
  const { phase } = set().view;
  const { plan, header, head } = chosen.kind === "cues" ? seat.view : trainer.view;
  if (plan !== null && header !== null && MOVING.has(phase))
    drawing.show(header, sceneAt(plan, still.matches ? steppedBack(plan, head) : head), tagWords);
  const now = [phase, ...(chosen.kind === "cues" ? seatDrawn() : rallyDrawn())];
  if (!anew && now.every((one, place) => one === drawn[place])) return;
  const before = drawn[0];
  drawn = now;
  const hands = keyDesk.hands();
  const { letters } = keyDesk;
  const memory = { lastSets: lastSetsWords(lasting), few: fewWords(lasting, keyDesk.keys.strokes) };
  const views = {
    view: trainer.view,
    fixing: fixer.view,
    seat: { view: seat.view, sign: cueSign, play: keySignOf("film:play") },
  };
  render(
    page({ ...views, ...memory, hands, letters, chosen, problem, drawing: drawing.node, look, keyWords, back }),
    root,
  );
  if (phase === "done" && before !== "done") part("[data-do='again']").focus();
}

const MOVING = new Set(["ready", "playing", "waiting"]);

function rallyDrawn() {
  const { answer, state, message, paused, tempo, rally, comparison } = trainer.view;
  return [answer, state, message, paused, tempo, rally, comparison];
}

function seatDrawn() {
  const { message, paused, tempo, rally, marks, judged } = seat.view;
  return [message, paused, tempo, rally, marks, judged];
}

/** @param {Tag} tag a word on the court, and the keys for it */
function tagWords({ kind, word, shot }) {
  if (chosen.kind === "cues") return seatTagWords(kind, word, shot);
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

/** The second seat is asked for cues alone. @param {Tag["kind"]} kind @param {string} word @param {number} shot */
function seatTagWords(kind, word, shot) {
  const team = seat.view.rally?.shots[shot]?.team;
  const sign =
    kind === "cue" && chosen.hints && team !== undefined ? cueSign(team === SIDES.left ? "left" : "right", word) : "";
  return `${said(word)}${sign === "" ? "" : ` [${sign}]`}`;
}

/** @param {Half | null} half @param {string} what @returns {string} what is printed on its key; nothing where keys are switched off */
function cueSign(half, what) {
  return cueKeyDesk?.keys.on === true ? cueKeyDesk.sign(codeOf(cueKeyDesk.keys, half, what)) : "";
}

/** @param {string} action */
function keySignOf(action) {
  const { keys, layout } = keyDesk;
  return keys.on ? keySign(keys.codes[action] ?? "", layout) : "";
}

/** @param {readonly string[]} actions @returns {string} their keys; nothing where keys are switched off */
function keyWords(actions) {
  return keyDesk.keys.on ? actions.map((action) => `[${keySignOf(action)}]`).join(" ") : "";
}

/** @param {string} action */
function press(action) {
  const now = performance.now();
  if (action === "help") return keyDesk.help();
  if (chosen.kind === "cues") return seat.film(action, now);
  if (chosen.kind === "fixing") return fix(action, now);
  const before = trainer.view.phase;
  trainer.press(action, now);
  lapse.watch(trainer.view.state);
  if (before !== "done" && trainer.view.phase === "done") keep();
}

/** @param {string} action @param {number} now */
function fix(action, now) {
  if (action === "score") return DO["fix-score"]?.();
  fixer.press(action, now);
  lapse.watch(fixer.view.state);
}

function keep() {
  const { state, strokes, comparisons } = trainer.view;
  keepSet(lasting, tally(comparisons), state.detail === "shots" && strokes === "all");
  show(true);
}

/** @param {Half | null} half @param {string} what */
function mark(half, what) {
  if (half === null) seat.undo();
  else seat.mark(SIDES[half], what, performance.now());
}

addEventListener("keydown", (event) => {
  const isUnderWay = set().view.phase !== "choose" && set().view.phase !== "done";
  const meaning = chosen.kind === "cues" ? cueKeyDesk?.meaningOf(event) : undefined;
  if (meaning !== undefined && isUnderWay) {
    event.preventDefault();
    return mark(meaning.half, meaning.what);
  }
  const action = keyDesk.actionOf(event, keyDesk.hands());
  if (action === null || !isUnderWay || (chosen.kind === "cues" && !action.startsWith("film:"))) return;
  event.preventDefault();
  if (!event.repeat || action === "older" || action === "newer") press(action);
});

actOnTouch(root, "[data-action], [data-mark]", ({ dataset }) => {
  const { action, mark: what, half } = dataset;
  if (action !== undefined) press(action);
  else if (what !== undefined) mark(half === "left" || half === "right" ? half : null, what);
});

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  DO[button.dataset["do"] ?? ""]?.();
  // A pointer leaves no focus behind that would swallow the next space bar.
  if (event.detail > 0) button.blur();
});

/** @type {Record<string, () => void>} */
const DO = {
  keys: () => (chosen.kind === "cues" && cueKeyDesk !== null ? cueKeyDesk : keyDesk).show(),
  few: () => keyDesk.arrange({ strokes: "few" }),
  "show-keys": () => fixer.show(),
  skip: () => fixer.skip(performance.now()),
  "fix-score": () => {
    const { header, answer, phase } = fixer.view;
    if (phase === "task" && header !== null && answer !== null) refereeDesk.show(header, answer.score);
  },
  finish: () => {
    set().finish();
    if (chosen.kind === "rallies" && trainer.view.phase === "done") keep();
  },
  again: () => {
    if (chosen.kind !== "fixing")
      chosen = { ...chosen, tempo: String(set() === seat ? seat.view.tempo : trainer.view.tempo) };
    set().leave();
    part(".choose [name=kind]").focus();
  },
};

root.addEventListener("change", ({ target }) => {
  if (!(target instanceof HTMLSelectElement) || target.name !== "kind" || target.form === null) return;
  chosen = chosenIn(new FormData(target.form));
  if (chosen.kind === "cues") cueKeyDesk ??= new CueKeyDesk(() => show(true));
  show(true);
});

root.addEventListener("submit", (event) => {
  event.preventDefault();
  if (event.target instanceof HTMLFormElement) void begin(new FormData(event.target));
});

/** What is not asked for a kind of set stays as it was chosen last. @param {FormData} data @returns {Chosen} */
function chosenIn(data) {
  const text = (/** @type {"rallies" | "tempo" | "detail"} */ name) => String(data.get(name) ?? chosen[name]);
  const asksForHints = chosen.kind !== "fixing";
  return {
    kind: /** @type {Chosen["kind"]} */ (data.get("kind")),
    rallies: text("rallies"),
    tempo: text("tempo"),
    detail: text("detail"),
    hints: asksForHints ? data.has("hints") : chosen.hints,
  };
}

/** Rallies looked through for as many as are wanted: not all have a cue, or lend themselves to a mistake. */
const LOOKED_THROUGH = 80;

/** @param {FormData} data */
async function begin(data) {
  chosen = chosenIn(data);
  const wanted = Number(chosen.rallies);
  try {
    const made = readMatch(await matches.take(seed), reader, chosen.kind === "rallies" ? wanted : LOOKED_THROUGH);
    problem = "";
    if (chosen.kind === "cues") seat.begin(made, wanted, Number(chosen.tempo));
    else if (chosen.kind === "fixing")
      fixer.begin(made.header, tasksFrom(made.rallies, wanted, keyDesk.keys.strokes), performance.now());
    else trainer.begin(made, Number(chosen.tempo), /** @type {View["state"]["detail"]} */ (chosen.detail));
    leaveFocus();
  } catch (error) {
    problem = error instanceof Error ? error.message : String(error);
    show(true);
  }
  fill();
}

/** Made-up matches for when the network is gone. */
function fill() {
  matches.fill().catch((error) => console.info(`no made-up match more for later: ${String(error)}`));
}

function frame() {
  if (chosen.kind === "cues") seat.tick(performance.now());
  else trainer.tick(performance.now());
  requestAnimationFrame(frame);
}

document.addEventListener("visibilitychange", () => {
  if (!document.hidden) return;
  trainer.pause(performance.now());
  seat.pause(performance.now());
});

/** @param {string | null} court that the page was opened from */
function backLink(court) {
  const known = court !== null && /^[\w-]{1,64}$/.test(court);
  const href = withKey(known ? `/courts/${court}/chart` : "/", location.href).href;
  return { href, words: known ? `Back to court ${court}` : "To the first page" };
}

show(true);
fill();
requestAnimationFrame(frame);
