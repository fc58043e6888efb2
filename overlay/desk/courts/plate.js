// A court on the desk: who plays, the score, how charter, graphic and booth are, and
// one next step. Everything rare is behind More, so that plates keep their places.

/**
 * @import { CourtState, DeskHeader } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { agoWords, countWords, delayWords } from "../../shared/format.js";
import { html, nothing } from "../../shared/html.js";
import { nameFit } from "../../shared/words.js";
import { openCorrection } from "../corrections/correction.js";
import {
  courtWords,
  isLate,
  kindWords,
  matchLine,
  scoreLine,
  scorersOf,
  stoppedLine,
  versus,
} from "../page/telling.js";
import { matchOf, nextOn } from "../state.js";
import { pause, reopen, start } from "./actions.js";
import { clashes } from "./clashes.js";
import { placeCautions } from "./place-cautions.js";

/** @param {Desk} desk @param {CourtState} court */
export function plate(desk, court) {
  const { state } = desk;
  const match = matchOf(state, court.match);
  const shown = state.trouble === "" ? courtWords(court) : `${courtWords(court)} (last known)`;
  return html`<article class="court" data-state=${court.state} data-court=${court.court}>
    <header>
      <h3><span class="label">Court </span>${court.court}</h3>
      <span class="about">${match === null ? "" : matchLine(match.header)}</span>
      <span class="state">${shown}</span>
    </header>
    ${match === null ? html`<p class="empty quiet">No match on this court.</p>` : teams(court, match.header)}
    <p class="score">${match === null ? "" : scoreWords(court, match.header)}</p>
    ${match === null ? nothing : placeCautions(desk, match)} ${health(desk, court)} ${steps(desk, court)}
  </article>`;
}

/** @param {CourtState} court @param {DeskHeader} header */
function scoreWords(court, header) {
  if (court.score === null) return "";
  return (court.state === "finished" ? stoppedLine : scoreLine)(court.score, header);
}

/** @param {CourtState} court @param {DeskHeader} header */
function teams({ score }, header) {
  const several = header.format.games > 1;
  return html`<div class="teams">
    ${
      /** @type {const} */ (["a", "b"]).map(
        (team) => html`<div class="team" ?data-serves=${score?.winner === null && score.serving === team}>
        <span class="rt-shape" data-team=${team}></span>
        <span class="rt-name" data-fit=${nameFit(header.teams[team].name)}>${header.teams[team].name}</span>
        ${several ? html`<span class="games" title="Games won">${score?.games[team] ?? 0}</span>` : nothing}
        <span class="points" title="Points">${score?.points[team] ?? 0}</span>
      </div>`,
      )
    }
  </div>`;
}

/**
 * Shape and words, never color alone.
 * @param {Desk} desk @param {CourtState} court
 */
function health({ state }, court) {
  const { viewers, entries, last_entry: last } = court;
  const charters = scorersOf(court.charters);
  if (state.trouble !== "") return html`<p class="health quiet">Who is connected is not known.</p>`;
  const late = Math.max(...charters.map(({ late_ms }) => late_ms ?? 0));
  const elsewhere =
    court.match !== null &&
    charters.length > 0 &&
    charters.every((one) => one.match != null && one.match !== court.match);
  const charter =
    charters.length === 0
      ? {
          how: isWaitedFor(court) ? (entries > 0 ? "bad" : "none") : "none",
          words: entries > 0 && isWaitedFor(court) ? "Charter not connected" : "No charter",
        }
      : elsewhere
        ? { how: "soon", words: "Charter still on another match" }
        : isLate(late)
          ? { how: "soon", words: `Charter delay ${delayWords(late)}` }
          : { how: "good", words: charters.length === 1 ? "Charter" : countWords(charters.length, "charter") };
  const places = [
    charter,
    ...(charters.length < court.charters.length ? [{ how: "good", words: "Cues" }] : []),
    {
      how: viewers.viewer > 0 ? "good" : "none",
      words:
        viewers.viewer === 0 ? "No graphic" : viewers.viewer === 1 ? "Graphic" : countWords(viewers.viewer, "graphic"),
    },
    {
      how: viewers.booth > 0 ? "good" : "none",
      words: viewers.booth === 0 ? "No booth" : viewers.booth === 1 ? "Booth" : countWords(viewers.booth, "booth"),
    },
  ];
  const heard =
    last === null
      ? ""
      : `charted ${agoWords(Date.now() + state.clockMs - Date.parse(last.received ?? last.at))} (${kindWords(last.kind)})`;
  return html`<div class="health">
    ${places.map(({ how, words }) => html`<span class="place" data-how=${how}>${words}</span>`)}
    <span class="last quiet">${heard}</span>
  </div>`;
}

/** A match is on that has to be charted. @param {CourtState} court */
export const isWaitedFor = ({ state }) => state === "ready" || state === "playing" || state === "paused";

/** @param {Desk} desk @param {CourtState} court */
function steps(desk, court) {
  const { state, court: name } = court;
  const next = nextOn(desk.state, name);
  const isFree = state === "empty" || state === "finished";
  const isAlone = isWaitedFor(court) && scorersOf(court.charters).length === 0 && desk.state.trouble === "";
  const against = isFree && next !== null ? clashes(next, desk.state.host?.matches ?? []) : [];
  // What the rallies have decided only a correction undoes.
  const canReopen = state === "finished" && (court.score?.winner == null || court.last_entry?.kind === "retire");
  // Several courts have the same buttons: each says whose it is to those who only listen.
  const whose = html`<span class="rt-hidden">, court ${name}</span>`;
  const open = () => desk.change({ courtDialog: name, courtForm: { match: "", to: "", fault: "" } });
  return html`
    ${against.map((words) => html`<p class="caution">${words}</p>`)}
    <div class="row">
      ${
        isFree && next !== null
          ? html`<button type="button" class="chief" @click=${() => start(desk, next.id, name)}>
              Start next: ${versus(next.header)}${whose}
            </button>`
          : nothing
      }
      ${isAlone ? html`<button type="button" class="chief" @click=${open}>Show the charter's link${whose}</button>` : nothing}
      ${
        state === "paused"
          ? html`<button type="button" class=${isAlone ? "" : "chief"} @click=${() => pause(desk, name, false)}>
              Resume${whose}
            </button>`
          : nothing
      }
      ${
        state === "playing" || state === "ready"
          ? html`<button type="button" @click=${() => pause(desk, name, true)}>Pause${whose}</button>`
          : nothing
      }
      ${
        court.match !== null && court.entries > 0 && !isAlone
          ? html`<button type="button" @click=${() => openCorrection(desk, name)}>Correct …${whose}</button>`
          : nothing
      }
      ${canReopen ? html`<button type="button" @click=${() => reopen(desk, name)}>Reopen${whose}</button>` : nothing}
      <button type="button" @click=${open}>More${whose}</button>
    </div>
  `;
}
