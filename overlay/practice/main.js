// The page to practise on: wires keys, buttons and time to the trainer, the trainer to
// the drawing. There is no outbox and no shelf here, and there must never be one.

/** @import { Tag } from "./choreography.js" */
/** @import { View } from "./trainer.js" */
import { withKey } from "../shared/key.js";
import { buildFilmKeys, renderFilmKeys } from "../shared/charting/film-keys.js";
import { Lapse } from "../shared/charting/lapse.js";
import { KeyDesk } from "../shared/charting/key-desk.js";
import { keySign } from "../shared/charting/keys.js";
import { LocalChart } from "../shared/charting/local-chart.js";
import { buildPad, part, renderCourt } from "../shared/charting/court-view.js";
import { said } from "../shared/charting/words.js";
import { make, setText } from "../shared/dom.js";
import { lasting } from "../shared/memory.js";
import { sceneAt, steppedBack } from "./choreography.js";
import { FIRST_TEMPO, TEMPOS } from "./clock.js";
import { CourtDrawing } from "./court.js";
import { cueActions, endActions, endActionsAlone, isUsual, shotActions } from "./hints.js";
import { KeptMatches } from "./kept-matches.js";
import { keepSet, lastSetsWords } from "./last-sets.js";
import { readMatch } from "./made-up.js";
import { showOutcome, showSum } from "./outcome.js";
import { tally } from "./tally.js";
import { Trainer } from "./trainer.js";
import { nowWords, phaseWords, tempoWords } from "./words.js";

/** What practice keys mean, where it is not what they mean for a video. */
const FILM = {
  "film:play": "play · pause",
  "film:back": "back",
  "film:on": "step on",
  "film:far_back": "from the serve",
  "film:slower": "slower",
  "film:faster": "faster",
};

const options = new URLSearchParams(location.search);
const seed = options.has("seed") ? Number(options.get("seed")) : undefined;
const still = matchMedia("(prefers-reduced-motion: reduce)");
const choose = /** @type {HTMLFormElement} */ (part(".choose"));

buildPad(part(".pad"));
buildFilmKeys(part(".film"), FILM);
const drawing = new CourtDrawing(part(".picture"));
const code = await (await fetch(withKey("/chart/chart.wasm", location.href))).arrayBuffer();
/** Reads matches; the trainer's own holds the volunteer's chart. */
const reader = await LocalChart.from(code);
const trainer = new Trainer(await LocalChart.from(code), (view) => show(view, false));
const keyDesk = new KeyDesk(() => show(trainer.view, true));
const matches = new KeptMatches(lasting, ask, () => Math.floor(Math.random() * 1_000_000));

/** @param {number} wanted @returns {Promise<string>} */
async function ask(wanted) {
  const response = await fetch(withKey(`/practice/matches/${wanted}`, location.href));
  if (!response.ok) throw new Error(`the host answers ${response.status}`);
  return response.text();
}

const lapse = new Lapse(() => trainer.press("lapse", performance.now()));

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
  drawn = now;
  choose.hidden = phase !== "choose";
  part(".court").hidden = phase !== "ready" && phase !== "playing" && phase !== "waiting";
  part(".outcome").hidden = phase !== "result";
  part(".sum").hidden = phase !== "done";
  renderCourt({ ...view, message: nowWords(view, keyWords(["film:play"])) }, keyDesk.keys, keyDesk.layout);
  renderFilmKeys(part(".film"), keyDesk.keys, keyDesk.layout, phase === "playing" && !view.paused);
  renderFilmKeys(part(".outcome .go"), keyDesk.keys, keyDesk.layout, false);
  setText(part(".where"), phaseWords(view));
  setText(part(".tempo"), `Tempo: ${tempoWords(view.tempo)}`);
  if (phase === "result" && view.comparison !== null && header !== null)
    showOutcome(view, view.comparison, header, keyWords);
  if (phase === "done") {
    showSum(tally(view.comparisons), view.tempo);
    part("[data-do='again']").focus();
  }
}

/** @param {Tag} tag a word on the court, and the keys for it */
function tagWords({ kind, word, shot }) {
  const { rally } = trainer.view;
  const played = rally?.shots[shot];
  if (rally === null || played === undefined) return said(word);
  const contact = kind !== "stroke" || isUsual(played) || played.contact === null ? "" : `, ${said(played.contact)}`;
  const actions =
    kind === "stroke"
      ? shotActions(played, shot + 1)
      : kind === "cue"
        ? cueActions(rally.shots, shot, word)
        : (trainer.view.state.detail === "ends" ? endActionsAlone : endActions)(
            rally.end.how,
            rally.end.by,
            played.team,
          );
  return `${said(word)}${contact}${hint(actions)}`;
}

/** @param {readonly string[]} actions */
function hint(actions) {
  const words = ticked("hints") ? keyWords(actions) : "";
  return words === "" ? "" : ` ${words}`;
}

/** @param {readonly string[]} actions @returns {string} their keys; nothing where keys are switched off */
function keyWords(actions) {
  const { keys, layout } = keyDesk;
  return keys.on ? actions.map((action) => `[${keySign(keys.codes[action] ?? "", layout)}]`).join(" ") : "";
}

/** @param {string} name */
const ticked = (name) => /** @type {HTMLInputElement} */ (choose.elements.namedItem(name)).checked;
/** @param {string} name */
const chosen = (name) => /** @type {HTMLSelectElement} */ (choose.elements.namedItem(name)).value;

/** @param {string} action */
function press(action) {
  const before = trainer.view.phase;
  trainer.press(action, performance.now());
  lapse.watch(trainer.view.state);
  if (before !== "done" && trainer.view.phase === "done") keepSet(lasting, tally(trainer.view.comparisons));
}

addEventListener("keydown", (event) => {
  const action = keyDesk.actionOf(event);
  if (action === null || trainer.view.phase === "choose" || trainer.view.phase === "done") return;
  event.preventDefault();
  if (!event.repeat || action === "older" || action === "newer") press(action);
});

document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-action], [data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  const { action } = button.dataset;
  if (action !== undefined) press(action);
  else DO[button.dataset["do"] ?? ""]?.();
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
    setText(part(".last-sets"), lastSetsWords(lasting));
    tempoChoice.value = String(trainer.view.tempo);
    trainer.leave();
    /** @type {HTMLElement} */ (choose.elements.namedItem("rallies")).focus();
  },
};

choose.addEventListener("submit", (event) => {
  event.preventDefault();
  void begin();
});

async function begin() {
  try {
    const made = readMatch(await matches.take(seed), reader, Number(chosen("rallies")));
    trainer.begin(made, Number(chosen("tempo")), /** @type {View["state"]["detail"]} */ (chosen("detail")));
    setText(part(".choose-problem"), "");
    if (document.activeElement instanceof HTMLElement) document.activeElement.blur();
  } catch (error) {
    setText(part(".choose-problem"), error instanceof Error ? error.message : String(error));
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

const tempoChoice = /** @type {HTMLSelectElement} */ (choose.elements.namedItem("tempo"));
for (const tempo of TEMPOS) tempoChoice.append(make("option", { value: String(tempo) }, tempoWords(tempo)));
tempoChoice.value = String(FIRST_TEMPO);
const court = options.get("court");
if (court !== null && /^[\w-]{1,64}$/.test(court)) {
  for (const link of document.querySelectorAll("[data-do='back']")) {
    link.setAttribute("href", withKey(`/courts/${court}/chart`, location.href).href);
    setText(link, `Back to court ${court}`);
  }
}
setText(part(".last-sets"), lastSetsWords(lasting));
choose.hidden = false;
fill();
requestAnimationFrame(frame);
