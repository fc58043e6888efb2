// Where the page thinks each team stands: as seen by the charter, else as it follows from the
// shots of the rally. The same rules as the host's readings. Pure.

/**
 * @import { Team } from "../../types/messages.js"
 * @import { Answer } from "./local-chart.js"
 */
import { endsRally } from "./lines.js";

/** @typedef {"back" | "transition" | "line"} Depth */
/** @typedef {{ depth: Depth, seen: boolean }} Stand `seen`: the charter said so */

/** The deepest first. */
export const DEPTHS = /** @type {const} */ (["back", "transition", "line"]);

class Side {
  /** Of either player. @type {[Depth, Depth]} */
  depths = ["back", "back"];
  /** Whether the charter has said where the team stands in this rally. */
  seen = false;
  /** Whether that was said of a single player. */
  single = false;

  get depth() {
    return DEPTHS[Math.min(...this.depths.map((depth) => DEPTHS.indexOf(depth)))] ?? "back";
  }

  /** @param {Depth} depth @param {unknown} player */
  say(depth, player) {
    this.seen = true;
    if (player === 0 || player === 1) {
      this.single = true;
      this.depths[player] = depth;
    } else this.depths = [depth, depth];
  }

  /** @param {Depth} depth */
  infer(depth) {
    if (!this.seen) this.depths = [depth, depth];
  }

  dink() {
    if (this.single) return;
    this.seen = false;
    this.infer("line");
  }
}

/** @param {Answer} answer @returns {Record<Team, Stand>} */
export function standing({ recent }) {
  const over = recent.map(({ entry }) => endsRally(entry.kind)).lastIndexOf(true);
  const rally = recent.slice(over + 1);
  const teams = { a: new Side(), b: new Side() };
  /** The shot before, and whether a soft one waits for its bounce. @type {{ team: Team, stroke: unknown, deep: boolean } | null} */
  let before = null;
  for (const { entry, shot } of rally) {
    const team = teams[/** @type {Team} */ (entry["team"])];
    if (entry.kind === "depth") team.say(/** @type {Depth} */ (entry["depth"]), entry["player"]);
    if (entry.kind !== "shot" || shot === undefined) continue;
    if (shot.missed_before) before = null;
    if (shot.number === 2) team.infer("line");
    if (entry["stroke"] === "dink") team.dink();
    if (before !== null) answered(shot.contact, team, before, teams[before.team]);
    before = { team: shot.team, stroke: entry["stroke"], deep: team.depth !== "line" };
  }
  return { a: { depth: teams.a.depth, seen: teams.a.seen }, b: { depth: teams.b.depth, seen: teams.b.seen } };
}

/**
 * What the answer to a ball tells of who struck that ball.
 * @param {unknown} contact @param {Side} team
 * @param {{ stroke: unknown, deep: boolean }} before @param {Side} striker
 */
function answered(contact, team, before, striker) {
  const soft = before.stroke === "drop" || before.stroke === "reset";
  if (soft && before.deep && (contact === "bounce" || contact === "half_volley")) striker.infer("line");
  if (before.stroke === "lob" && contact === "bounce") {
    striker.infer("line");
    team.infer("back");
  }
}

/** @param {Answer} answer @param {Team} team @returns {Depth} what a tap of its key says */
export function nextDepth(answer, team) {
  const place = DEPTHS.indexOf(standing(answer)[team].depth);
  return DEPTHS[(place + 1) % DEPTHS.length] ?? "back";
}
