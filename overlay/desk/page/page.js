// The desk's frame, drawn from the state: where one is and can go, how the line to the
// host is, the room that is open, the question that is asked, and the foot that says
// what has just happened and how to undo it.

/** @import { Desk } from "../host/desk.js" */
import { html, nothing } from "../../shared/html.js";
import { correctionDialog } from "../corrections/corrections-dialog.js";
import { courtDialog } from "../courts/court-dialog.js";
import { courtsRoom } from "../courts/courts-room.js";
import { filesRoom } from "../files/files-room.js";
import { graphicRoom } from "../graphic/graphic-room.js";
import { stoppedPlugins } from "../host/watching.js";
import { matchesRoom } from "../matches/matches-room.js";
import { pluginsRoom } from "../plugins/plugins-room.js";
import { lineWords } from "./telling.js";

export const ROOMS = [
  { name: "courts", label: "Courts", room: courtsRoom },
  { name: "matches", label: "Matches", room: matchesRoom },
  { name: "graphic", label: "Graphic", room: graphicRoom },
  { name: "plugins", label: "Plugins", room: pluginsRoom },
  { name: "files", label: "Links and files", room: filesRoom },
];

/** @param {Desk} desk @param {HTMLElement} look the choice of night or daylight */
export function page(desk, look) {
  const { state } = desk;
  const { room } = state.place;
  const isStale = state.trouble !== "" && state.host !== null;
  return html`
    <header class="top">
      <h1>Desk</h1>
      <nav class="rooms" aria-label="Rooms of the desk">
        ${ROOMS.map(
          ({ name, label }) =>
            html`<a href=${`#${name}`} aria-current=${name === room ? "page" : nothing}>${roomLabel(desk, name, label)}</a>`,
        )}
      </nav>
      <p class="line" role="status" ?data-bad=${state.trouble !== ""}>${lineWords(state)}</p>
      ${look}
    </header>
    <main tabindex="-1" ?data-stale=${isStale}>
      ${state.host === null ? waiting(state.trouble) : ROOMS.find(({ name }) => name === room)?.room(desk)}
    </main>
    ${foot(desk)} ${courtDialog(desk)} ${correctionDialog(desk)} ${question(desk)}
  `;
}

/** @param {Desk} desk @param {string} name @param {string} label */
function roomLabel({ state }, name, label) {
  const stopped = name === "plugins" ? stoppedPlugins(state.plugins).length : 0;
  return stopped === 0 ? label : `${label}: ${stopped} stopped`;
}

/** @param {string} trouble */
function waiting(trouble) {
  if (trouble === "") return html`<p class="waiting quiet">Connecting …</p>`;
  return html`<section class="card waiting">
    <h2>Nothing to show yet</h2>
    <p>
      Start Rallytide on the computer that runs the event, or check the network. This page fills in by itself once it
      reaches the host.
    </p>
  </section>`;
}

/** @param {Desk} desk */
function foot(desk) {
  const { said, undo, bad, news } = desk.state.notice;
  const isEmpty = said === "" && news === "";
  return html`<footer class="notice" ?data-bad=${bad} ?data-empty=${isEmpty}>
    <p class="news" role="status">${news}</p>
    <p class="said" role="status">${said}</p>
    <button
      type="button"
      class="undo"
      ?hidden=${undo === null}
      @click=${() => undo !== null && desk.act(undo.run, undo.said)}
    >
      Undo
    </button>
    <button type="button" class="close" ?hidden=${isEmpty} @click=${() => desk.closeNotice()}>Close</button>
  </footer>`;
}

/** @param {Desk} desk */
function question(desk) {
  const asked = desk.state.question;
  if (asked === null) return nothing;
  const { title, words, answers } = asked;
  return html`<dialog
    class="question"
    aria-labelledby="question"
    @close=${(/** @type {Event} */ event) => desk.answer(/** @type {HTMLDialogElement} */ (event.target).returnValue)}
  >
    <form method="dialog">
      <h2 id="question">${title}</h2>
      <p>${words}</p>
      ${answers.map(({ value, label }) => html`<button value=${value}>${label}</button>`)}
      <button value="">Cancel</button>
    </form>
  </dialog>`;
}
