// What a page's URL asks for, read once. Pure: takes the address, gives options
// and, for everything it could not use, a sentence saying what is allowed.

import { parseColor } from "./colors.js";
import { LONGEST_DELAY_MS, parseDelay } from "./delay.js";
import { withKey } from "./key.js";
import { LEAST_FOR_PERCENT } from "./words.js";

/** Pieces of the graphic, in drawing order. `show` holds what `?show=` names. */
export const PIECES = /** @type {const} */ (["strap", "insert", "score", "moment", "show", "tide", "ribbon"]);

/** What stands there where the address asks for nothing: the game stays visible. */
export const DEFAULT_PIECES = /** @type {readonly Piece[]} */ (["strap", "insert", "show"]);

/** Where a piece can stand, all inside the part of the picture every screen shows. */
export const ANCHORS = /** @type {const} */ ([
  "top-left",
  "top",
  "top-right",
  "left",
  "center",
  "right",
  "bottom-left",
  "bottom",
  "bottom-right",
]);

export const THEMES = /** @type {const} */ (["dark", "light", "text"]);

/** An indicator by name, with its slot behind a slash: `third.won/drop`. */
const INDICATOR = /^[a-z0-9_-]+(?:\.[a-z0-9_-]+)*(?:\/[^,/]+)?$/;

/** @typedef {(typeof PIECES)[number]} Piece */
/** @typedef {(typeof ANCHORS)[number]} Anchor */
/** @typedef {(typeof THEMES)[number]} Theme */

/**
 * @typedef {object} Options
 * @property {readonly Piece[]} pieces
 * @property {Readonly<Partial<Record<Piece, Anchor>>>} at where a piece stands, if not at its own place
 * @property {readonly string[]} show indicators to show, as `name` or `name/slot`
 * @property {Theme | null} theme null where the address says nothing
 * @property {number} delayMs
 * @property {number} scale
 * @property {boolean} still motion is switched off by the URL
 * @property {number} minCases cases from which on a share is a percentage
 * @property {string | null} recorded address of a recorded feed
 * @property {number} pace
 * @property {string} feed address of the live feed, without role
 * @property {string | null} a team color, `#rrggbb`
 * @property {string | null} b
 * @property {readonly string[]} problems
 */

/**
 * @param {string} href the page's own address
 * @returns {Options}
 */
export function readOptions(href) {
  const address = new URL(href);
  const query = address.searchParams;
  /** @type {string[]} */
  const problems = [];
  return {
    pieces: readPieces(query.get("pieces"), problems),
    at: readPlaces(query.get("at"), problems),
    show: readShow(query.get("show"), problems),
    theme: readTheme(query.get("theme"), problems),
    delayMs: readDelay(query.get("delay"), problems),
    scale: readNumber("scale", query.get("scale"), { least: 0.25, most: 4, otherwise: 1 }, problems),
    still: readMotion(query.get("motion"), problems),
    minCases: readNumber(
      "min-cases",
      query.get("min-cases"),
      { least: 1, most: 10_000, otherwise: LEAST_FOR_PERCENT },
      problems,
    ),
    recorded: resolve(query.get("recorded"), href),
    pace: readNumber("pace", query.get("pace"), { least: 0, most: 1000, otherwise: 1 }, problems),
    feed: withKey(query.get("feed") ?? "feed", href).href,
    a: readColor("color-a", query.get("color-a"), problems),
    b: readColor("color-b", query.get("color-b"), problems),
    problems,
  };
}

/**
 * The feed of a page at `/courts/{court}/graphic` is its neighbor `feed`.
 * @param {string} feed
 * @param {"viewer" | "booth"} role
 */
export function withRole(feed, role) {
  const address = new URL(feed);
  address.searchParams.set("role", role);
  return address.href;
}

/**
 * @param {string | null} text
 * @param {string} href
 */
function resolve(text, href) {
  return text === null ? null : new URL(text, href).href;
}

/**
 * @param {string | null} text
 * @param {string[]} problems
 * @returns {readonly Piece[]}
 */
function readPieces(text, problems) {
  if (text === null) return DEFAULT_PIECES;
  const asked = text.split(",").map((name) => name.trim());
  for (const name of asked) {
    if (!PIECES.some((piece) => piece === name)) {
      problems.push(`\`pieces\` knows no \`${name}\`; allowed are ${PIECES.join(", ")}`);
    }
  }
  return PIECES.filter((piece) => asked.includes(piece));
}

/**
 * @param {string | null} text `tide:top,ribbon:bottom-left`
 * @param {string[]} problems
 */
function readPlaces(text, problems) {
  /** @type {Partial<Record<Piece, Anchor>>} */
  const places = {};
  for (const part of text === null ? [] : text.split(",")) {
    const [name, where] = part.split(":").map((word) => word.trim());
    const piece = PIECES.find((one) => one === name);
    const anchor = ANCHORS.find((one) => one === where);
    if (piece !== undefined && anchor !== undefined) places[piece] = anchor;
    else {
      problems.push(
        `\`at\` holds \`${part}\`; allowed is a piece (${PIECES.join(", ")}), a colon and a place (${ANCHORS.join(", ")})`,
      );
    }
  }
  return places;
}

/**
 * @param {string | null} text
 * @param {string[]} problems
 * @returns {string[]}
 */
function readShow(text, problems) {
  if (text === null) return [];
  const names = text.split(",").map((name) => name.trim());
  for (const name of names) {
    if (!isIndicatorName(name))
      problems.push(`\`show\` holds \`${name}\`; allowed are indicators like rally.longest or third.won/drop`);
  }
  return [...new Set(names.filter(isIndicatorName))];
}

/** @param {string} text */
export function isIndicatorName(text) {
  return INDICATOR.test(text);
}

/**
 * @param {string | null} text
 * @param {string[]} problems
 * @returns {Theme | null}
 */
function readTheme(text, problems) {
  if (text === null) return null;
  const theme = THEMES.find((one) => one === text);
  if (theme === undefined) problems.push(`\`theme\` is \`${text}\`; allowed are ${THEMES.join(", ")}`);
  return theme ?? null;
}

/**
 * @param {string | null} text
 * @param {string[]} problems
 */
function readDelay(text, problems) {
  if (text === null) return 0;
  const delay = parseDelay(text);
  if (delay === null) {
    problems.push(`\`delay\` is \`${text}\`; allowed is a time like 2.5s or 2500ms, up to ${LONGEST_DELAY_MS / 1000}s`);
  }
  return delay ?? 0;
}

/**
 * @param {string} name
 * @param {string | null} text
 * @param {{ least: number, most: number, otherwise: number }} range
 * @param {string[]} problems
 */
function readNumber(name, text, { least, most, otherwise }, problems) {
  if (text === null) return otherwise;
  const value = text.trim() === "" ? NaN : Number(text);
  if (value >= least && value <= most) return value;
  problems.push(`\`${name}\` is \`${text}\`; allowed is a number from ${least} to ${most}`);
  return otherwise;
}

/**
 * @param {string | null} text
 * @param {string[]} problems
 */
function readMotion(text, problems) {
  if (text !== null && text !== "off" && text !== "on") {
    problems.push(`\`motion\` is \`${text}\`; allowed are on, off`);
  }
  return text === "off";
}

/**
 * @param {string} name
 * @param {string | null} text
 * @param {string[]} problems
 */
function readColor(name, text, problems) {
  if (text === null) return null;
  const color = parseColor(text);
  if (color === null) problems.push(`\`${name}\` is \`${text}\`; allowed is a color like 0072B2`);
  return color;
}
