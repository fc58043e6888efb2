// What is rare on a court, and its links and codes: in a dialog of its own, so that
// the plates behind it keep their places.

/**
 * @import { CourtState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { choiceField, textField } from "../../shared/fields.js";
import { countWords } from "../../shared/format.js";
import { html, nothing } from "../../shared/html.js";
import { openCorrection } from "../corrections/correction.js";
import { addressChoice } from "../files/address-choice.js";
import { PAGES, eventLink, pageLink } from "../files/addresses.js";
import { lettingIn, reachWords } from "../files/letting-in.js";
import { handedLink } from "../page/handed-link.js";
import { charterWords, courtWords, matchLine, scorersOf, versus, viewerWords } from "../page/telling.js";
import { can, courtOf, matchOf } from "../state.js";
import { end, move, removeCourt, removeMatch, start, startable } from "./actions.js";
import { CABLE_CAUTION, FLASH_CAUTION } from "./cautions.js";

/** Why a match that can be started stands in the list; in front, where a narrow list shows it. @type {Record<string, string>} */
const ORIGIN = { planned: "", put_aside: "interrupted: ", finished: "finished: " };

/** @param {Desk} desk */
export function courtDialog(desk) {
  const court = courtOf(desk.state, desk.state.courtDialog);
  if (court === null) return nothing;
  const match = matchOf(desk.state, court.match);
  const close = () => desk.change({ courtDialog: null });
  return html`<dialog class="court-dialog" aria-labelledby="court-dialog" @close=${close}>
    <div class="head">
      <h2 id="court-dialog">Court ${court.court}</h2>
      <span class="state">${courtWords(court)}</span>
      <button type="button" @click=${close}>Close</button>
    </div>
    <p>${match === null ? "No match on this court." : versus(match.header)}</p>
    <ul class="charters">
      ${charters(desk, court).map((words) => html`<li>${words}</li>`)}
    </ul>
    <p class="quiet">${quiet(desk, court)}</p>
    ${actions(desk, court, close)} ${links(desk, court)}
  </dialog>`;
}

/** @param {Desk} desk @param {CourtState} court */
function charters({ state }, court) {
  const connected = charterWords(court.charters, { ...state, match: court.match });
  const isOver = court.state === "empty" || court.state === "finished";
  if (isOver || state.trouble !== "" || scorersOf(court.charters).length > 0) return connected;
  return [court.entries === 0 ? "Nobody charts here yet." : "No charting laptop is connected now.", ...connected];
}

/** @param {Desk} desk @param {CourtState} court */
function quiet({ state }, court) {
  const parts = state.trouble === "" ? [viewerWords(court.viewers)] : [];
  if (court.match !== null) parts.push(countWords(court.entries, "entry", "entries"));
  return parts.join(" · ");
}

/** @param {Desk} desk @param {CourtState} court @param {() => void} close */
function actions(desk, court, close) {
  const { state, match, court: name, viewers } = court;
  const { courtForm } = desk.state;
  const free = startable(desk.state.host?.matches ?? [], court);
  const chosen = free.find(({ id }) => id === courtForm.match) ?? free[0];
  const isUnused = match === null && court.charters.length === 0 && viewers.viewer + viewers.booth === 0;
  /** @param {string} label @param {() => unknown} act */
  const closing = (label, act) =>
    html`<button
      type="button"
      @click=${() => {
        close();
        void act();
      }}
    >
      ${label}
    </button>`;
  return html`<section aria-label="Actions">
    <div class="row">
      ${match !== null && court.entries > 0 ? closing("Correct …", () => openCorrection(desk, name)) : nothing}
      ${match !== null && state !== "finished" ? closing("End match …", () => end(desk, name)) : nothing}
      ${match !== null ? closing("Remove from court", () => removeMatch(desk, name)) : nothing}
      ${isUnused ? closing("Remove this court", () => removeCourt(desk, name)) : nothing}
    </div>
    ${
      chosen === undefined
        ? nothing
        : html`<div class="together">
            ${choiceField({
              id: "court-match",
              label: `Another match for court ${name}`,
              value: chosen.id,
              choices: free.map((one) => [
                one.id,
                `${ORIGIN[one.state] ?? ""}${versus(one.header)}${withComma(matchLine(one.header))}`,
              ]),
              put: (id) => desk.change({ courtForm: { ...courtForm, match: id } }),
            })}
            ${closing("Start", () => start(desk, chosen.id, name))}
          </div>`
    }
    ${
      match === null || state === "finished"
        ? nothing
        : html`<form
            class="together"
            novalidate
            @submit=${(/** @type {SubmitEvent} */ event) => {
              event.preventDefault();
              void move(desk, name, courtForm.to.trim());
            }}
          >
            ${textField({
              id: "court-to",
              label: "Move this match to court",
              value: courtForm.to,
              fault: courtForm.fault,
              longest: 64,
              put: (to) => desk.change({ courtForm: { ...courtForm, to } }),
            })}
            <button>Move</button>
          </form>`
    }
  </section>`;
}

/** @param {Desk} desk */
function eventPage(desk) {
  const link = { links: desk.state.links, own: desk.host };
  return html`<div class="page-link">
    <h4>Event page, for everybody</h4>
    ${handedLink(desk, {
      label: "event page",
      href: eventLink({ ...link, where: "other" }),
      open: eventLink({ ...link, where: "this" }),
      withCode: true,
    })}
  </div>`;
}

/** @param {string} words */
const withComma = (words) => (words === "" ? "" : `, ${words}`);

/** @param {Desk} desk @param {CourtState} court */
function links(desk, { court }) {
  return html`<section aria-label="Links and QR codes">
    <h3>Links and QR codes</h3>
    ${addressChoice(desk, "court-address")}
    <p class="advice">${reachWords(desk.state)}</p>
    ${lettingIn(desk)}
    <div class="page-links">
      ${PAGES.map(({ page, where, label, about }) => {
        const link = { court, page, links: desk.state.links, own: desk.host };
        return html`<div class="page-link">
          <h4>${label}, ${about}</h4>
          ${handedLink(desk, {
            label: `${label} of court ${court}`,
            href: pageLink({ ...link, where }),
            open: pageLink({ ...link, where: "this" }),
            withCode: true,
          })}
        </div>`;
      })}
      ${can(desk.state, "/event") ? eventPage(desk) : nothing}
    </div>
    <p class="caution">${CABLE_CAUTION}</p>
    <p class="caution">${FLASH_CAUTION}</p>
  </section>`;
}
