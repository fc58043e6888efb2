// The desk page: wires the rooms to what the host says, the address to the room
// that is shown, and what happens to the line that says so.

/** @import { Undo } from "./host/desk.js" */
import { make, setAttribute, setText } from "../shared/dom.js";
import { needStyles, whenStyled } from "../shared/styles.js";
import { CourtsRoom } from "./courts/courts-room.js";
import { Desk } from "./host/desk.js";
import { FilesRoom } from "./files/files-room.js";
import { GraphicRoom } from "./graphic/graphic-room.js";
import { DeskHost } from "./host/host.js";
import { MatchesRoom } from "./matches/matches-room.js";
import { PluginsRoom } from "./plugins/plugins-room.js";
import { lineWords } from "./page/telling.js";
import { news, stoppedPlugins } from "./host/watching.js";

needStyles("../shared/theme.css", import.meta.url);
needStyles("desk.css", import.meta.url);
needStyles("rooms.css", import.meta.url);
await whenStyled();

/** @param {string} selector */
const part = (selector) => /** @type {HTMLElement} */ (document.querySelector(selector));
const undoButton = part(".notice .undo");
const closeButton = part(".notice .close");
/** @type {Undo | null} */
let undo = null;

/** @param {string} sentence @param {Undo | null} offered @param {boolean} bad */
function say(sentence, offered, bad) {
  undo = offered;
  setText(part(".said"), sentence);
  undoButton.hidden = offered === null;
  if (offered !== null) setText(undoButton, offered.label);
  closeButton.hidden = sentence === "";
  part(".notice").toggleAttribute("data-bad", bad);
}

const desk = new Desk(new DeskHost(location.href), say);
undoButton.addEventListener("click", () => {
  if (undo !== null) void desk.act(undo.run, undo.said);
});
closeButton.addEventListener("click", () => {
  setText(part(".news"), "");
  say("", null, false);
});

const main = part("main");
main.tabIndex = -1;
const ROOMS = [
  { name: "courts", label: "Courts", room: new CourtsRoom(desk) },
  { name: "matches", label: "Matches", room: new MatchesRoom(desk) },
  { name: "graphic", label: "Graphic", room: new GraphicRoom(desk) },
  { name: "plugins", label: "Plugins", room: new PluginsRoom(desk) },
  { name: "files", label: "Files and keys", room: new FilesRoom(desk) },
].map((one) => ({ ...one, link: make("a", { href: `#${one.name}` }, one.label) }));

part(".rooms").append(...ROOMS.map(({ link }) => link));
main.append(...ROOMS.map(({ room }) => room.node));

/** The room of the address. A link without a base would lead to the page's files. */
function enter() {
  const asked = location.hash.slice(1);
  const name = ROOMS.some((one) => one.name === asked) ? asked : "courts";
  for (const one of ROOMS) {
    one.room.node.hidden = one.name !== name;
    setAttribute(one.link, "aria-current", one.name === name ? "page" : null);
  }
  document.title = `${ROOMS.find((one) => one.name === name)?.label ?? ""}, desk`;
  desk.draw();
}
for (const { link, name } of ROOMS) {
  link.addEventListener("click", (event) => {
    event.preventDefault();
    location.hash = name;
  });
}
addEventListener("hashchange", () => {
  enter();
  // A room is entered at its top, wherever the one before was left.
  scrollTo(0, 0);
});

/** @type {import("./host/watching.js").Known} */
let known = { host: null, plugins: null };
desk.onChange((view) => {
  const now = { host: view.host, plugins: view.plugins };
  const said = news(known, now);
  known = now;
  if (said.length > 0) {
    setText(part(".news"), said.join(" "));
    closeButton.hidden = false;
  }
  const stopped = stoppedPlugins(view.plugins).length;
  const plugins = ROOMS.find(({ name }) => name === "plugins");
  if (plugins !== undefined)
    setText(plugins.link, stopped === 0 ? plugins.label : `${plugins.label}: ${stopped} stopped`);
  const line = part(".line");
  setText(line, lineWords(view));
  line.toggleAttribute("data-bad", view.trouble !== "");
  main.toggleAttribute("data-stale", view.trouble !== "" && view.host !== null);
  for (const { room } of ROOMS) room.draw(view);
});
enter();
await desk.start();
