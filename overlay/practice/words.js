// What practice says: shots, mistakes, sums and advice in words. Pure.

/**
 * @import { MatchHeader } from "../types/messages.js"
 * @import { Finding, Row, Shot } from "./compare.js"
 * @import { Verdict } from "./fixer.js"
 * @import { MarkSum } from "./marks.js"
 * @import { Tally, Weak } from "./tally.js"
 * @import { View } from "./trainer.js"
 */
import { said, teamName } from "../shared/charting/words.js";
import { secondsWords } from "../shared/format.js";
import { TEMPOS } from "./clock.js";
import { isUsual } from "./hints.js";
import { MISTAKES } from "./mistakes.js";
import { tally } from "./tally.js";

/** @param {Shot | null} shot */
export function shotWords(shot) {
  if (shot === null) return "–";
  const contact = isUsual(shot) || shot.contact === null ? [] : [said(shot.contact)];
  return [said(shot.stroke), ...contact, ...shot.cues.map(said)].join(", ");
}

/** @param {Row} row @param {MatchHeader} header */
export function rowWords(row, header) {
  const found = row.findings.map((finding) => findingWords(finding, header));
  if (row.swapped) found.push("on the other side, because of a shot before");
  if (found.length === 0) return row.charted === null ? "not asked for" : "right";
  return found.join("; ");
}

/** @param {Finding} finding @param {MatchHeader} header */
export function findingWords({ kind, what, instead }, header) {
  switch (kind) {
    case "missed":
      return "missed";
    case "extra":
      return "nobody played this";
    case "stroke":
      return "wrong stroke";
    case "contact":
      return `contact: ${said(what)}, not ${said(instead)}`;
    case "side":
      return "wrong side";
    case "cue_missed":
      return `${said(what)}: missed`;
    case "cue_extra":
      return `${said(what)}: wasn\u2019t there`;
    case "end_missed":
      return `its end was not charted: ${said(what)}`;
    case "end_how":
      return instead === "nothing"
        ? `how it ended was left out: ${said(what)}`
        : `it ended by ${said(what)}, not ${said(instead)}`;
    case "end_side":
      return `${teamName(header, what)} ended it, not ${teamName(header, instead)}`;
    case "end_extra":
      return "it was ended more than once";
  }
}

/** One mistake of a kind, several. @type {Record<keyof Tally["found"], [string, string]>} */
const COUNTED = {
  missed: ["shot missed", "shots missed"],
  extra: ["shot nobody played", "shots nobody played"],
  stroke: ["wrong stroke", "wrong strokes"],
  contact: ["wrong contact", "wrong contacts"],
  side: ["wrong side", "wrong sides"],
  cue_missed: ["cue missed", "cues missed"],
  cue_extra: ["cue that wasn\u2019t there", "cues that weren\u2019t there"],
  end_missed: ["end not charted", "ends not charted"],
  end_how: ["end of the wrong kind", "ends of the wrong kind"],
  end_side: ["end of the wrong side", "ends of the wrong side"],
  end_extra: ["end too many", "ends too many"],
};

/** @param {Tally} sum @returns {string[]} each kind of mistake that was made, counted */
export function mistakeWords({ found }) {
  return /** @type {(keyof Tally["found"])[]} */ (Object.keys(COUNTED)).flatMap((kind) =>
    found[kind] === 0 ? [] : [`${found[kind]} ${COUNTED[kind][found[kind] === 1 ? 0 : 1]}`],
  );
}

/** @param {Tally} sum */
export const rightWords = ({ shots, right, rallies, clean }) =>
  shots === 0
    ? `${clean} of ${rallies} ${rallies === 1 ? "rally" : "rallies"} right`
    : `${right} of ${shots} shots right`;

/** @param {{ median: number, worst: number } | null} lag seconds */
export function lagWords(lag) {
  if (lag === null) return "How far behind was not timed";
  if (lag.median < 0)
    return `Ahead of the ball: ${seconds(lag.median)} usually, the latest key ${seconds(lag.worst)}${lag.worst < 0 ? "" : " behind"}`;
  return `Behind by ${seconds(lag.median)} usually, ${seconds(lag.worst)} at worst`;
}

/** @param {number} value seconds */
export const seconds = (value) => (value < 0 ? `${secondsWords(-value * 1000)} early` : secondsWords(value * 1000));

/** @param {Tally} sum @returns {string} */
export function practiceNext({ strokes, cues }) {
  const weak = [
    ...strokes.slice(0, 3).map((one) => weakWords(one, "mistaken")),
    ...cues.slice(0, 2).map((one) => weakWords(one, "missed")),
  ];
  return weak.length === 0 ? "No mistakes." : `Practice next: ${weak.join(" · ")}`;
}

/** @param {Weak} weak @param {string} verb */
function weakWords({ name, of, mistaken, instead }, verb) {
  return `${said(name)} (${mistaken} of ${of} ${verb}${instead === null ? "" : `, taken for ${said(instead)}`})`;
}

/** Common practice of ours, no published threshold. @param {Pick<Tally, "shots" | "right" | "lag">} sum @param {number} tempo @returns {string} */
export function tempoAdvice({ shots, right, lag }, tempo) {
  const share = shots === 0 ? 0 : right / shots;
  const place = TEMPOS.indexOf(tempo);
  const faster = TEMPOS[place + 1];
  const slower = TEMPOS[place - 1];
  if (share >= 0.9 && (lag === null || lag.median <= 1) && faster !== undefined)
    return `You keep up: try ${tempoWords(faster)} next`;
  if (share < 0.7 && slower !== undefined)
    return `Try ${tempoWords(slower)} next, and look at the court, not at the keys`;
  return "";
}

/** The same thresholds as for strokes. @param {MarkSum} sum @param {number} tempo @returns {string} */
export function seatAdvice({ due, right, extra, lag }, tempo) {
  const shots = due + extra;
  const advice = tempoAdvice({ shots, right, lag: lag === null ? null : { ...lag, of: right } }, tempo);
  return advice === "" && shots > right
    ? "Mark only what you are sure of: a cue left out is no mistake of the rest"
    : advice;
}

/** @param {Verdict} verdict */
export function verdictWords({ fixed, keys, fewest, seconds: took, shown }) {
  if (!fixed) return shown ? "skipped, the keys looked up" : "skipped";
  const enough = fewest === 0 ? "" : keys <= fewest ? `, as few as can be` : `, ${fewest} are enough`;
  const how = fewest === 0 ? "in the score dialog" : `${keys} ${keys === 1 ? "key" : "keys"}${enough}`;
  return `${how}, ${seconds(took)}${shown ? ", the keys looked up" : ""}`;
}

/** @param {readonly Verdict[]} verdicts @returns {string} */
export function fixingAdvice(verdicts) {
  const weak = verdicts.filter(
    ({ fixed, shown, keys, fewest }) => !fixed || shown || (fewest > 0 && keys > fewest + 2),
  );
  const names = [...new Set(weak.map(({ kind }) => MISTAKES[kind]))];
  return names.length === 0 ? "You know how to fix all of these." : `Practice next: ${names.join(" · ")}`;
}

/** @param {number} tempo */
export const tempoWords = (tempo) => (tempo === 1 ? "real speed" : `${tempo} × real speed`);

/** @param {View} view @returns {string} where the set is */
export function phaseWords({ phase, header, rally, number, of, message, paused, comparison }) {
  if (header === null || rally === null || phase === "choose" || phase === "done") return "";
  const where = `Rally ${number} of ${of}`;
  if (message !== "") return `${where} · ${message}`;
  if (phase === "ready") return `${where} · ${teamName(header, rally.score.serving)} to serve`;
  if (phase === "waiting") return `${where} · Rally over: enter how it ended`;
  if (phase === "result" && comparison !== null) return `${where} · ${rightWords(tally([comparison]))}`;
  return paused ? `${where} · paused` : where;
}

/** @param {View} view @param {string} play the key that plays @returns {string} what to do now, where the volunteer has to know */
export function nowWords({ phase, message }, play) {
  if (phase === "ready" && message !== "")
    return `${message}: ${play === "" ? "play the rally first" : `press ${play} to play the rally`}, then chart it`;
  if (message !== "" || phase === "playing") return message;
  if (phase === "ready") return play === "" ? "Play the rally when you are ready" : `Press ${play} to play the rally`;
  if (phase === "waiting") return "Rally over: how did it end, and who hit last?";
  return "";
}
