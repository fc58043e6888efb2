// Where the graphic's pieces stand, so that none covers another whatever the
// names are: pieces share a line where their widths fit beside each other, wide
// ones give way as far as they can, and what does not fit gets a line of its own
// nearer to the middle of the picture. Pure; widths are in units of --rt-u and
// known beforehand, so nothing moves when a name or a number changes.

/** @import { Anchor, Piece } from "./options.js" */

/** The stage is the inner 90 % of 192 units. */
const STAGE = 172.8;
/** Room kept between two places on one line. */
const GAP = 2;

/** @type {Record<Piece, { tag: string, place: Anchor, wide: number, least: number }>} `wide`: as it is drawn; `least`: as narrow as it can still be read */
export const PIECE = {
  strap: { tag: "rt-strap", place: "top", wide: 104, least: 104 },
  insert: { tag: "rt-rally-insert", place: "top", wide: 104, least: 104 },
  score: { tag: "rt-score-plate", place: "top-left", wide: 58, least: 58 },
  moment: { tag: "rt-streak-moment", place: "top-left", wide: 58, least: 58 },
  show: { tag: "rt-named-indicator", place: "top-right", wide: 90, least: 40 },
  tide: { tag: "rt-tide-line", place: "bottom", wide: 124, least: 84 },
  ribbon: { tag: "rt-rally-ribbon", place: "bottom", wide: 124, least: 84 },
};

/** @typedef {"top" | "middle" | "bottom"} Edge */
/** @typedef {"start" | "center" | "end"} Column */
/** @typedef {{ column: Column, pieces: Piece[], room: number }} Box `room`: the most it may take */
/** @typedef {Box[]} Line boxes side by side */

/** @type {Record<Anchor, [Edge, Column]>} */
const GRID = {
  "top-left": ["top", "start"],
  top: ["top", "center"],
  "top-right": ["top", "end"],
  left: ["middle", "start"],
  center: ["middle", "center"],
  right: ["middle", "end"],
  "bottom-left": ["bottom", "start"],
  bottom: ["bottom", "center"],
  "bottom-right": ["bottom", "end"],
};

/**
 * @param {readonly Piece[]} pieces
 * @param {Readonly<Partial<Record<Piece, Anchor>>>} at
 * @param {number} scale
 * @returns {Record<Edge, Line[]>} lines from the edge of the picture inwards
 */
export function arrange(pieces, at, scale) {
  /** @type {Record<Edge, Map<Column, Piece[]>>} */
  const edges = { top: new Map(), middle: new Map(), bottom: new Map() };
  for (const piece of pieces) {
    const [edge, column] = GRID[placeOf(piece, at)];
    edges[edge].set(column, [...(edges[edge].get(column) ?? []), piece]);
  }
  const stage = STAGE / scale;
  const isPlaced = (/** @type {Piece} */ piece) => at[piece] !== undefined;
  return {
    top: lines(edges.top, stage, isPlaced),
    middle: lines(edges.middle, stage, isPlaced),
    bottom: lines(edges.bottom, stage, isPlaced),
  };
}

/**
 * A moment goes where the score goes, an insert where the strap goes, unless sent elsewhere.
 * @param {Piece} piece
 * @param {Readonly<Partial<Record<Piece, Anchor>>>} at
 */
function placeOf(piece, at) {
  const companion = piece === "moment" ? at.score : piece === "insert" ? at.strap : undefined;
  return at[piece] ?? companion ?? PIECE[piece].place;
}

/**
 * What does not fit beside each other: the edge goes to whoever was sent there.
 * @param {Map<Column, Piece[]>} columns
 * @param {number} stage
 * @param {(piece: Piece) => boolean} isPlaced the address says where it stands
 * @returns {Line[]}
 */
function lines(columns, stage, isPlaced) {
  /** @type {Box[]} */
  const all = [];
  for (const column of /** @type {const} */ (["start", "center", "end"])) {
    const pieces = columns.get(column);
    if (pieces !== undefined) all.push({ column, pieces, room: 0 });
  }
  if (all.length === 0) return [];
  if (fits(all, stage)) return [roomFor(all, stage)];
  const corners = all.filter(({ column }) => column !== "center");
  const center = all.filter(({ column }) => column === "center");
  const atEdge = fits(corners, stage) ? [corners] : corners.map((box) => [box]);
  const isSent = (/** @type {Box[]} */ boxes) => boxes.some(({ pieces }) => pieces.some(isPlaced));
  const inwards = isSent(center) && !isSent(corners) ? [center, ...atEdge] : [...atEdge, center];
  return inwards.filter((line) => line.length > 0).map((line) => roomFor(line, stage));
}

/**
 * @param {Box} box
 * @param {"wide" | "least"} which
 */
function width({ pieces }, which) {
  return Math.max(...pieces.map((piece) => PIECE[piece][which]));
}

/**
 * @param {Box[]} boxes
 * @param {number} stage
 */
function fits(boxes, stage) {
  const least = boxes.reduce((sum, box) => sum + width(box, "least"), 0);
  return least + GAP * (boxes.length - 1) <= stage;
}

/**
 * Each has its least; what is left goes to the one that would be widest first.
 * @param {Box[]} boxes
 * @param {number} stage
 * @returns {Line}
 */
function roomFor(boxes, stage) {
  let left = stage - GAP * (boxes.length - 1) - boxes.reduce((sum, box) => sum + width(box, "least"), 0);
  const rooms = new Map();
  for (const box of [...boxes].sort((one, other) => width(other, "wide") - width(one, "wide"))) {
    const more = Math.max(0, Math.min(left, width(box, "wide") - width(box, "least")));
    left -= more;
    // Alone on its line and still too wide, at a large scale: as wide as the stage.
    rooms.set(box, Math.min(width(box, "least") + more, stage));
  }
  return boxes.map((box) => ({ ...box, room: rooms.get(box) }));
}
