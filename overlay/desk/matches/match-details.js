// One match of the schedule: how it stands and what can be done with it.

/**
 * @import { MatchState } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { html, nothing } from "../../shared/html.js";
import { matchForm } from "../../shared/match-form/match-form.js";
import { start } from "../courts/actions.js";
import { clashes } from "../courts/clashes.js";
import { placeCautions } from "../courts/place-cautions.js";
import { formatWords, matchLine, matchStateWords, scoreLine, stoppedLine, versus } from "../page/telling.js";
import { plannedCourt } from "../state.js";
import { downloads } from "./downloads.js";
import { changeEdited, leaveEdited, openMatches, remove, save } from "./editing.js";

/** @param {Desk} desk @param {MatchState} match */
export function matchDetails(desk, match) {
  const { header, state, score, entries, id } = match;
  const planned = state === "planned";
  const waits = planned || state === "put_aside";
  const line = state === "on" ? scoreLine : stoppedLine;
  const who = versus(header);
  return html`<section class="card details" aria-label="One match">
    <div class="head">
      <h2>${who}</h2>
      <button type="button" @click=${() => openMatches()}>Close</button>
    </div>
    <p>
      <span class="state">${matchStateWords(match)}</span> ${matchLine(header)}${
        state === "on" ? "" : ` · court ${plannedCourt(match)}`
      }
    </p>
    ${score == null || planned ? nothing : html`<p class="score">${line(score, header)}</p>`}
    <p class="quiet">${formatWords(header)}</p>
    ${clashes(match, desk.state.host?.matches ?? []).map((words) => html`<p class="caution">${words}</p>`)}
    ${placeCautions(desk, match)}
    <div class="row">
      ${
        waits
          ? html`<button type="button" class="chief" @click=${() => start(desk, id, plannedCourt(match))}>
              Start on court ${plannedCourt(match)}
            </button>`
          : nothing
      }
      <button type="button" aria-label=${`Change: ${who}`} @click=${() => openMatches(`match/${id}/change`)}>Change</button>
      ${
        planned
          ? html`<button type="button" aria-label=${`Remove: ${who}`} @click=${() => remove(desk, match)}>Remove</button>`
          : nothing
      }
      ${
        planned || entries === 0
          ? nothing
          : html`<a
              class="button"
              href=${desk.host.follow(`/review/${encodeURIComponent(id)}`)}
              target="_blank"
              aria-label=${`Review: ${who} (new tab)`}
              >Review (new tab)</a
            >`
      }
    </div>
    ${planned || entries === 0 ? nothing : downloads(desk, id)}
  </section>`;
}

/** @param {Desk} desk @param {MatchState} match */
export function matchChange(desk, match) {
  const { edited } = desk.state;
  if (edited === null || edited.id !== match.id) return nothing;
  const { begun = false } = edited.form;
  return html`<section class="card" aria-label="Change a match">
    <h2>Change: ${versus(match.header)}</h2>
    ${begun ? html`<p class="advice">It has begun: names, title, round, time and colors can change, the way of scoring cannot.</p>` : nothing}
    ${matchForm({
      id: "edited",
      form: edited.form,
      submit: "Save",
      change: (part) => changeEdited(desk, part),
      save: (header) => save(desk, match.id, header),
      cancel: () => leaveEdited(desk, match.id),
    })}
  </section>`;
}
