// Invented states of a match, as the wire says them. Builders only.

/** @import { MatchHeader, RallyView, Reading, Reason, Score, ShotView, Snapshot, Stroke, Team, Update, Value } from "../../types/messages.js" */

/** @type {MatchHeader & { court: string }} */
export const HEADER = {
  kind: "match",
  chart: 1,
  id: "invented",
  title: "Harbour Day, last round",
  court: "1",
  teams: {
    a: { name: "Quill / Abara", players: ["Ines Quill", "Tobi Abara"] },
    b: { name: "Fenn / Tarrow", players: ["Maro Fenn", "Lise Tarrow"] },
  },
  format: { discipline: "doubles", scoring: "side_out", points: 11, win_by: 2, games: 3 },
  first_serve: "a",
};

/** @type {Score} */
export const SCORE = {
  game: 2,
  games: { a: 1, b: 0 },
  points: { a: 3, b: 5 },
  call: "5-3-1",
  serving: "b",
  server: 1,
  server_player: 1,
  receiver_player: 1,
  court: "right",
  finished: [{ a: 11, b: 7 }],
  change_ends: false,
  near: "b",
  time_outs_left: { a: 2, b: 1 },
  game_point: null,
  match_point: null,
  winner: null,
  rallies: 61,
};

/** @param {string} indicator @param {Team | null} team @param {Value} value @param {Partial<Reading>} [extra] @returns {Reading} */
export function reading(indicator, team, value, extra = {}) {
  return {
    indicator,
    team,
    player: null,
    slot: null,
    value,
    why: [],
    flags: [],
    plugin: indicator.split(".")[0] ?? "",
    seq: 41,
    ...extra,
  };
}

/** @param {string} code @param {Team | null} team @param {string} [entry] @returns {Reason} */
export function reason(code, team, entry = "r12s3") {
  return { code, team, entry, inferred: false };
}

/** @param {Team | null} toward @param {number} [strength] @param {string[]} [codes] */
export function initiative(toward, strength = 1, codes = ["air"]) {
  const against = toward === "a" ? "b" : "a";
  const why = toward === null ? [] : codes.map((code) => reason(code, against));
  return reading("initiative", null, { type: "lean", toward, strength }, { why });
}

/** @param {number} n @param {Team} team @param {Stroke} stroke @param {Partial<ShotView>} [extra] @returns {ShotView} */
export function shot(n, team, stroke, extra = {}) {
  return {
    n,
    entry: `r12s${n}`,
    team,
    player: null,
    stroke,
    contact: "bounce",
    cues: [],
    assumed: false,
    toward: null,
    strength: 0,
    why: [],
    flags: [],
    ...extra,
  };
}

/** A rally in which `toward` holds after its third shot. @param {Team | null} [toward] @param {Partial<RallyView>} [extra] @returns {RallyView} */
export function rally(toward = null, extra = {}) {
  const held = { toward, strength: toward === null ? 0 : 1, why: initiative(toward).why };
  const shots = [shot(1, "b", "serve", { contact: null }), shot(2, "a", "return"), shot(3, "b", "drop", held)];
  return { number: 12, shots, end: null, earlier: [], ...extra };
}

/** @param {Partial<Snapshot>} [extra] @returns {Snapshot} */
export function snapshot(extra = {}) {
  return {
    type: "snapshot",
    seq: 41,
    revision: 0,
    match: HEADER,
    score: SCORE,
    readings: [
      initiative(null),
      reading("escape.streak", "a", { type: "count", n: 0 }),
      reading("escape.streak", "b", { type: "count", n: 0 }),
      reading("escape.share", "a", { type: "share", part: 2, whole: 3 }),
      reading("escape.share", "b", { type: "share", part: 9, whole: 14 }),
    ],
    rally: rally(),
    ...extra,
  };
}

/** A snapshot in which `toward` is on offense in a running rally. @param {Team | null} toward @param {number} [strength] @param {string[]} [codes] */
export function held(toward, strength = 1, codes = ["air"]) {
  const plain = snapshot();
  const readings = [initiative(toward, strength, codes), ...plain.readings.slice(1)];
  return { ...plain, readings, rally: rally(toward) };
}

/** @param {number} seq @param {Partial<Update>} [extra] @returns {Update} */
export function update(seq, extra = {}) {
  return { type: "update", seq, revision: 0, entry: { id: `e${seq}`, kind: "cue" }, readings: [], ...extra };
}
