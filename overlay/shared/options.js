// What a page's URL asks for, read once. Pure: takes the address, gives options
// and, for everything it could not use, a sentence saying what is allowed.

import { parseColour } from "./colours.js";

/** Pieces of the graphic, in drawing order. */
export const PIECES = /** @type {const} */ (["score", "moment", "tide", "ribbon"]);

/** @typedef {(typeof PIECES)[number]} Piece */

/**
 * @typedef {object} Options
 * @property {readonly Piece[]} pieces
 * @property {number} scale
 * @property {boolean} still motion is switched off by the URL
 * @property {string | null} recorded address of a recorded feed
 * @property {number} pace
 * @property {string} feed address of the live feed, without role
 * @property {string | null} a team colour, `#rrggbb`
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
    scale: readNumber("scale", query.get("scale"), { least: 0.25, most: 4, otherwise: 1 }, problems),
    still: readMotion(query.get("motion"), problems),
    recorded: resolve(query.get("recorded"), href),
    pace: readNumber("pace", query.get("pace"), { least: 0, most: 1000, otherwise: 1 }, problems),
    feed: new URL(query.get("feed") ?? "feed", href).href,
    a: readColour("a", query.get("a"), problems),
    b: readColour("b", query.get("b"), problems),
    problems,
  };
}

/**
 * The feed of a page at `/courts/{court}/graphic` is its neighbour `feed`.
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
  if (text === null) return PIECES;
  const asked = text.split(",").map((name) => name.trim());
  for (const name of asked) {
    if (!PIECES.some((piece) => piece === name)) {
      problems.push(`\`pieces\` knows no \`${name}\`; allowed are ${PIECES.join(", ")}`);
    }
  }
  return PIECES.filter((piece) => asked.includes(piece));
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
function readColour(name, text, problems) {
  if (text === null) return null;
  const colour = parseColour(text);
  if (colour === null) problems.push(`\`${name}\` is \`${text}\`; allowed is a colour like 0072B2`);
  return colour;
}
