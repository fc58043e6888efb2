// The room of links and files: text files for streaming programs, who can connect, and
// new links where one has got into wrong hands.

/**
 * @import { Role } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { State } from "../state.js"
 */
import { textField } from "../../shared/fields.js";
import { countWords } from "../../shared/format.js";
import { html, nothing } from "../../shared/html.js";
import { CONSENT_CAUTION } from "../../shared/match-form/match-form.js";
import { keepDraft, readDraft } from "../drafts.js";
import { can } from "../state.js";
import { handedLink } from "../page/handed-link.js";
import { addressChoice } from "./address-choice.js";
import { eventLink } from "./addresses.js";
import { lettingIn, reachWords } from "./letting-in.js";

const DRAFT = "text-files";
const ROLES = /** @type {const} */ ([
  ["charter", "charting laptops"],
  ["booth", "booth pages"],
  ["viewer", "graphics and the event page"],
  ["desk", "this desk, opened from other devices"],
]);

/** What a text layer can show alone; `a` is the first team, and each is there for `b`, too. */
const VALUES = [
  ["The match", "title.txt, round.txt, time.txt"],
  ["Teams", "team-a.txt, team-a-player-1.txt, team-a-player-2.txt"],
  ["Score", "points-a.txt, games-a.txt, game.txt, finished-games.txt, call.txt"],
  ["Serve", "serving-team.txt, server.txt, server-number.txt, service-court.txt, receiver.txt"],
  ["State", "on-offense.txt, paused.txt, time-outs-left-a.txt, game-point.txt, match-point.txt, winner.txt"],
  ["Next match", "next-match.txt, next-team-a.txt, next-round.txt, next-time.txt"],
];

/** @param {Desk} desk */
export function filesRoom(desk) {
  const files = can(desk.state, "/text-files");
  const keys = can(desk.state, "/desk/keys");
  return html`<div class="split">
    ${files ? textFiles(desk) : nothing}
    <div class="stacked">${can(desk.state, "/event") ? eventPage(desk) : nothing} ${keys ? accessLinks(desk) : nothing}</div>
    ${files || keys ? nothing : html`<p class="quiet">This host writes no text files and has no access links.</p>`}
  </div>`;
}

/** @param {State} state what stands in the field: typed, half typed before, else what is in use */
const folderText = ({ folder, host }) => folder.text ?? readDraft(DRAFT) ?? host?.text_files.folder ?? "";

/** @param {Desk} desk */
function textFiles(desk) {
  const { state } = desk;
  const { folder = null, problem = null } = state.host?.text_files ?? {};
  const said =
    folder === null
      ? "Nothing is written."
      : problem === null
        ? `Writing to ${folder}.`
        : `Cannot write to ${folder}: ${problem}`;
  return html`<section class="card" aria-label="Text files">
    <h2>Text files for streaming programs</h2>
    <p>For a text layer that reads a file. In the folder each court gets a folder of its own name with:</p>
    <ul>
      <li>score.txt: the call and both teams</li>
      <li>state.txt: who is on offense, or that nobody is</li>
      <li>names.txt: title and names</li>
      <li>a file for each value, so that each has its own place and look</li>
    </ul>
    <details>
      <summary>The files with one value</summary>
      <ul class="values">
        ${VALUES.map(([what, files]) => html`<li>${what}: <code>${files}</code></li>`)}
      </ul>
    </details>
    <p class="quiet">
      They are written whole, within a tenth of a second of a change, and only when something changes.
    </p>
    <p class="caution">${CONSENT_CAUTION}</p>
    <form
      novalidate
      @submit=${(/** @type {SubmitEvent} */ event) => {
        event.preventDefault();
        void choose(desk);
      }}
    >
      ${textField({
        id: "text-folder",
        label: "Folder",
        value: folderText(state),
        fault: state.folder.fault,
        isCode: true,
        advice: "A folder of this computer that exists, such as /home/me/stream or C:\\stream",
        put: (text) => {
          keepDraft(DRAFT, text);
          desk.change({ folder: { text, fault: "" } });
        },
      })}
      <div class="row">
        <button class="chief">Write the files there</button>
        ${folder === null ? nothing : html`<button type="button" @click=${() => write(desk, null)}>Stop</button>`}
      </div>
    </form>
    <p role="status">${said}</p>
  </section>`;
}

/** @param {Desk} desk */
async function choose(desk) {
  const folder = folderText(desk.state).trim();
  const fault = folder === "" ? "Name a folder first." : "";
  desk.change({ folder: { text: folder, fault } });
  if (fault !== "") document.getElementById("text-folder")?.focus();
  else if (await write(desk, folder)) keepDraft(DRAFT, null);
}

/** @param {Desk} desk @param {string | null} folder */
function write(desk, folder) {
  const before = desk.state.host?.text_files.folder ?? null;
  const words = folder === null ? "Nothing is written any more; the files stay as they are." : `Writing to ${folder}.`;
  return desk.act(() => desk.host.writeTextFiles(folder), words, {
    said: before === null ? "Nothing is written." : `Writing to ${before} again.`,
    run: () => desk.host.writeTextFiles(before),
  });
}

/** @param {Desk} desk */
function eventPage(desk) {
  const link = { links: desk.state.links, own: desk.host };
  return html`<section class="card" aria-label="Event page">
    <h2>Event page</h2>
    <p>For players and spectators, on their phones: the schedule, the courts now, the results. It prints, too.</p>
    ${handedLink(desk, {
      label: "event page",
      href: eventLink({ ...link, where: "other" }),
      open: eventLink({ ...link, where: "this" }),
      withCode: true,
    })}
    <p class="caution">Whoever has this link sees every name on the schedule. ${CONSENT_CAUTION}</p>
  </section>`;
}

/** @param {Desk} desk */
function accessLinks(desk) {
  const { links } = desk.state;
  const reach =
    links === null
      ? reachWords(desk.state)
      : links.reachable
        ? `Other devices reach this host at ${links.addresses.join(" or ")}.`
        : `Only this computer reaches the host. ${links.hint ?? ""}`;
  return html`<section class="card" aria-label="Access links">
    <h2>Access links</h2>
    <p>${reach}</p>
    ${lettingIn(desk, { alsoOut: true })} ${addressChoice(desk, "files-address")}
    <p>
      Links for other devices open only what they are for. If one has got into wrong hands, make a new link: the old one
      stops working at once, and pages open with it are cut off.
    </p>
    <ul class="keys">
      ${ROLES.map(
        ([role, whose]) =>
          html`<li>
            <span>Links of ${whose}</span>
            <button type="button" ?disabled=${links === null} @click=${() => newLink(desk, role, whose)}>
              New link …<span class="rt-hidden"> for ${whose}</span>
            </button>
          </li>`,
      )}
    </ul>
  </section>`;
}

/** @param {Desk} desk @param {Role} role @param {string} whose */
async function newLink(desk, role, whose) {
  const words =
    role === "desk"
      ? "Every desk opened from another device is cut off at once and has to be opened again with its new link. This cannot be undone."
      : `All links of ${whose} handed out so far stop working, and pages open with them on other devices are cut off at once, also where a match is on. What a charting laptop has not sent yet stays in it. Hand out the new links right after. This cannot be undone.`;
  const title = `Make a new link for ${whose}?`;
  const answer = await desk.ask({ title, words, answers: [{ value: "yes", label: "Make a new link" }] });
  if (answer === "") return;
  let ended = 0;
  await desk.act(
    async () => {
      const links = await desk.host.newKey(role);
      ended = links.ended ?? 0;
      desk.takeLinks(links);
    },
    () =>
      `The link is new${ended === 0 ? "" : `, and ${countWords(ended, "open page")} with the old one ${ended === 1 ? "was" : "were"} cut off`}: hand it out again.`,
  );
}
