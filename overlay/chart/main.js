// The charters' page: wires keys, buttons and forms to the session, the session to the
// drawing. Holds no rule of its own.

import { daylightChoice, followDaylight } from "../shared/daylight.js";
import { html, render } from "../shared/html.js";
import { newId } from "../shared/ids.js";
import { withKey } from "../shared/key.js";
import { lasting } from "../shared/memory.js";
import { part } from "../shared/charting/court-view.js";
import { offer } from "../shared/charting/files.js";
import { KeyDesk, leaveFocus } from "../shared/charting/key-desk.js";
import { Lapse } from "../shared/charting/lapse.js";
import { LocalChart, fetchRules } from "../shared/charting/local-chart.js";
import { RefereeDesk } from "../shared/charting/referee.js";
import { Sounds, heard } from "../shared/charting/sounds.js";
import { actOnTouch } from "../shared/charting/touch.js";
import { LineVoice, nextMatch } from "./line/line-words.js";
import { Shelf } from "./line/shelf.js";
import { chartFrom, headerFrom, named } from "./match/setup.js";
import { GO_ON, page } from "./page.js";
import { Session } from "./session.js";
import { Film } from "./video/film.js";

const court = /\/courts\/([^/]+)\/chart/.exec(location.pathname)?.[1] ?? "1";
const DETAIL = "rallytide.chart.detail";

/** @returns {string} who this browser is to the host, the same after a reload */
function client() {
  const kept = lasting.getItem("rallytide.chart.client") ?? newId();
  lasting.setItem("rallytide.chart.client", kept);
  return kept;
}

followDaylight(new URL(location.href).searchParams.get("theme"));
const look = daylightChoice();
const url = withKey(`/courts/${court}/intake`, location.href);
url.protocol = url.protocol === "https:" ? "wss:" : "ws:";
const session = new Session(
  {
    localChart: await LocalChart.from(await fetchRules(withKey("/chart/chart.wasm", location.href))),
    shelf: await Shelf.open(),
    court,
    client: client(),
    url: url.href,
  },
  redraw,
);
const keyDesk = new KeyDesk(redraw);
const film = new Film(redraw);
const refereeDesk = new RefereeDesk((content) => session.say(content, film.at));
const voice = new LineVoice();
const sounds = new Sounds();
const lapse = new Lapse(() => press("lapse"));
const practice = withKey(`/practice?court=${court}`, location.href).href;
const root = part(".page");
let problem = "";
const detail = lasting.getItem(DETAIL);
if (detail === "ends" || detail === "score") session.view.state.detail = detail;

const hands = () => keyDesk.hands(session.view.answer?.score);

function redraw() {
  const { view } = session;
  const aloud = voice.say(view, performance.now());
  const { settings, letters } = keyDesk;
  render(page({ view, hands: hands(), settings, letters, film, aloud, problem, look, practice }), root);
}

/** Growing numbers are said now and then, not with every key. */
setInterval(redraw, 1_000);

/** @param {string} action */
function press(action) {
  if (action.startsWith("film:")) return film.press(action.slice("film:".length));
  if (action === "help") return keyDesk.help();
  if (action === "score") return DO["fix-score"]?.();
  const before = soundsOf();
  session.press(action, film.at);
  lapse.watch(session.view.state);
  if (keyDesk.settings.sounds && action !== "lapse") sounds.play(heard(before, soundsOf()));
  lasting.setItem(DETAIL, session.view.state.detail);
}

const soundsOf = () => ({
  state: session.view.state,
  entries: session.view.answer?.entries ?? 0,
  message: session.view.message,
});

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
  const action = keyDesk.actionOf(event, hands());
  if (document.querySelector(".court") === null) return goOnBy(event);
  if (action === null) return;
  event.preventDefault();
  if (!event.repeat || REPEATED.has(action)) press(action);
});

/** The one key of a page whose match has left the court. @param {KeyboardEvent} event */
function goOnBy(event) {
  const { code, repeat, ctrlKey, metaKey, altKey } = event;
  const { line, court: now } = session.view;
  if (code !== GO_ON || repeat || ctrlKey || metaKey || altKey || !keyDesk.keys.on) return;
  if (line !== "other_match" || nextMatch(now) === null || document.querySelector("dialog[open]") !== null) return;
  event.preventDefault();
  DO["start-anew"]?.();
}

actOnTouch(root, ".court [data-action]", (button) => press(button.dataset["action"] ?? ""));

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
  "save-kept": saveChart,
  "fix-score": () => {
    const { header, answer } = session.view;
    if (header !== null && answer !== null) refereeDesk.show(header, answer.score);
  },
  keys: () => keyDesk.show(),
  film: () => film.choose(),
  hide: () => keyDesk.set({ keysShown: !keyDesk.settings.keysShown }),
  sounds: () => {
    keyDesk.set({ sounds: !keyDesk.settings.sounds });
    if (keyDesk.settings.sounds) sounds.play("taken");
  },
  new: () => {
    // Escape closes with what was chosen last time.
    newMatch().returnValue = "";
    newMatch().showModal();
  },
};
document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  DO[button.dataset["do"] ?? ""]?.();
  // Nor does a button that has done what it is for, where the keys chart.
  if (event.detail > 0 || (keyDesk.keys.on && button.closest("dialog") === null)) button.blur();
});
look.addEventListener("change", leaveFocus);

const newMatch = () => /** @type {HTMLDialogElement} */ (part("dialog.new-match"));

function saveChart() {
  offer(`${session.view.header?.id ?? "chart"}.jsonl`, session.file());
}

/** What the host does not have goes from this laptop's disk with its match: a file keeps it. */
function saveWhatWaits() {
  if (session.view.waiting > 0) saveChart();
}

root.addEventListener("submit", (event) => {
  if (!(event.target instanceof HTMLFormElement) || !event.target.matches(".setup")) return;
  event.preventDefault();
  void begin(new FormData(event.target));
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
    problem = "";
  } catch (error) {
    problem = error instanceof Error ? error.message : String(error);
  }
  redraw();
}

addEventListener("beforeunload", (event) => {
  // On plain http the page comes back only while the host is there.
  if (!session.view.kept || (session.view.line === "lost" && session.view.header !== null)) event.preventDefault();
});

render(html``, root);
redraw();
newMatch().addEventListener("close", () => {
  leaveFocus();
  if (newMatch().returnValue !== "leave") return;
  saveWhatWaits();
  session.clear();
  part(".setup [name=title]").focus();
});

await session.start();
