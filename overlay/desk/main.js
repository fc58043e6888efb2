// The desk page: wires the address, what the host says and what happens by itself to
// the one state, and draws the page from it.

import { daylightChoice, followDaylight } from "../shared/daylight.js";
import { render } from "../shared/html.js";
import { readOptions } from "../shared/options.js";
import { needStyles, whenStyled } from "../shared/styles.js";
import { firstSteps } from "./courts/first-steps.js";
import { followGraphic, graphicDraft } from "./graphic/composition.js";
import { playSound, soundsKept } from "./host/alerts.js";
import { Desk } from "./host/desk.js";
import { DeskHost } from "./host/host.js";
import { news } from "./host/watching.js";
import { followDrops, sheetDraft } from "./matches/importing.js";
import { enterMatch, formDrafts } from "./matches/editing.js";
import { ROOMS, page } from "./page/page.js";

const beside = import.meta.url;
for (const sheet of ["../shared/theme.css", "../shared/controls.css", "desk.css", "courts/courts.css"])
  needStyles(sheet, beside);
for (const sheet of ["matches/matches.css", "graphic/graphic.css", "plugins/plugins.css"]) needStyles(sheet, beside);
followDaylight(readOptions(location.href).theme);
await whenStyled();
const root = /** @type {HTMLElement} */ (document.querySelector(".desk"));
const look = daylightChoice();

const desk = new Desk(new DeskHost(location.href), {
  draw,
  isHeld: () => root.querySelector(".notice")?.matches(":hover, :focus-within") === true,
});
Object.assign(desk.state, formDrafts());
Object.assign(desk.state.sheet, sheetDraft());
Object.assign(desk.state.graphic, graphicDraft());
desk.state.sounds = soundsKept();

function draw() {
  render(page(desk, look), root);
  for (const dialog of root.querySelectorAll("dialog"))
    if (!dialog.open) /** @type {HTMLDialogElement} */ (dialog).showModal();
}

/** The room of the address, and what is open in it. */
function enter() {
  const [asked = "", ...rest] = location.hash.slice(1).split("/").map(decodeURIComponent);
  const room = ROOMS.find(({ name }) => name === asked) ?? ROOMS[0];
  const before = desk.state.place.room;
  desk.state.place = { room: room?.name ?? "courts", rest };
  document.title = `${room?.label ?? ""}, desk`;
  enterMatch(desk);
  draw();
  // A room is entered at its top, wherever the one before was left.
  if (before !== room?.name) root.querySelector("main")?.scrollTo(0, 0);
}
addEventListener("hashchange", enter);
// The host gives the page a base, its files' folder: a mere fragment would lead there.
root.addEventListener("click", (event) => {
  const link = event.target instanceof Element ? event.target.closest("a[href^='#']") : null;
  if (link === null) return;
  event.preventDefault();
  location.hash = link.getAttribute("href") ?? "";
});

/** @type {import("./host/watching.js").Known} */
let known = { host: null, plugins: null };
desk.onHeard(() => {
  const now = { host: desk.state.host, plugins: desk.state.plugins };
  const said = news(known, now);
  known = now;
  if (said.length === 0) return;
  desk.announce(said.map(({ words }) => words));
  if (desk.state.sounds && said.some(({ isUrgent }) => isUrgent)) playSound();
});
desk.onHeard(() => firstSteps.hear(desk));
desk.onHeard(() => followGraphic(desk));
desk.onHeard(() => enterMatch(desk));
followDrops(desk);
enter();
void desk.start();
