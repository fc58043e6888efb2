// What the page says about a match, and which matches somebody asks for. Pure.

/**
 * @import { EventCourt, EventDay, EventMatch } from "../types/host.js"
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Side } from "../types/view.js"
 */
import { byRetirement, gameWords, pointAtStake, teamName } from "../shared/words.js";

/** The words about a match need its names and its format, and nothing else of a header. @param {EventMatch} match */
const asHeader = (match) => /** @type {MatchHeader} */ (/** @type {unknown} */ (match));

/** @param {EventMatch} match @param {Side} team */
export const nameOf = (match, team) => teamName(asHeader(match), team);

/** The players, where the team's name does not name them already. @param {EventMatch} match @param {Side} team */
export function playersOf(match, team) {
  const { name, players } = match.teams[team];
  return players.length === 0 || players.join(" / ") === name ? "" : players.join(", ");
}

/** Round and title, as far as there are any. @param {EventMatch} match */
export const aboutWords = ({ round, title, teams }) =>
  [round, title === `${teams.a.name} v ${teams.b.name}` ? "" : title].filter((words) => words !== "").join(" · ");

/** @type {Record<EventCourt["state"], string>} */
const COURT_STATES = {
  empty: "No match now",
  ready: "About to start",
  playing: "Playing",
  paused: "Play is paused",
  finished: "Finished",
};

/** How a court's match stands, in a line. @param {EventCourt} court @param {EventMatch | null} match @returns {string} */
export function standsWords({ state }, match) {
  const said = COURT_STATES[state] ?? state;
  const score = match?.score ?? null;
  if (match === null || score === null || state === "ready" || state === "finished") return said;
  const at = /** @type {const} */ (["a", "b"]).find((team) => pointAtStake(score, team) !== "");
  const stake = at === undefined ? [] : [`${pointAtStake(score, at)} ${nameOf(match, at)}`];
  return [said, gameWords(score, asHeader(match)), ...stake].join(" · ");
}

/** Why a match ended otherwise than by its games; empty where it did not. @param {EventMatch} match */
export function endedWords(match) {
  const { state, score } = match;
  if (state === "put_aside") return "Interrupted";
  if (state !== "finished") return "";
  if (score === null || score.winner === null) return "Ended without a winner";
  if (!byRetirement(score, asHeader(match))) return "";
  return `${nameOf(match, score.winner === "a" ? "b" : "a")} retired`;
}

/**
 * A team's points, game by game. A match that stopped before its end has a last game without a winner.
 * @param {EventMatch} match @param {Side} team
 * @returns {{ points: number, isWon: boolean }[]}
 */
export function gamesOf(match, team) {
  const { score, state } = match;
  if (score === null) return [];
  const other = team === "a" ? "b" : "a";
  const games = score.finished.map((game) => ({ points: game[team], isWon: game[team] > game[other] }));
  const isStopped = score.winner === null || byRetirement(score, asHeader(match));
  const hasPoints = score.points.a + score.points.b > 0;
  if (isStopped && (state === "on" || hasPoints)) games.push({ points: score.points[team], isWon: false });
  return games;
}

/** @param {string} text */
const plain = (text) => text.trim().toLowerCase();

/** Whether a team of that name plays, or a player. @param {EventMatch} match @param {string} name */
export const isPlaying = ({ teams }, name) =>
  [teams.a, teams.b].some((team) => [team.name, ...team.players].some((one) => plain(one) === plain(name)));

/** @param {EventMatch} match */
const wordsOf = ({ teams, round, title, time, court }) =>
  plain(
    [
      ...[teams.a, teams.b].flatMap((team) => [team.name, ...team.players]),
      round,
      title,
      time,
      `court ${court ?? ""}`,
    ].join(" "),
  );

/**
 * Those that hold the text as it was typed, so that `QF 3` is one match; where none
 * does, those that hold each of its words.
 * @param {readonly EventMatch[]} matches @param {string} text
 */
export function found(matches, text) {
  const exact = matches.filter((match) => wordsOf(match).includes(plain(text)));
  if (exact.length > 0) return exact;
  const words = plain(text).split(/\s+/);
  return matches.filter((match) => words.every((word) => wordsOf(match).includes(word)));
}

/**
 * What is shown, in three parts. A match that is over stands among the results at
 * once, and on its court until the next one comes onto it.
 * @param {EventDay} day
 * @param {{ text: string, team: string }} asked for; empty: everything
 */
export function partsOf({ courts, matches }, { text, team }) {
  const asked = team === "" ? found(matches, text) : matches.filter((match) => isPlaying(match, team));
  const byId = new Map(matches.map((match) => [match.id, match]));
  const matchOf = (/** @type {string | null} */ id) => (id === null ? null : (byId.get(id) ?? null));
  const now = courts.map((court) => ({ court, match: matchOf(court.match), next: matchOf(court.next) }));
  const isAll = team === "" && plain(text) === "";
  return {
    now: now.filter(({ match }) => isAll || (match !== null && asked.includes(match))),
    toCome: asked.filter(({ state }) => state === "planned" || state === "put_aside"),
    results: asked.filter(({ state }) => state === "finished"),
  };
}
