// Draws a scene of a rally: the court from above in true proportions, players, ball,
// marks and words. Team a is round and plays from the left, team b is a diamond and
// plays from the right. Everything shown follows from the scene; nothing moves by itself.

/**
 * @import { MatchHeader, Team } from "../types/messages.js"
 * @import { Mark, Scene, Spot, Tag } from "./choreography.js"
 */
import { draw, setAttribute, setText } from "../shared/dom.js";
import { COURT } from "./choreography.js";

/** Feet shown around the court. */
const AROUND = { x: 5.5, y: 3.6 };
const VIEW = {
  x: -COURT.half - AROUND.x,
  y: -COURT.side - AROUND.y,
  width: 2 * (COURT.half + AROUND.x),
  height: 2 * (COURT.side + AROUND.y),
};
const PLAYER = 0.95;
/** Lines of words are so far apart, in feet. */
const LINE = 2;

export class CourtDrawing {
  #picture;
  #moving = draw("g");
  #names = {
    a: draw("text", { class: "name", x: VIEW.x + 0.8, y: VIEW.y + 1.9 }),
    b: draw("text", { class: "name", x: -VIEW.x - 0.8, y: VIEW.y + 1.9, "text-anchor": "end" }),
  };
  /** @type {Record<Team, SVGElement[]>} */
  #players;
  #shadow = draw("circle", { class: "shadow" });
  #ball = draw("circle", { class: "ball" });
  #marks = draw("g");
  #tags = draw("g");

  constructor() {
    this.#players = { a: [player("a"), player("a")], b: [player("b"), player("b")] };
    this.#moving.append(this.#marks, ...this.#players.a, ...this.#players.b, this.#shadow, this.#ball, this.#tags);
    const { x, y, width, height } = VIEW;
    const label = "A court seen from above, and the rally played on it";
    this.#picture = draw(
      "svg",
      { viewBox: `${x} ${y} ${width} ${height}`, role: "img", "aria-label": label, class: "drawn-court" },
      ...ground(),
      this.#names.a,
      this.#names.b,
      this.#moving,
    );
  }

  /** @returns {Node} the picture, to be put on a page */
  get node() {
    return this.#picture;
  }

  /** @param {MatchHeader} header @param {Scene} scene @param {(tag: Tag) => string} words */
  show({ teams }, scene, words) {
    setText(this.#names.a, `← ${teams.a.name}`);
    setText(this.#names.b, `${teams.b.name} →`);
    for (const team of /** @type {Team[]} */ (["a", "b"])) {
      this.#players[team].forEach((node, place) => {
        const spot = scene[team][place];
        setAttribute(node, "display", spot === undefined ? "none" : null);
        if (spot !== undefined) setAttribute(node, "transform", `translate(${spot.x.toFixed(2)} ${spot.y.toFixed(2)})`);
      });
    }
    const { x, y, height } = scene.ball;
    place(this.#shadow, x, y, 0.34);
    place(this.#ball, x, y - height * 0.12, 0.42 + height * 0.045);
    this.#marks.replaceChildren(...scene.marks.map(mark));
    setAttribute(this.#picture, "data-struck", String(scene.struck));
    this.#showTags(scene, words);
  }

  /** @param {Scene} scene @param {(tag: Tag) => string} words */
  #showTags({ tags, struck }, words) {
    const lines = new Map();
    this.#tags.replaceChildren(
      ...tags.map((tag) => {
        const key = tag.kind === "end" ? "end" : tag.shot;
        const line = lines.get(key) ?? 0;
        lines.set(key, line + 1);
        return tagNode(tag, words(tag), line, tag.shot === struck - 1);
      }),
    );
  }
}

/** @param {SVGElement} node @param {number} x @param {number} y @param {number} radius */
function place(node, x, y, radius) {
  for (const [name, value] of Object.entries({ cx: x, cy: y, r: radius })) setAttribute(node, name, value.toFixed(2));
}

/** @param {Team} team */
function player(team) {
  const shape =
    team === "a"
      ? draw("circle", { r: PLAYER })
      : draw("path", { d: `M0 ${-1.25 * PLAYER}L${1.25 * PLAYER} 0L0 ${1.25 * PLAYER}L${-1.25 * PLAYER} 0Z` });
  return draw("g", { class: "player", "data-team": team }, shape);
}

/** Court, kitchens, lines and net: the centre line runs from the kitchen back, not through it (3.A.4.d). */
function ground() {
  const { half, side, kitchen } = COURT;
  const line = (
    /** @type {number} */ x1,
    /** @type {number} */ y1,
    /** @type {number} */ x2,
    /** @type {number} */ y2,
  ) => draw("line", { class: "line-on-court", x1, y1, x2, y2 });
  return [
    draw("rect", { class: "ground", x: -half, y: -side, width: 2 * half, height: 2 * side }),
    draw("rect", { class: "kitchen", x: -kitchen, y: -side, width: 2 * kitchen, height: 2 * side }),
    line(-kitchen, -side, -kitchen, side),
    line(kitchen, -side, kitchen, side),
    line(-half, 0, -kitchen, 0),
    line(kitchen, 0, half, 0),
    draw("line", { class: "net", x1: 0, y1: -side - 1, x2: 0, y2: side + 1 }),
  ];
}

/** A ring where the ball bounced, a double one at the paddle, four strokes around a ball met in the air. @param {Mark} mark */
function mark({ spot: { x, y }, kind }) {
  const at = { transform: `translate(${x.toFixed(2)} ${y.toFixed(2)})`, class: "mark" };
  if (kind === "air") return draw("path", { ...at, d: "M0 -1.9V-1.1M0 1.9V1.1M-1.9 0H-1.1M1.9 0H1.1" });
  if (kind === "half_volley") return draw("g", at, draw("circle", { r: 0.6 }), draw("circle", { r: 1.1 }));
  return draw("g", at, draw("circle", { r: 0.75 }));
}

/** @param {Tag} tag @param {string} text @param {number} line @param {boolean} latest */
function tagNode({ spot, kind }, text, line, latest) {
  const { x, y } = wordSpot(spot, line, text, kind === "end");
  return draw(
    "text",
    {
      class: `word ${kind}`,
      x: x.toFixed(2),
      y: y.toFixed(2),
      "text-anchor": "middle",
      "data-latest": latest ? "yes" : "no",
    },
    text,
  );
}

/**
 * Above the place, or below it where there is no room, an end the other way round; never over the edge.
 * @param {Spot} spot @param {number} line @param {string} text @param {boolean} below
 */
function wordSpot({ x, y }, line, text, below) {
  const reach = text.length * 0.45;
  const edge = COURT.half + AROUND.x - 0.4 - reach;
  const up = below ? y > COURT.side - 1 : y > -COURT.side + 5;
  return { x: Math.max(-edge, Math.min(edge, x)), y: up ? y - 2.7 - line * LINE : y + 3.4 + line * LINE };
}
