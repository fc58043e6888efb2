// Every word a page says about a match, in one place: states, reasons, strokes,
// ends, scores, numbers. Pure functions from data to text; no nodes, no styles.
// A code that is not known here is said as it came, so that a later host's
// words appear without a change of this page.

/**
 * @import { Lean, Moment, Side, StruckReason } from "../types/view.js"
 * @import { MatchHeader, RallyEndView, Reason, Score, ShotView, Value } from "../types/messages.js"
 */

import { labelOf, namedIndicator } from "./indicators.js";
import { percentWords, secondsWords } from "./format.js";
import { wilson } from "./interval.js";
import { CUES, ENDS, plainWords, REASONS, STROKES, wordFor } from "./trade-words.js";

/** A viewer reads no more than this in a second. */
export const MOST_WHY_WORDS = 4;

/** Below this many cases a share is said as "2 of 3", never as a percentage, unless a page asks for another number. */
export const LEAST_FOR_PERCENT = 8;

/** What else shows a line to say: the shot or the entry that it speaks of. */
const SHOWN = new Map([
  ["ace", "the ace"],
  ["atp", "the ball around the post"],
  ["course", "last ball of the game"],
  ["decider", "who serves first"],
  ["erne", "the erne"],
  ["game", "last ball of the game"],
  ["match", "last ball of the match"],
  ["point", "the score"],
  ["saved", "last ball of the rally"],
  ["time_out", "the time-out"],
  ["total", "last ball of the match"],
]);

/**
 * @param {MatchHeader | null} match
 * @param {Side} team
 */
export function teamName(match, team) {
  return match?.teams[team].name || `Team ${team.toUpperCase()}`;
}

/**
 * Empty where the match names no such player.
 * @param {MatchHeader | null} match
 * @param {Side} team
 * @param {number} player
 */
export function playerName(match, team, player) {
  return match?.teams[team].players?.[player] ?? "";
}

/**
 * @param {Lean} lean
 * @param {Side} team
 * @returns {"offense" | "defense" | ""} empty while nobody holds
 */
export function stateWord(lean, team) {
  if (lean.phase !== "play" || lean.toward === null) return "";
  return lean.toward === team ? "offense" : "defense";
}

/**
 * Why, in at most four words: only what speaks against the team under
 * pressure, the most telling first.
 * @param {Lean} lean
 * @returns {string}
 */
export function whyWords(lean) {
  if (lean.phase !== "play" || lean.toward === null) return "";
  const against = lean.toward === "a" ? "b" : "a";
  /** @type {string[]} */
  const said = [];
  for (const code of Object.keys(REASONS)) {
    const reason = lean.why.find((one) => one.team === against && one.code === code);
    if (reason === undefined) continue;
    const words = reasonWords(reason);
    if (countWords([...said, words]) <= MOST_WHY_WORDS) said.push(words);
  }
  return said.join(", ");
}

/** @param {readonly string[]} phrases */
function countWords(phrases) {
  return phrases.join(" ").split(" ").length;
}

/**
 * A reason is a cue, an indicator whose figure is said (`third.won/drop`), or
 * what a line to say speaks of. An attack is called by the stroke of its shot.
 * @param {StruckReason} reason
 */
export function reasonWords({ code, stroke }) {
  if (code === "attack" && stroke === "atp") return wordFor(STROKES, stroke);
  const known = REASONS[code] ?? SHOWN.get(code);
  if (known !== undefined) return known;
  if (!code.includes(".")) return plainWords(code);
  const { indicator, slot } = namedIndicator(code);
  return labelOf(indicator, slot);
}

/**
 * A figure with what it is worth: "10 of 15 (67%), range 42 to 85%".
 * @param {Value} value
 * @param {MatchHeader | null} [match]
 * @param {number} [least] cases from which on a share is a percentage
 */
export function figureWords(value, match = null, least = LEAST_FOR_PERCENT) {
  const range = rangeWords(value, least);
  return `${valueWords(value, match, least)}${range === "" ? "" : `, range ${range}`}`;
}

/**
 * Reasons with the strokes of their shots.
 * @param {readonly Reason[]} why
 * @param {readonly Pick<ShotView, "entry" | "stroke">[]} shots of the same rally
 * @returns {readonly StruckReason[]}
 */
export function withStrokes(why, shots) {
  return why.map((reason) =>
    reason.code === "attack"
      ? { ...reason, stroke: shots.find(({ entry }) => entry === reason.entry)?.stroke ?? null }
      : reason,
  );
}

/**
 * Who struck a shot: the player where known, else the team.
 * @param {MatchHeader | null} match
 * @param {Pick<ShotView, "team" | "player">} shot
 */
export function strikerName(match, { team, player }) {
  return (player == null ? "" : playerName(match, team, player)) || teamName(match, team);
}

/** @param {ShotView} shot */
export function strokeWord(shot) {
  if (shot.stroke === null) return shot.assumed ? "not seen" : "shot";
  return wordFor(STROKES, shot.stroke);
}

/**
 * One shot as somebody would tell it: "dink, taken in the air, high ball".
 * @param {ShotView} shot
 */
export function shotWords(shot) {
  return [strokeWord(shot), contactWords(shot), ...shot.cues.map((cue) => wordFor(CUES, cue))]
    .filter((words) => words !== "")
    .join(", ");
}

/** @param {ShotView} shot */
function contactWords(shot) {
  // Said only where the stroke does not already say it.
  if (shot.contact === "half_volley") return "half volley";
  const inTheAir = ["volley", "block", "overhead", "erne"].includes(shot.stroke ?? "");
  return shot.contact === "air" && !inTheAir ? "taken in the air" : "";
}

/**
 * What a shot left behind: "Okafor / Lind on offense", "nobody ahead".
 * @param {ShotView} shot
 * @param {MatchHeader | null} match
 */
export function shotLeanWords(shot, match) {
  const contested = shot.flags.includes("contested") ? ", both pressed" : "";
  if (shot.toward === null) return `neutral${contested}`;
  return `${teamName(match, shot.toward)} on offense${contested}`;
}

/** @param {RallyEndView} end */
function howWords(end) {
  if (end.how === null || end.how === "unknown") return "";
  return wordFor(ENDS, end.how);
}

/**
 * How a rally ended, said beside the shape of the team that won it.
 * @param {RallyEndView} end
 */
export function endTag(end) {
  const how = howWords(end);
  if (end.won_by === null) return how || "not counted";
  if (how === "" || end.by === end.won_by) return how || "won";
  return `won, ${how}`;
}

/**
 * @param {RallyEndView} end
 * @param {MatchHeader | null} match
 */
export function endWords(end, match) {
  const word = howWords(end);
  if (end.won_by === null) return word || "not counted";
  const player = end.by === null || end.player == null ? "" : playerName(match, end.by, end.player);
  const who = player || (end.by === null || end.by === end.won_by ? "" : teamName(match, end.by));
  const by = who === "" ? "" : ` by ${who}`;
  return `won by ${teamName(match, end.won_by)}${word === "" ? "" : `, ${word}${by}`}`;
}

/**
 * @param {{ number: number, end: RallyEndView | null }} rally
 * @param {MatchHeader | null} match
 */
export function rallyTitle({ number, end }, match) {
  return `Rally ${number}: ${end === null ? "not ended" : endWords(end, match)}`;
}

/** @param {Score} score */
export function callWords(score) {
  return score.call === null ? "" : score.call.replaceAll("-", "–");
}

/**
 * @param {Score} score
 * @param {MatchHeader | null} match
 */
export function gameWords(score, match) {
  if (match === null) return `Game ${score.game}`;
  const { games, points } = match.format;
  return games === 1 ? `Game to ${points}` : `Game ${score.game}, best of ${games}`;
}

/** Said by the score plate, and where there is none by the tide line. */
export const PAUSED_WORDS = "Play is paused";

/** Said where the desk has made a new key and this page holds the old one. */
export const REPLACED_WORDS = "This link was replaced";

/**
 * @param {Score} score
 * @returns {string[]}
 */
export function serveWords(score) {
  return [score.server === null ? "serving" : `server ${score.server}`, `${score.court} side`];
}

/**
 * @param {Score} score
 * @param {Side} team
 */
export function pointAtStake(score, team) {
  if (score.match_point === team) return "match point";
  return score.game_point === team ? "game point" : "";
}

/**
 * @param {Score} score
 * @param {MatchHeader | null} match
 * @param {string} [glue] what stands between the team and what it did
 */
export function resultWords(score, match, glue = " ") {
  if (score.winner === null) return "";
  return `${teamName(match, score.winner)}${glue}won the match${byRetirement(score, match) ? ", opponents retired" : ""}`;
}

/**
 * A win without the games it takes can only come from a team that stopped.
 * @param {Score} score
 * @param {MatchHeader | null} match
 */
export function byRetirement(score, match) {
  if (score.winner === null || match === null) return false;
  return score.games[score.winner] < gamesToWin(match);
}

/** @param {MatchHeader} match */
export function gamesToWin(match) {
  return Math.floor(match.format.games / 2) + 1;
}

/**
 * @param {Moment} moment
 * @param {Score | null} score
 * @returns {{ title: string, detail: string }}
 */
export function momentWords({ kind, team, streak }, score) {
  // It says what it counts: a bare "4 in a row" would read as points.
  const row = streak < 2 ? "" : `${streak} times in a row`;
  switch (kind) {
    case "escape":
      return { title: "out of pressure", detail: row };
    case "turned":
      return { title: "from defense to offense", detail: "" };
    case "game":
      return { title: `won game ${streak}`, detail: scoreFor(team, score?.finished[streak - 1]) };
    case "match":
      return { title: "won the match", detail: scoreFor(team, score?.games) };
    default:
      return { title: kind, detail: "" };
  }
}

/**
 * @param {Side | null} team its figure stands first
 * @param {{ a: number, b: number } | undefined} figures
 */
function scoreFor(team, figures) {
  if (figures === undefined || team === null) return "";
  return `${figures[team]}–${figures[team === "a" ? "b" : "a"]}`;
}

/**
 * @param {Value} value
 * @param {MatchHeader | null} [match] names the teams, where a value speaks of one
 * @param {number} [least] cases from which on a share is a percentage
 */
export function valueWords(value, match = null, least = LEAST_FOR_PERCENT) {
  switch (value.type) {
    case "count":
      return String(value.n);
    case "share":
      return shareWords(value.part, value.whole, least);
    case "chance":
      return percentWords(value.p);
    case "lean":
      return value.toward === null ? "even" : `towards ${teamName(match, value.toward)}`;
    case "duration":
      return secondsWords(value.ms);
    case "text":
      return value.text;
    case "flag":
      return value.on ? "yes" : "no";
    default:
      return "";
  }
}

/**
 * @param {number} part
 * @param {number} whole
 * @param {number} least
 */
function shareWords(part, whole, least) {
  if (whole === 0) return "none yet";
  const counted = `${part} of ${whole}`;
  return whole < least ? counted : `${counted} (${percentWords(part / whole)})`;
}

/**
 * The range of a share that has cases enough for a percentage, else nothing.
 * @param {Value} value
 * @param {number} [least] as above
 */
export function rangeWords(value, least = LEAST_FOR_PERCENT) {
  if (value.type !== "share" || value.whole < least) return "";
  const { low, high } = wilson(value.part, value.whole);
  return `${percentWords(low).replace("%", "")} to ${percentWords(high)}`;
}

/**
 * A name that fits: as it is, else every partner's hyphenated name by its first part,
 * else each of them cut to an equal share of the room. Both partners stay readable.
 * @param {string} name like "Okafor / Lind"
 * @param {number} most letters
 */
export function shortName(name, most) {
  const length = (/** @type {string} */ text) => [...text].length;
  if (length(name) <= most) return name;
  const partners = name.split(/\s*\/\s*/).map((partner) => partner.replace(/(?<=[^\s-]{3})-\S+/g, ""));
  if (length(partners.join(" / ")) <= most) return partners.join(" / ");
  let room = most - 3 * (partners.length - 1);
  // The shortest first: what it leaves over is the others'.
  const cut = new Map();
  const byLength = [...partners.keys()].sort(
    (one, other) => length(partners[one] ?? "") - length(partners[other] ?? ""),
  );
  for (const [done, at] of byLength.entries()) {
    const share = Math.max(2, Math.floor(room / (partners.length - done)));
    const letters = [...(partners[at] ?? "")];
    const shown =
      letters.length <= share
        ? letters.join("")
        : `${letters
            .slice(0, share - 1)
            .join("")
            .trimEnd()}…`;
    room -= length(shown);
    cut.set(at, shown);
  }
  return partners.map((_, at) => cut.get(at)).join(" / ");
}

/**
 * How tightly a name must be set to fit its place: 0 as it is, to 3 smallest.
 * @param {string} name
 * @returns {0 | 1 | 2 | 3}
 */
export function nameFit(name) {
  const length = [...name].length;
  if (length <= 16) return 0;
  if (length <= 23) return 1;
  return length <= 32 ? 2 : 3;
}
