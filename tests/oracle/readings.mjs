/**
 * Puts the followers together: what every indicator reads after each effective entry, as the
 * program prints it.
 *
 * A reading exists from the start unless it has a slot. Its `seq` is that of the entry at which
 * its value last changed; a change of reasons or flags alone does not count.
 */
import { Match, rallyWinner } from "./scoring.mjs";
import { InitiativeFollower } from "./initiative.mjs";
import { SpellTracker } from "./spells.mjs";
import { RallyTracker } from "./rally.mjs";
import { CountTracker } from "./counts.mjs";
import { PlayerTracker } from "./players.mjs";

/** Which plugin publishes an indicator. */
export const PLUGIN_OF = {
  initiative: "initiative",
  depth: "initiative",
  "escape.streak": "escape",
  "escape.best": "escape",
  "escape.share": "escape",
  "approach.reached": "escape",
  "rally.shots": "rally",
  "rally.longest": "rally",
  "rally.tempo": "rally",
  "offense.finished": "pressure",
  "neutral.first": "pressure",
  "defense.bounced": "pressure",
  "pressed.won": "pressure",
  "unpressed.won": "pressure",
  "player.shots": "pressure",
  "player.pressed": "pressure",
  "player.errors": "pressure",
  "serve.won": "shots",
  "third.won": "shots",
  "speedup.won": "shots",
  "sitter.punished": "shots",
  "gift.share": "pressure",
  "score.run": "points",
  "charting.coverage": "coverage",
};

/** All readings of one match, entry by entry. */
export class ReadingBoard {
  constructor(header) {
    this.match = new Match(header);
    this.initiative = new InitiativeFollower(header);
    this.spells = new SpellTracker();
    this.rallies = new RallyTracker();
    this.counts = new CountTracker();
    this.players = new PlayerTracker(header);
    /** @type {Map<string, {value: string, seq: number}>} */
    this.lastChange = new Map();
    this.note(0);
  }

  /** @param {import('./chart.mjs').EffectiveEntry} effective the next one */
  step(effective) {
    const { match } = this;
    if (match.winner !== null) return;
    const { entry, seq } = effective;
    const served = match.serving;
    const standing = { doubles: match.doubles, ...match.standing() };
    const { pointFor } = match.apply(entry);
    const winner = entry.kind === "rally_end" ? rallyWinner(entry) : null;
    const event = this.initiative.step(effective, match.winner !== null, standing);
    this.spells.step(event, winner);
    this.rallies.step(event);
    this.counts.step(event, { entry, winner, served, pointFor });
    this.players.step(event, entry, winner);
    this.note(seq);
  }

  followers() {
    return [this.initiative, this.spells, this.rallies, this.counts, this.players];
  }

  /** Remembers at which entry each value became what it is. */
  note(seq) {
    this.current = this.followers().flatMap((follower) => follower.readings());
    for (const reading of this.current) {
      const value = JSON.stringify(reading.value);
      const key = keyOf(reading);
      if (this.lastChange.get(key)?.value !== value) this.lastChange.set(key, { value, seq });
    }
  }

  /**
   * @param {string[]|null} only indicators to keep, null for all
   * @returns {object[]} sorted by indicator, team, player, slot
   */
  readings(only = null) {
    return this.current
      .filter(({ indicator }) => only === null || only.includes(indicator))
      .map((reading) => ({ ...reading, seq: this.lastChange.get(keyOf(reading)).seq }))
      .sort((left, right) => compare(keyOf(left), keyOf(right)));
  }
}

/** Sorts as indicator, team, player, slot with null first. */
const keyOf = ({ indicator, team, player, slot }) =>
  [indicator, team, player, slot].map((part) => part ?? "").join("\u0000");

const compare = (left, right) => (left < right ? -1 : left > right ? 1 : 0);

/** @returns {string} one reading as JSON, keys in their fixed order, floats always with a point */
export function readingJson({ indicator, team, player = null, slot, value, why = [], flags = [], seq }) {
  const rows = why.map((row) => ({
    code: row.code,
    team: row.team,
    entry: row.entry,
    inferred: row.inferred,
  }));
  const fields = {
    indicator,
    team,
    player,
    slot,
    value: null,
    why: rows,
    flags,
    plugin: PLUGIN_OF[indicator],
    seq,
  };
  const parts = Object.entries(fields).map(([key, field]) => {
    const text = key === "value" ? valueJson(value) : JSON.stringify(field);
    return `${JSON.stringify(key)}:${text}`;
  });
  return `{${parts.join(",")}}`;
}

function valueJson(value) {
  if (value.type !== "lean") return JSON.stringify(value);
  const { toward, strength } = value;
  const float = Number.isInteger(strength) ? `${strength}.0` : String(strength);
  return `{"type":"lean","toward":${JSON.stringify(toward)},"strength":${float}}`;
}

/**
 * @param {any} header
 * @param {import('./chart.mjs').EffectiveEntry[]} effective
 * @param {{only?: string[]|null}} options
 * @returns {string[]} the final readings, one a line
 */
export function finalReadingLines(header, effective, { only = null } = {}) {
  const board = new ReadingBoard(header);
  for (const entry of effective) board.step(entry);
  return board.readings(only).map(readingJson);
}

/** @returns {string[]} all current readings after each effective entry, one entry a line */
export function eachReadingLines(header, effective, { only = null } = {}) {
  const board = new ReadingBoard(header);
  return effective.map((entry) => {
    board.step(entry);
    const readings = board.readings(only).map(readingJson);
    return `{"entry":${JSON.stringify(entry.id)},"readings":[${readings.join(",")}]}`;
  });
}
