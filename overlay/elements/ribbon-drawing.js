// The rally ribbon as SVG: one mark a shot, shaped by who struck it, lifted
// towards team a (up) or b (down) by who holds the initiative after it. Exact:
// no easing, no waiting. `layoutRibbon` is pure; `drawRibbon` fills an <svg>.
// Lengths are in tenths of --rt-u.

/**
 * @import { OneRally } from "../types/view.js"
 * @import { MatchHeader, ShotView } from "../types/messages.js"
 */
import { draw } from "../shared/dom.js";
import { endTag, endWords, shotLeanWords, shotWords, strikerName, strokeWord } from "../shared/words.js";

/** Where the marks begin, beside the key that says which way is whose. */
const LEFT = 62;
/** Room after the last mark, for a word or for how the rally ended. */
const TAIL = { running: 120, ended: 270 };
/** A rally too long for its place drops this many shots from the left at once,
 * so that the ribbon stands still in between. */
const DROP = 10;

/**
 * @typedef {object} RibbonStyle
 * @property {number} height
 * @property {number} step from one shot to the next
 * @property {number} most marks shown; the oldest beyond them are dropped
 * @property {boolean} words every stroke in words, not the latest alone
 * @property {number} width of the whole drawing, where it is fixed; 0: as wide as the rally
 */

/** @type {RibbonStyle} */
export const GRAPHIC_RIBBON = { height: 104, step: 33, most: 24, words: false, width: 1240 };
/** @type {RibbonStyle} */
export const BOOTH_RIBBON = { height: 160, step: 62, most: Infinity, words: true, width: 0 };
/** @type {RibbonStyle} */
export const SMALL_RIBBON = { height: 64, step: 24, most: 34, words: false, width: 0 };

/** @typedef {{ shot: ShotView, x: number, y: number }} Mark */

/**
 * @param {OneRally} rally
 * @param {RibbonStyle} style
 * @returns {{ marks: Mark[], dropped: number, width: number, end: { x: number, y: number } | null }}
 */
export function layoutRibbon(rally, style) {
  const { height, step, most } = style;
  const over = rally.shots.length - most;
  const dropped = over > 0 ? Math.ceil(over / DROP) * DROP : 0;
  const reach = height / 2 - (style.words ? 36 : 16);
  const marks = rally.shots.slice(dropped).map((shot, at) => ({
    shot,
    x: LEFT + step * (at + 0.5),
    y: height / 2 - reach * lift(shot),
  }));
  const last = marks[marks.length - 1];
  const after = last === undefined ? LEFT : last.x + step * 0.85;
  const side = rally.end?.won_by === "a" ? 1 : rally.end?.won_by === "b" ? -1 : 0;
  return {
    marks,
    dropped,
    width: style.width || after + (rally.end === null ? TAIL.running : TAIL.ended),
    end: rally.end === null ? null : { x: after, y: height / 2 - reach * side },
  };
}

/**
 * How far a ribbon that is wider than its place is scrolled: to its end and a little
 * on, so that the first mark in sight is a whole one.
 * @param {number} over how much wider it is, in the page's pixels
 * @param {number} unit a length of the drawing, in the page's pixels
 * @param {RibbonStyle} style
 */
export function scrolledTo(over, unit, style) {
  if (over <= 0) return 0;
  const dropped = Math.max(0, Math.ceil((over / unit - LEFT) / style.step));
  return (LEFT + dropped * style.step) * unit;
}

/**
 * +1 fully a's, -1 fully b's. An offense that is only carried on has strength
 * 0 and still shows.
 * @param {ShotView} shot
 */
function lift({ toward, strength }) {
  if (toward === null) return 0;
  return (toward === "a" ? 1 : -1) * (0.42 + 0.58 * strength);
}

/**
 * @param {SVGSVGElement} svg
 * @param {OneRally} rally
 * @param {MatchHeader | null} match
 * @param {RibbonStyle} style
 * @param {boolean} [isKnown] whether it is known who held; without it the marks
 *   stand in a row that leads nowhere, not in the middle between the teams
 */
export function drawRibbon(svg, rally, match, style, isKnown = true) {
  const { marks, dropped, width, end } = layoutRibbon(rally, style);
  const { height } = style;
  svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
  svg.setAttribute("preserveAspectRatio", "xMinYMid meet");
  svg.setAttribute("role", "img");
  svg.setAttribute("aria-label", ribbonWords(rally, match, isKnown));
  svg.style.setProperty("--rt-ribbon-width", String(width / 10));
  svg.style.setProperty("--rt-ribbon-height", String(height / 10));
  svg.replaceChildren(
    ...(isKnown
      ? [key(height), axis(width - (style.width > 0 ? 130 : 8), height / 2), ...water(marks, height, width)]
      : []),
    ...(style.width > 0 ? [text("rt-count", width - 22, height / 2 + 7, shotCount(rally), "end")] : []),
    ...(dropped > 0 ? [text("rt-dropped", LEFT - 10, height / 2 + 6, `+${dropped}`, "end")] : []),
    ...marks.map((mark, at) => shotMark(mark, at === marks.length - 1, match)),
    ...labels(rally, marks, style),
    ...(end === null || rally.end === null ? [] : endMark(rally.end, end, height)),
  );
}

/**
 * The ribbon for those who hear the page.
 * @param {OneRally} rally
 * @param {MatchHeader | null} match
 * @param {boolean} [isKnown] whether it is known who held
 */
export function ribbonWords(rally, match, isKnown = true) {
  const last = rally.shots[rally.shots.length - 1];
  const state =
    rally.end !== null
      ? endWords(rally.end, match)
      : last === undefined
        ? "not started"
        : `${shotWords(last)} by ${strikerName(match, last)}, ${isKnown ? shotLeanWords(last, match) : "who holds the initiative is not known"}`;
  return `Rally ${rally.number}, ${shotCount(rally)}, ${state}`;
}

/** @param {OneRally} rally */
function shotCount({ shots }) {
  return shots.length === 1 ? "1 shot" : `${shots.length} shots`;
}

/** @param {number} to @param {number} y */
function axis(to, y) {
  return draw("line", { class: "rt-axis", x1: LEFT - 8, y1: y, x2: to, y2: y });
}

/**
 * Which way is whose: a's shape above, b's below.
 * @param {number} height
 */
function key(height) {
  return draw("g", { class: "rt-key" }, teamMark("a", 22, height * 0.25, 7), teamMark("b", 22, height * 0.75, 7));
}

/**
 * @param {Mark[]} marks
 * @param {number} height
 * @param {number} width
 */
function water(marks, height, width) {
  const first = marks[0];
  const last = marks[marks.length - 1];
  if (first === undefined || last === undefined) return [];
  const middle = height / 2;
  const curve = marks.slice(1).map((mark, at) => {
    const before = /** @type {Mark} */ (marks[at]);
    const half = (before.x + mark.x) / 2;
    return `C${half} ${before.y} ${half} ${mark.y} ${mark.x} ${mark.y}`;
  });
  const line = `M${first.x} ${first.y}${curve.join("")}`;
  const area = `${line}L${last.x} ${middle}L${first.x} ${middle}Z`;
  // A nested svg cuts at its edges: the same shape once above, once below.
  return [
    draw("svg", { x: 0, y: 0, width, height: middle }, draw("path", { class: "rt-area", "data-team": "a", d: area })),
    draw(
      "svg",
      { x: 0, y: middle, width, height: middle, viewBox: `0 ${middle} ${width} ${middle}` },
      draw("path", { class: "rt-area", "data-team": "b", d: area }),
    ),
    draw("path", { class: "rt-thread", d: line }),
  ];
}

/**
 * @param {Mark} mark
 * @param {boolean} isLatest
 * @param {MatchHeader | null} match
 */
function shotMark({ shot, x, y }, isLatest, match) {
  const node = teamMark(shot.team, x, y, isLatest ? 10 : 8);
  const told = draw("title", {});
  told.textContent = `${shot.n}. ${strikerName(match, shot)}: ${shotWords(shot)}`;
  node.append(told);
  node.classList.add("rt-mark");
  node.dataset["shot"] = String(shot.n);
  if (isLatest) node.dataset["latest"] = "";
  if (shot.assumed) node.dataset["assumed"] = "";
  return node;
}

/**
 * @param {"a" | "b"} team
 * @param {number} x
 * @param {number} y
 * @param {number} size
 * @returns {SVGElement}
 */
function teamMark(team, x, y, size) {
  if (team === "a") return draw("circle", { class: "rt-team-mark", "data-team": team, cx: x, cy: y, r: size });
  const wide = size * 1.28;
  const corners = `${x},${y - wide} ${x + wide},${y} ${x},${y + wide} ${x - wide},${y}`;
  return draw("polygon", { class: "rt-team-mark", "data-team": team, points: corners });
}

/**
 * @param {OneRally} rally
 * @param {Mark[]} marks
 * @param {RibbonStyle} style
 */
function labels(rally, marks, style) {
  if (style.words) {
    // Each team's strokes stand on its own side: neighbours never collide.
    return marks.map(({ shot, x }) =>
      text("rt-stroke", x, shot.team === "a" ? 16 : style.height - 6, strokeWord(shot), "middle"),
    );
  }
  const last = marks[marks.length - 1];
  if (last === undefined || rally.end !== null) return [];
  return [text("rt-stroke", last.x + 20, last.y + 7, strokeWord(last.shot), "start")];
}

/**
 * @param {NonNullable<OneRally["end"]>} end
 * @param {{ x: number, y: number }} at
 * @param {number} height
 */
function endMark(end, { x, y }, height) {
  const bar = draw("line", { class: "rt-end", x1: x, y1: 10, x2: x, y2: height - 10 });
  if (end.won_by === null) return [bar, text("rt-end-word", x + 16, height / 2 + 7, endTag(end), "start")];
  return [bar, teamMark(end.won_by, x + 22, y, 10), text("rt-end-word", x + 42, y + 7, endTag(end), "start")];
}

/**
 * @param {string} kind
 * @param {number} x
 * @param {number} y
 * @param {string} words
 * @param {"start" | "middle" | "end"} anchor
 */
function text(kind, x, y, words, anchor) {
  return draw("text", { class: kind, x, y, "text-anchor": anchor }, words);
}
