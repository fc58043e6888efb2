// The trade's words, once for all pages: strokes, contacts, cues, depths, ways a rally
// ends, states, and what speaks against a team. A code that is not known here is said
// as it came, so that a later host's words appear without a change of the pages. Pure.

/** @typedef {Readonly<Record<string, string>>} Words code to words */

/** @type {Words} */
export const STROKES = {
  serve: "serve",
  return: "return",
  drive: "drive",
  drop: "drop",
  dink: "dink",
  lob: "lob",
  reset: "reset",
  volley: "volley",
  block: "block",
  speedup: "speedup",
  overhead: "overhead",
  erne: "erne",
  atp: "around the post",
  other: "other shot",
};

/** @type {Words} */
export const CONTACTS = { bounce: "off the bounce", air: "in the air", half_volley: "half volley" };

/** What can be seen about a shot. @type {Words} */
export const CUES = {
  attackable: "high ball",
  off_balance: "off balance",
  awkward: "awkward",
  net_cord: "net cord",
};

/** @type {Words} */
export const DEPTHS = { back: "back", transition: "in transition", line: "at the kitchen line" };

/** How a rally ends. @type {Words} */
export const ENDS = {
  winner: "winner",
  ace: "ace",
  net: "ball in the net",
  out: "ball out",
  fault: "fault",
  unknown: "not seen",
  replay: "replay",
  cut_off: "unfinished",
};

/** @type {Words} */
export const FAULTS = {
  serve: "service fault",
  kitchen: "kitchen fault",
  early_volley: "volley before the bounce",
  second_bounce: "second bounce",
  net_touch: "touched the net",
  body: "ball hit a player",
  other: "another fault",
};

/** @type {Words} */
export const STATES = { offense: "offense", defense: "defense", neutral: "neutral" };

/** What the pressure is, said of the team under it; most telling first. @type {Words} */
export const REASONS = {
  attackable: "high ball",
  body: "off balance",
  attack: "sped up",
  half_volley: "half volley",
  air: "taken in the air",
  depth: "pinned back",
};

/** What is only flagged in a chart. @type {Words} */
export const FLAGS = {
  serve_by_receivers: "the receiving team serves",
  missed_shot: "a shot between was missed",
  no_serve: "no serve charted",
  no_shot: "its shot is gone",
  no_time_out_left: "no time-out left",
};

/** @param {unknown} code @returns {string} a code that has no words yet, made readable */
export const plainWords = (code) => String(code).replaceAll("_", " ");

/** @param {Words} words @param {unknown} code */
export const wordFor = (words, code) => words[String(code)] ?? plainWords(code);
