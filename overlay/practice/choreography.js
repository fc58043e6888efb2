// Where ball and players are at any moment of a rally, and what is written beside
// them. The court's measures are published ones; how players move is invented, as
// near as it has to be to tell the strokes apart. Pure: (rally, ms) → scene.

/**
 * @import { Team } from "../types/messages.js"
 * @import { PlayedShot, Rally } from "./made-up.js"
 */

/** Feet: 44 × 20, a kitchen of 7 on each side (USA Pickleball rulebook 2026, 3.A.1 and 3.A.4.c). */
export const COURT = { half: 22, side: 10, kitchen: 7 };

/** @typedef {{ x: number, y: number }} Spot feet from the middle of the net; team a stands at negative x */
/** @typedef {{ at: number, spot: Spot, kind: "bounce" | "half_volley" | "air" | "landing" }} Mark */
/** @typedef {{ at: number, spot: Spot, kind: "stroke" | "cue" | "end", shot: number, word: string }} Tag `shot`: its place from 0 */
/**
 * @typedef {object} Plan a rally worked out
 * @property {number} from ms before the serve at which it can be shown
 * @property {number} until ms at which the last ball has come to rest
 * @property {Leg[]} legs the ways of the ball
 * @property {Stand[]} stands where everybody is when a shot is struck, and at the end
 * @property {Mark[]} marks
 * @property {Tag[]} tags
 * @property {number[]} moments everything that happens, in order
 */
/** @typedef {{ from: number, until: number, start: Spot, stop: Spot, height: number, bounce: { at: number, spot: Spot } | null }} Leg */
/** @typedef {{ at: number, a: Spot[], b: Spot[] }} Stand */
/** @typedef {{ ball: Spot & { height: number }, a: Spot[], b: Spot[], marks: Mark[], tags: Tag[], struck: number }} Scene `struck`: shots seen so far */

/** Time to find the server before the serve, and for the last ball to come down. */
const LEAD_MS = 1500;
const LAST_LEG_MS = 900;
/** Where a team stands along the court, feet from the net. */
const BACK = 23;
const COMING = 14;
const LINE = 8;
/** How high a ball goes at most, in feet, by stroke: invented, for the drawing only. */
const HEIGHT = {
  serve: 7,
  return: 7,
  drop: 8,
  lob: 18,
  dink: 4,
  reset: 5,
  drive: 4,
  speedup: 3.5,
  volley: 3.5,
  block: 4,
  overhead: 3,
  erne: 3,
  atp: 3,
  other: 5,
};

/** @param {Rally} rally @returns {Plan} */
export function plan(rally) {
  const stands = standsOf(rally);
  const hits = rally.shots.map((shot, place) => hitSpot(rally, stands, shot, place));
  const legs = rally.shots.map((shot, place) => legOf(rally, hits, shot, place));
  const last = rally.shots.at(-1)?.at ?? 0;
  const until = last + LAST_LEG_MS;
  const marks = marksOf(rally, hits, legs);
  const tags = tagsOf(rally, hits, legs);
  const moments = [...new Set([...marks, ...tags].map(({ at }) => at).concat(until))].sort((one, other) => one - other);
  return { from: -LEAD_MS, until, legs, stands, marks, tags, moments };
}

/** @param {Plan} plan @param {number} ms @returns {Scene} */
export function sceneAt(plan, ms) {
  const leg = plan.legs.filter(({ from }) => from <= ms).at(-1) ?? plan.legs[0];
  const next = plan.stands.findIndex(({ at }) => at > ms);
  const after = plan.stands[next === -1 ? plan.stands.length - 1 : next];
  const before = plan.stands[next === -1 ? plan.stands.length - 1 : Math.max(0, next - 1)];
  const between = (/** @type {Team} */ team) =>
    (before?.[team] ?? []).map((spot, player) =>
      mix(spot, after?.[team][player] ?? spot, shareOf(ms, before?.at ?? 0, after?.at ?? 0)),
    );
  return {
    ball: leg === undefined ? { x: 0, y: 0, height: 0 } : ballAt(leg, ms),
    a: between("a"),
    b: between("b"),
    marks: plan.marks.filter(({ at }) => at <= ms).slice(-2),
    tags: currentTags(plan.tags.filter(({ at }) => at <= ms)),
    struck: plan.tags.filter(({ kind, at }) => kind === "stroke" && at <= ms).length,
  };
}

/** The latest stroke with its cues and the one before it; once it is over, the last one with the end. @param {readonly Tag[]} tags */
function currentTags(tags) {
  const latest = tags.reduce((most, { shot }) => Math.max(most, shot), -1);
  const oldest = tags.some(({ kind }) => kind === "end") ? latest : latest - 1;
  return tags.filter(({ shot }) => shot >= oldest);
}

/** The moment that `ms` still shows when nothing glides. @param {Plan} plan @param {number} ms */
export const steppedBack = (plan, ms) => plan.moments.filter((at) => at <= ms).at(-1) ?? plan.from;

/** @param {Leg} leg @param {number} ms @returns {Spot & { height: number }} */
function ballAt({ from, until, start, stop, height, bounce }, ms) {
  const share = shareOf(ms, from, until);
  if (bounce === null) return { ...mix(start, stop, share), height: arc(share) * height };
  if (ms < bounce.at) {
    const part = shareOf(ms, from, bounce.at);
    return { ...mix(start, bounce.spot, part), height: arc(part) * height };
  }
  const part = shareOf(ms, bounce.at, until);
  return { ...mix(bounce.spot, stop, part), height: arc(Math.min(0.5, part * 0.6)) * Math.min(4, height / 2) };
}

/** 0 at both ends, 1 in the middle. @param {number} share */
const arc = (share) => 4 * share * (1 - share);
/** @param {number} ms @param {number} from @param {number} until */
const shareOf = (ms, from, until) => (until <= from ? 1 : Math.min(1, Math.max(0, (ms - from) / (until - from))));
/** @param {Spot} one @param {Spot} other @param {number} share @returns {Spot} */
const mix = (one, other, share) => ({ x: one.x + (other.x - one.x) * share, y: one.y + (other.y - one.y) * share });
/** @param {Team} team which way its half lies */
const away = (team) => (team === "a" ? -1 : 1);
/** Team a looks to the right of the drawing: its right hand is below. @param {Team} team @param {"right" | "left"} court */
const lane = (team, court) => ((team === "a") === (court === "right") ? 5 : -5);

/** @param {Rally} rally @returns {Stand[]} */
function standsOf({ score, shots }) {
  const { serving } = score;
  const receiving = serving === "a" ? "b" : "a";
  const court = score.court === "left" ? "left" : "right";
  const rows = { server: lane(serving, court), receiver: lane(receiving, court) };
  const own = (/** @type {Team} */ team, /** @type {number} */ player, /** @type {number} */ depth) => {
    const [first, row] = team === serving ? [score.server_player, rows.server] : [score.receiver_player, rows.receiver];
    return { x: away(team) * depth, y: player === (first ?? 0) ? row : -row };
  };
  let servers = BACK;
  /** @type {Stand[]} */
  const stands = shots.map((shot, place) => {
    const before = shots[place - 1];
    if (place === 3) servers = COMING;
    if (
      before !== undefined &&
      before.team === serving &&
      place > 2 &&
      ["drop", "reset", "dink"].includes(before.stroke) &&
      shot.contact !== "air"
    )
      servers = LINE;
    if (shot.team === serving && shot.stroke === "dink") servers = LINE;
    const receivers = place < 2 ? BACK : LINE;
    const depths = { [serving]: [servers, servers], [receiving]: [receivers, receivers] };
    const partner = (score.receiver_player ?? 0) === 0 ? 1 : 0;
    if (place < 2) /** @type {number[]} */ (depths[receiving])[partner] = LINE;
    const spots = (/** @type {Team} */ team) => (depths[team] ?? []).map((depth, player) => own(team, player, depth));
    return { at: shot.at, a: spots("a"), b: spots("b") };
  });
  const last = stands.at(-1);
  return last === undefined ? [] : [...stands, { ...last, at: last.at + LAST_LEG_MS }];
}

/** Which of two players strikes: as charted, else in turn with the ball. @param {Rally} rally @param {PlayedShot} shot @param {number} place */
export function strikerOf({ score, shots }, shot, place) {
  if (place === 0) return score.server_player ?? 0;
  if (place === 1) return score.receiver_player ?? 0;
  return shot.player ?? (Math.floor(place / 2) + shots.length + Math.round(shot.at / 100)) % 2;
}

/** @param {Rally} rally @param {readonly Stand[]} stands @param {PlayedShot} shot @param {number} place @returns {Spot} */
function hitSpot(rally, stands, shot, place) {
  const spot = stands[place]?.[shot.team][strikerOf(rally, shot, place)] ?? { x: away(shot.team) * BACK, y: 0 };
  const reach = shot.cues.includes("off_balance") ? 3 : shot.cues.includes("awkward") ? 0 : 1.2;
  const at = { x: spot.x - away(shot.team) * 0.6, y: spot.y + (spot.y > 0 ? -1 : 1) * reach };
  if (shot.stroke === "erne" || shot.stroke === "atp")
    return { x: away(shot.team) * (shot.stroke === "erne" ? 2 : 6), y: spot.y > 0 ? 11 : -11 };
  return at;
}

/** @param {Rally} rally @param {readonly Spot[]} hits @param {PlayedShot} shot @param {number} place @returns {Leg} */
function legOf(rally, hits, shot, place) {
  const start = hits[place] ?? { x: 0, y: 0 };
  const answered = rally.shots[place + 1];
  const height = /** @type {Record<string, number>} */ (HEIGHT)[shot.stroke] ?? 5;
  if (answered === undefined) return lastLeg(rally, start, shot, height);
  const stop = hits[place + 1] ?? start;
  const leg = { from: shot.at, until: answered.at, start, stop, height, bounce: null };
  if (answered.contact === "air" || answered.contact === null) return leg;
  const share = answered.contact === "half_volley" ? 0.93 : 0.74;
  const spot = mix(start, stop, share);
  // A bounce lies on the side of those who answer.
  if (spot.x * away(answered.team) < 1.5) spot.x = away(answered.team) * 1.5;
  return { ...leg, bounce: { at: shot.at + (answered.at - shot.at) * share, spot } };
}

/** @param {Rally} rally @param {Spot} start @param {PlayedShot} shot @param {number} height @returns {Leg} */
function lastLeg({ end }, start, shot, height) {
  const other = -away(shot.team);
  const side = start.y > 0 ? -1 : 1;
  const lands = {
    net: { x: away(shot.team) * 0.4, y: start.y * 0.6 },
    out: { x: other * (COURT.half + 2.2), y: side * 4 },
    fault: { x: other * 4, y: side * 3 },
  };
  const spot = /** @type {Record<string, Spot>} */ (lands)[end.how] ?? { x: other * 15, y: side * 9 };
  const leg = { from: shot.at, until: shot.at + LAST_LEG_MS, start, height };
  if (end.how === "net") return { ...leg, stop: spot, height: 2, bounce: null };
  return { ...leg, stop: { x: spot.x + other * 1.5, y: spot.y }, bounce: { at: shot.at + LAST_LEG_MS * 0.75, spot } };
}

/** @param {Rally} rally @param {readonly Spot[]} hits @param {readonly Leg[]} legs @returns {Mark[]} */
function marksOf({ shots }, hits, legs) {
  return shots
    .flatMap((shot, place) => {
      /** @type {Mark[]} */
      const marks = [];
      const { bounce } = legs[place] ?? { bounce: null };
      const answered = shots[place + 1];
      if (bounce !== null)
        marks.push({
          at: bounce.at,
          spot: bounce.spot,
          kind: answered === undefined ? "landing" : answered.contact === "half_volley" ? "half_volley" : "bounce",
        });
      if (shot.contact === "air") marks.push({ at: shot.at, spot: hits[place] ?? { x: 0, y: 0 }, kind: "air" });
      return marks;
    })
    .sort((one, other) => one.at - other.at);
}

/** @param {Rally} rally @param {readonly Spot[]} hits @param {readonly Leg[]} legs @returns {Tag[]} */
function tagsOf({ shots, end }, hits, legs) {
  /** @type {Tag[]} */
  const tags = [];
  shots.forEach(({ stroke, cues, at }, shot) => {
    const spot = hits[shot] ?? { x: 0, y: 0 };
    tags.push({ at, spot, kind: "stroke", shot, word: stroke });
    const leg = legs[shot];
    for (const cue of cues) {
      // What the ball does shows on its way, what the body does at once.
      const share = cue === "attackable" ? 0.35 : cue === "net_cord" ? 0.5 : 0;
      const until = Math.min(leg?.until ?? at, leg?.bounce?.at ?? Infinity);
      tags.push({ at: at + (until - at) * share, spot, kind: "cue", shot, word: cue });
    }
  });
  const last = legs.at(-1);
  if (last !== undefined)
    tags.push({
      at: last.bounce?.at ?? last.until - 200,
      spot: last.bounce?.spot ?? last.stop,
      kind: "end",
      shot: shots.length - 1,
      word: end.how,
    });
  return tags.sort((one, other) => one.at - other.at);
}
