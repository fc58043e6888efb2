// The charters' page: wires keys, buttons and forms to the session, the session to the
// drawing. Holds no rule of its own.

import { setText } from "../shared/dom.js";
import { Session } from "./session.js";
import { offer } from "../shared/charting/files.js";
import { buildFilmKeys, renderFilmKeys } from "../shared/charting/film-keys.js";
import { Film } from "./video/film.js";
import { Lapse } from "../shared/charting/lapse.js";
import { KeyDesk, leaveFocus } from "../shared/charting/key-desk.js";
import { newId } from "../shared/ids.js";
import { withKey } from "../shared/key.js";
import { lasting } from "../shared/memory.js";
import { LocalChart } from "../shared/charting/local-chart.js";
import { RefereeDesk } from "./match/referee.js";
import { buildPad, part } from "../shared/charting/court-view.js";
import { GO_ON, render } from "./render.js";
import { chartFrom, headerFrom, named } from "./match/setup.js";
import { Shelf } from "./line/shelf.js";
import { LineVoice, leavingWords, nextMatch } from "./line/line-words.js";

const court = /\/courts\/([^/]+)\/chart/.exec(location.pathname)?.[1] ?? "1";

/** @returns {string} who this browser is to the host, the same after a reload */
function client() {
  const kept = lasting.getItem("rallytide.chart.client") ?? newId();
  lasting.setItem("rallytide.chart.client", kept);
  return kept;
}

buildPad(part(".pad"));
buildFilmKeys(part(".film"));
const wasm = await fetch(withKey("/chart/chart.wasm", location.href));
const url = withKey(`/courts/${court}/intake`, location.href);
url.protocol = url.protocol === "https:" ? "wss:" : "ws:";
const session = new Session(
  {
    localChart: await LocalChart.from(await wasm.arrayBuffer()),
    shelf: await Shelf.open(),
    court,
    client: client(),
    url: url.href,
  },
  redraw,
);
const keyDesk = new KeyDesk(redraw);
const film = new Film(part(".picture"), redraw);
const refereeDesk = new RefereeDesk((content) => session.say(content, film.at));
const voice = new LineVoice();
const lapse = new Lapse(() => session.press("lapse", film.at));
const DETAIL = "rallytide.chart.detail";
const detail = lasting.getItem(DETAIL);
if (detail === "ends" || detail === "score") session.view.state.detail = detail;

function redraw() {
  render(session.view, keyDesk.keys, keyDesk.layout);
  setText(part(".line-aloud"), voice.say(session.view, performance.now()));
  for (const selector of [".picture", ".film"]) part(selector).hidden = !film.open;
  part(".beside").classList.toggle("with-picture", film.open);
  part(".film-title").textContent = film.title;
  renderFilmKeys(part(".film"), keyDesk.keys, keyDesk.layout, film.running);
}

/** Growing numbers are said now and then, not with every key. */
setInterval(redraw, 1_000);

/** @param {string} action */
function press(action) {
  if (action.startsWith("film:")) film.press(action.slice("film:".length));
  else session.press(action, film.at);
  lapse.watch(session.view.state);
  lasting.setItem(DETAIL, session.view.state.detail);
}

for (const link of document.querySelectorAll("[data-do='practise']"))
  link.setAttribute("href", withKey(`/practice?court=${court}`, location.href).href);

/** @param {string} selector */
const form = (selector) => /** @type {HTMLFormElement} */ (part(selector));

/** Actions that go on while their key is held down. */
const REPEATED = new Set([
  "older",
  "newer",
  "film:back",
  "film:on",
  "film:far_back",
  "film:far_on",
  "film:frame_back",
  "film:frame_on",
]);

addEventListener("keydown", (event) => {
  const action = keyDesk.actionOf(event);
  if (part(".court").hidden) return goOnBy(event);
  if (action === null) return;
  event.preventDefault();
  if (!event.repeat || REPEATED.has(action)) press(action);
});

/** The one key of a page whose match has left the court. @param {KeyboardEvent} event */
function goOnBy(event) {
  const { code, repeat, ctrlKey, metaKey, altKey } = event;
  const { line, court } = session.view;
  if (code !== GO_ON || repeat || ctrlKey || metaKey || altKey || !keyDesk.keys.on) return;
  if (line !== "other_match" || nextMatch(court) === null || document.querySelector("dialog[open]") !== null) return;
  event.preventDefault();
  DO["start-anew"]?.();
}

part(".court").addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("button") : null;
  const action = button?.dataset["action"];
  if (action === undefined) return;
  press(action);
  // A pointer leaves no focus behind that would swallow the next space bar.
  if (event.detail > 0) button?.blur();
});

/** @type {Record<string, () => void>} */
const DO = {
  "take-over": () => {
    saveWhatWaits();
    void session.takeOver();
  },
  "start-anew": () => {
    saveWhatWaits();
    void session.leave();
  },
  save: saveChart,
  "save-here": saveChart,
  "fix-score": () => {
    const { header, answer } = session.view;
    if (header !== null && answer !== null) refereeDesk.show(header, answer.score);
  },
  keys: () => keyDesk.show(),
  film: () => film.choose(),
  new: () => {
    setText(part(".new-match-chart"), leavingWords(session.view.header?.title ?? "Match", session.view.waiting));
    // Escape closes with what was chosen last time.
    newMatch.returnValue = "";
    newMatch.showModal();
  },
};
document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  DO[button.dataset["do"] ?? ""]?.();
  // Nor does a button that has done what it is for, where the keys chart.
  if (event.detail > 0 || (keyDesk.keys.on && button.closest("dialog") === null)) button.blur();
});

const newMatch = /** @type {HTMLDialogElement} */ (part("dialog.new-match"));
newMatch.addEventListener("close", () => {
  leaveFocus();
  if (newMatch.returnValue !== "leave") return;
  saveWhatWaits();
  session.clear();
  part(".setup [name=title]").focus();
});

function saveChart() {
  offer(`${session.view.header?.id ?? "chart"}.jsonl`, session.file());
}

/** What the host does not have goes from this laptop's disk with its match: a file keeps it. */
function saveWhatWaits() {
  if (session.view.waiting > 0) saveChart();
}

form(".setup").addEventListener("submit", (event) => {
  event.preventDefault();
  void begin(new FormData(form(".setup")));
});

/** @param {FormData} data */
async function begin(data) {
  const file = data.get("file");
  try {
    const { header, entries } =
      file instanceof File && file.size > 0
        ? chartFrom(await file.text())
        : { header: headerFrom(data, court, newId()), entries: [] };
    await session.begin(named(header), entries);
    form(".setup").reset();
    part(".setup-problem").textContent = "";
  } catch (error) {
    part(".setup-problem").textContent = error instanceof Error ? error.message : String(error);
  }
}

addEventListener("beforeunload", (event) => {
  // On plain http the page comes back only while the host is there.
  if (!session.view.kept || (session.view.line === "lost" && session.view.header !== null)) event.preventDefault();
});

await session.start();
