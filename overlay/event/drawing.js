// Draws the page from what is heard and asked for. Pure.

/**
 * @import { EventCourt, EventMatch } from "../types/host.js"
 * @import { Side } from "../types/view.js"
 * @import { Heard } from "./asking.js"
 */
import { clockWords, countWords } from "../shared/format.js";
import { html, nothing, repeat } from "../shared/html.js";
import { REPLACED_WORDS } from "../shared/words.js";
import { aboutWords, endedWords, gamesOf, nameOf, partsOf, playersOf, standsWords } from "./telling.js";

/** @typedef {{ text: string, team: string }} Asked */

const SIDES = /** @type {const} */ (["a", "b"]);

/**
 * @param {Heard} heard
 * @param {Asked} asked
 * @param {(text: string) => void} search
 */
export function page(heard, asked, search) {
  return html`
    <header>
      <h1>Scores and schedule</h1>
      <p class="line" role="status">${lineWords(heard)}</p>
      ${heard.day === null ? nothing : asking(asked, search)}
    </header>
    ${heard.day === null ? nothing : day(heard.day, asked)}
  `;
}

/** How fresh it is, and why it is not. @param {Heard} heard */
function lineWords({ day, heardAt, trouble }) {
  const shown = heardAt === 0 ? "" : ` Shown below: as of ${clockWords(heardAt)}.`;
  switch (trouble) {
    case "away":
      return `Can't reach the host.${shown} This page keeps trying.`;
    case "replaced":
      return `${REPLACED_WORDS}.${shown} Ask for the new link.`;
    case "refused":
      return "This link does not open the schedule. Ask whoever runs the event for a new one.";
    default:
      return day === null ? "Connecting …" : "";
  }
}

/** Whole addresses: the host gives the page a base, its files' folder, and a mere fragment would lead there. @param {string} hash */
const here = (hash) => `${location.pathname}${location.search}${hash}`;

/** @param {Asked} asked @param {(text: string) => void} search */
function asking({ text, team }, search) {
  if (team !== "")
    return html`<div class="asking">
      <h2 class="whose">${team}</h2>
      <a class="button" href=${here("#")}>All matches</a>
    </div>`;
  return html`<div class="asking" role="search">
    <input
      type="search"
      aria-label="Find a team, player, round or court"
      placeholder="Find a team or player"
      .value=${text}
      @input=${(/** @type {InputEvent} */ event) => search(/** @type {HTMLInputElement} */ (event.target).value)}
    />
  </div>`;
}

/** @param {NonNullable<Heard["day"]>} day @param {Asked} asked */
function day(day, asked) {
  const { now, toCome, results } = partsOf(day, asked);
  const parts = [
    { id: "now", title: "On court", count: now.length, draw: () => courts(now) },
    { id: "to-come", title: "To come", count: toCome.length, draw: () => list(toCome) },
    { id: "results", title: "Results", count: results.length, draw: () => list(results) },
  ].filter(({ count }) => count > 0);
  if (parts.length === 0)
    return html`<main>
      <p class="quiet">${day.matches.length === 0 ? "No match is planned yet." : "No match has that name in it."}</p>
    </main>`;
  return html`
    ${
      asked.team !== "" || parts.length === 1
        ? nothing
        : html`<nav aria-label="Parts of this page">
            ${parts.map(({ id, title, count }) => html`<a href=${here(`#${id}`)}>${title} <b>${count}</b></a>`)}
          </nav>`
    }
    <main>
      ${repeat(
        parts,
        ({ id }) => id,
        ({ id, title, count, draw }) =>
          html`<section id=${id} aria-labelledby=${`${id}-title`}>
            <h2 id=${`${id}-title`}>${title}<span class="rt-hidden">, ${countWords(count, id === "now" ? "court" : "match", id === "now" ? "courts" : "matches")}</span></h2>
            ${draw()}
          </section>`,
      )}
    </main>
  `;
}

/** @param {{ court: EventCourt, match: EventMatch | null, next: EventMatch | null }[]} now */
function courts(now) {
  return html`<ul class="courts">
    ${repeat(
      now,
      ({ court }) => court.court,
      ({ court, match, next }) =>
        html`<li class="card" data-state=${court.state}>
          <p class="head">
            <b class="court">Court ${court.court}</b>
            <span class="about">${match === null ? "" : aboutWords(match)}</span>
          </p>
          ${match === null ? nothing : teams(match)}
          <p class="stands">${endsWords(match) || standsWords(court, match)}</p>
          ${next === null ? nothing : html`<p class="next">Next: ${nextWords(next)}</p>`}
        </li>`,
    )}
  </ul>`;
}

/** @param {EventMatch} next */
const nextWords = (next) =>
  [next.time, next.round, `${nameOf(next, "a")} v ${nameOf(next, "b")}`].filter((words) => words !== "").join(" · ");

/** @param {EventMatch | null} match */
const endsWords = (match) => (match === null ? "" : endedWords(match));

/** @param {EventMatch[]} matches */
function list(matches) {
  return html`<ol class="matches">
    ${repeat(
      matches,
      ({ id }) => id,
      (match) => {
        const ended = endedWords(match);
        return html`<li>
          <p class="when">
            <b class="time">${match.time}</b>
            ${match.court === null ? nothing : html`<span>Court ${match.court}</span>`}
            <span class="about">${aboutWords(match)}</span>
            ${ended === "" ? nothing : html`<span class="ended">${ended}</span>`}
          </p>
          ${teams(match)}
        </li>`;
      },
    )}
  </ol>`;
}

/** Both teams, a line each, with the points of every game. @param {EventMatch} match */
function teams(match) {
  const { score, state } = match;
  return html`<div class="teams">
    ${SIDES.map((team) => {
      const serves = state === "on" && score !== null && score.winner === null && score.serving === team;
      const isWinner = score !== null && score.winner === team;
      return html`<div class="team" data-result=${isWinner ? "won" : nothing}>
        <span class="name">
          <a href=${here(`#team=${encodeURIComponent(match.teams[team].name)}`)}>${nameOf(match, team)}</a>
          ${isWinner ? html`<span class="mark">won</span>` : nothing}
          ${serves ? html`<span class="mark">serves</span>` : nothing}
          ${players(match, team)}
        </span>
        ${games(match, team)}
      </div>`;
    })}
  </div>`;
}

/** @param {EventMatch} match @param {Side} team */
function players(match, team) {
  const names = playersOf(match, team);
  return names === "" ? nothing : html`<small class="players">${names}</small>`;
}

/** @param {EventMatch} match @param {Side} team */
function games(match, team) {
  const played = gamesOf(match, team);
  if (played.length === 0) return nothing;
  const isOn = match.state === "on";
  return html`<span class="games">
    ${played.map(
      ({ points, isWon }, at) =>
        html`<span class="points" data-won=${isWon ? "" : nothing} data-now=${isOn && at === played.length - 1 ? "" : nothing}
          ><span class="rt-hidden">game ${at + 1}: </span>${points}</span
        >`,
    )}
  </span>`;
}
