// How busy charting keeps a person, reckoned from published values: no measurement of people.
//
// Every shot asks for a decision and for keys. The keys take their operator of the
// Keystroke-Level Model (Card, Moran & Newell 1980, "The keystroke-level model for user
// performance time with interactive systems", CACM 23 (7), 396–410). The decision takes the
// time that grows with its uncertainty (Hick 1952, "On the rate of gain of information",
// QJEP 4, 11–26; Hyman 1953, "Stimulus information as a determinant of reaction time", JEP
// 45, 188–196): so many milliseconds for every bit of H = Σ p log₂(1/p).
//
// Assumed: seeing and knowing a stroke overlap with the keys before it, so the constant part
// of a reaction is no load, it is lateness; keys are known by heart, so no M before each; the
// hands stay where they are, so no H; one thing is done after the other; ends of rallies are
// charted in the rest after them, so they take nothing of the time in play. Pure.

/** @import { Strokes } from "../shared/charting/presets.js" */
import { asked } from "./made-up.js";
import { shotActions } from "./hints.js";

/** Operators of the Keystroke-Level Model in seconds, as published in 1980. */
export const OPERATORS = {
  /** A key, by typist: the best (135 words a minute), good (90), average skilled (55), average non-secretary (40), who does not know the keyboard. */
  K: { best: 0.08, good: 0.12, skilled: 0.2, usual: 0.28, worst: 1.2 },
  /** To point at something with a mouse. */
  P: 1.1,
  /** To bring a hand from one device to another. */
  H: 0.4,
  /** To prepare for what comes. */
  M: 1.35,
};

/**
 * Seconds for a bit of uncertainty: the Model Human Processor's 150 ms (0 to 157), in Card, Moran &
 * Newell 1983, "The psychology of human-computer interaction", ch. 2; value from memory.
 */
export const SECONDS_A_BIT = 0.15;

/** Shots a second in play: 6,839 shots of 8 matches of men's professional doubles (an activity profile, abstract). */
export const SHOTS_A_SECOND = 1.018;

/**
 * What is struck, marked and seen in 7130 shots of `rallytide simulate` (seeds 1 to 8, best of
 * three): our own estimate, nothing published. Shots by stroke and contact.
 */
export const SIMULATED = {
  /** @type {readonly (readonly [string, import("../types/messages.js").Contact | null, number])[]} */
  shots: [
    ["serve", null, 729],
    ["return", "bounce", 702],
    ["dink", "bounce", 1468],
    ["dink", "air", 328],
    ["dink", "half_volley", 110],
    ["volley", "air", 1219],
    ["drop", "bounce", 562],
    ["drop", "half_volley", 22],
    ["drop", "air", 10],
    ["reset", "air", 334],
    ["reset", "half_volley", 116],
    ["reset", null, 59],
    ["reset", "bounce", 5],
    ["block", "air", 460],
    ["drive", "bounce", 373],
    ["speedup", "bounce", 205],
    ["speedup", "air", 123],
    ["overhead", "air", 150],
    ["lob", "bounce", 115],
    ["erne", "air", 35],
    ["atp", "bounce", 3],
    ["other", null, 2],
  ],
  cues: { off_balance: 723, attackable: 592, awkward: 451, net_cord: 77 },
  depths: 263,
  rallies: 734,
};

const SHOTS = SIMULATED.shots.reduce((sum, [, , count]) => sum + count, 0);

/** @param {readonly number[]} counts how often each of some things is the one @returns {number} bits of the decision between them: Σ p log₂(1/p) */
export function bitsOf(counts) {
  const sum = counts.reduce((all, count) => all + count, 0);
  return counts.reduce((bits, count) => (count === 0 ? bits : bits + (count / sum) * Math.log2(sum / count)), 0);
}

/** @typedef {{ keys: number, bits: number }} Work of one shot, on average */

/** The strokes: a return comes along with the third shot. @param {Strokes} strokes @returns {Work} */
export function strokeWork(strokes) {
  /** @type {Map<string, number>} */
  const taken = new Map();
  let keys = 0;
  for (const [stroke, contact, count] of SIMULATED.shots) {
    if (stroke === "return") continue;
    const number = stroke === "serve" ? 1 : 5;
    const [shot] = asked([{ team: /** @type {const} */ ("a"), stroke, contact, cues: [] }], strokes);
    const actions = shot === undefined ? [] : shotActions(shot, number, strokes);
    const name = actions.join(" ");
    taken.set(name, (taken.get(name) ?? 0) + count);
    keys += actions.length * count;
  }
  const decided = [...taken.values()].reduce((sum, count) => sum + count, 0);
  return { keys: keys / SHOTS, bits: (bitsOf([...taken.values()]) * decided) / SHOTS };
}

/** The cues: on every shot one decides whether there is one, and which. @returns {Work} */
export function cueWork() {
  const counts = Object.values(SIMULATED.cues);
  const marked = counts.reduce((sum, count) => sum + count, 0);
  return { keys: marked / SHOTS, bits: bitsOf([SHOTS - marked, ...counts]) };
}

/** Where the teams stand: seldom said. @returns {Work} */
export function depthWork() {
  const { depths } = SIMULATED;
  return { keys: depths / SHOTS, bits: bitsOf([SHOTS - depths, depths / 2, depths / 2]) };
}

/** @param {readonly Work[]} works @param {number} [share] of the shots that are charted @returns {Work} */
export const together = (works, share = 1) => ({
  keys: share * works.reduce((sum, one) => sum + one.keys, 0),
  bits: share * works.reduce((sum, one) => sum + one.bits, 0),
});

/** @param {Work} work @param {number} [key] seconds a key @returns {number} seconds a shot takes */
export const secondsOf = ({ keys, bits }, key = OPERATORS.K.usual) => keys * key + bits * SECONDS_A_BIT;

/** @param {Work} work @param {number} [key] seconds a key @returns {number} share of the time in play: from 1 on one falls behind */
export const loadOf = (work, key) => secondsOf(work, key) * SHOTS_A_SECOND;

/** Of a rally's shots, the last two: what is charted of it with rally results and cues. */
const LAST_TWO = (2 * SIMULATED.rallies) / SHOTS;

/** @returns {{ who: string, work: Work }[]} ways to chart, the busiest first */
export const ways = () => {
  const [all, few, cues, depths] = [strokeWork("all"), strokeWork("few"), cueWork(), depthWork()];
  return [
    { who: "every stroke, cues and depths", work: together([all, cues, depths]) },
    { who: "few strokes, cues and depths", work: together([few, cues, depths]) },
    { who: "every stroke; a second person has the cues and depths", work: all },
    { who: "few strokes; a second person has the cues and depths", work: few },
    { who: "the second person: cues and depths alone", work: together([cues, depths]) },
    { who: "rally results and cues: the last two shots of a rally", work: together([all, cues], LAST_TWO) },
    { who: "score only", work: { keys: 0, bits: 0 } },
  ];
};

const TABLE = [
  "who charts what",
  "keys a shot",
  "bits a shot",
  "seconds a shot",
  "share of the time in play",
  "of a skilled typist",
];

/** @returns {string} the table of README.md */
export function loadTable() {
  const rows = ways().map(({ who, work }) => [
    who,
    work.keys.toFixed(2),
    work.bits.toFixed(2),
    secondsOf(work).toFixed(2),
    loadOf(work).toFixed(2),
    loadOf(work, OPERATORS.K.skilled).toFixed(2),
  ]);
  return [TABLE, TABLE.map(() => "---"), ...rows].map((cells) => `| ${cells.join(" | ")} |`).join("\n");
}
