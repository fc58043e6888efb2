// The charters' page: wires keys, buttons and forms to the desk, the desk to the
// drawing. Holds no rule of its own.

/** @import { MatchHeader, Team } from "../types/messages.js" */
import { Desk } from "./desk.js";
import { offer } from "./files.js";
import { buildFilmKeys, renderFilmKeys } from "./film-keys.js";
import { Film } from "./film.js";
import { KeyDesk } from "./key-desk.js";
import { newId } from "./outbox.js";
import { withKey } from "../shared/key.js";
import { Pocket } from "./pocket.js";
import { buildPad, part, render } from "./render.js";
import { Shelf } from "./shelf.js";

const court = /\/courts\/([^/]+)\/chart/.exec(location.pathname)?.[1] ?? "1";

/** @returns {string} who this browser is to the host, the same after a reload */
function client() {
  const kept = localStorage.getItem("rallytide.chart.client") ?? newId();
  localStorage.setItem("rallytide.chart.client", kept);
  return kept;
}

buildPad(part(".pad"));
buildFilmKeys(part(".film"));
const wasm = await fetch(withKey("/chart/pocket.wasm", location.href));
const url = withKey(`/courts/${court}/intake`, location.href);
url.protocol = url.protocol === "https:" ? "wss:" : "ws:";
const desk = new Desk(
  { pocket: await Pocket.from(await wasm.arrayBuffer()), shelf: await Shelf.open(), court, client: client(), url: url.href },
  (view) => render(view, keyDesk.keys, keyDesk.layout),
);
const keyDesk = new KeyDesk(redraw);
const film = new Film(part(".picture"), redraw);

function redraw() {
  render(desk.view, keyDesk.keys, keyDesk.layout);
  for (const selector of [".picture", ".film"]) part(selector).hidden = !film.open;
  part(".beside").classList.toggle("with-picture", film.open);
  part(".film-title").textContent = film.title;
  renderFilmKeys(part(".film"), keyDesk.keys, keyDesk.layout, film.running);
}

/** @param {string} action */
function press(action) {
  if (action.startsWith("film:")) film.press(action.slice("film:".length));
  else desk.press(action, film.at);
}

for (const link of document.querySelectorAll("[data-do='practise']")) link.setAttribute("href", withKey(`/practice?court=${court}`, location.href).href);

/** @param {string} name @returns {HTMLDialogElement} */
const dialog = (name) => /** @type {HTMLDialogElement} */ (part(`dialog.${name}`));
/** @param {string} selector */
const form = (selector) => /** @type {HTMLFormElement} */ (part(selector));

/** Actions that go on while their key is held down. */
const REPEATED = new Set(["older", "newer", "film:back", "film:on", "film:far_back", "film:far_on", "film:frame_back", "film:frame_on"]);

addEventListener("keydown", (event) => {
  const action = keyDesk.actionOf(event);
  if (action === null || part(".court").hidden) return;
  event.preventDefault();
  if (!event.repeat || REPEATED.has(action)) press(action);
});

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
  "take-over": () => desk.takeOver(),
  "start-anew": () => {
    saveWhatWaits();
    void desk.leave();
  },
  save: saveChart,
  "fix-score": () => dialog("referee").showModal(),
  keys: () => keyDesk.show(),
  film: () => film.choose(),
  new: () => {
    if (!confirm("Leave this match? Its chart stays with the host; what waits is saved as a file.")) return;
    saveWhatWaits();
    desk.clear();
  },
};
document.addEventListener("click", (event) => {
  const button = event.target instanceof Element ? event.target.closest("[data-do]") : null;
  if (!(button instanceof HTMLElement)) return;
  DO[button.dataset["do"] ?? ""]?.();
  if (event.detail > 0) button.blur();
});

function saveChart() {
  offer(`${desk.view.header?.id ?? "chart"}.jsonl`, desk.file());
}

/** What the host does not have goes from this laptop's disk with its match: a file keeps it. */
function saveWhatWaits() {
  if (desk.view.waiting > 0) saveChart();
}

/** @param {FormData} data @returns {MatchHeader} */
function headerFrom(data) {
  const text = (/** @type {string} */ name) => String(data.get(name) ?? "").trim();
  const discipline = text("discipline") === "singles" ? "singles" : "doubles";
  const team = (/** @type {string} */ name) => ({
    name: text(name), players: discipline === "singles" ? [text(`${name}0`)] : [text(`${name}0`), text(`${name}1`)],
  });
  return {
    kind: "match", chart: 1, id: `match-${newId()}`, title: text("title"), court, teams: { a: team("a"), b: team("b") },
    format: {
      discipline, scoring: text("scoring") === "rally" ? "rally" : "side_out", points: Number(text("points")), win_by: 2, games: Number(text("games")),
    },
    first_serve: text("first_serve") === "b" ? "b" : "a",
  };
}

form(".setup").addEventListener("submit", (event) => {
  event.preventDefault();
  void begin(new FormData(form(".setup")));
});

/** @param {FormData} data */
async function begin(data) {
  const file = data.get("file");
  try {
    const lines = file instanceof File && file.size > 0 ? (await file.text()).split("\n").filter((line) => line.trim() !== "") : [];
    const [header, ...entries] = lines.map((line) => JSON.parse(line));
    await desk.begin(header ?? headerFrom(data), entries.map(({ seq: _, received: __, crc: ___, ...entry }) => entry));
    part(".setup-problem").textContent = "";
  } catch (error) {
    part(".setup-problem").textContent = error instanceof Error ? error.message : String(error);
  }
}

dialog("referee").addEventListener("close", () => {
  const word = dialog("referee").returnValue;
  const data = new FormData(form("dialog.referee form"));
  const team = /** @type {Team} */ (data.get("team"));
  if (word === "score_fix") {
    const points = { a: Number(data.get("a")), b: Number(data.get("b")) };
    const server = desk.view.answer?.score.server === null ? {} : { server: Number(data.get("server")) };
    desk.say({ kind: "score_fix", points, serving: data.get("serving"), ...server }, film.at);
  } else if (word === "penalty" || word === "retire") desk.say({ kind: word, team }, film.at);
  else if (word === "lineup0" || word === "lineup1") desk.say({ kind: "lineup", team, starting_server: word === "lineup0" ? 0 : 1 }, film.at);
  else if (word === "medical") desk.say({ kind: "time_out", team, medical: true }, film.at);
});

addEventListener("beforeunload", (event) => {
  if (!desk.view.kept) event.preventDefault();
});

await desk.start();
