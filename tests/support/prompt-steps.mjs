/**
 * A match as the commentator's lines see it: after every effective entry all readings of the
 * program, the score of the second implementation, and the lines that are new.
 */
import assert from "node:assert/strict";
import { readChart } from "../oracle/chart.mjs";
import { Match, scoreLines } from "../oracle/scoring.mjs";
import { rallytide } from "./program.mjs";

/**
 * @typedef {object} Step an effective entry
 * @property {any} entry
 * @property {any} score after it
 * @property {any} before the score before it
 * @property {any[]} readings all after it
 * @property {any[]} prompts the lines that can be said
 * @property {any[]} fresh those of them that are new
 * @property {number} ended rallies that have ended, this entry included
 * @property {any[]} shots of the rally, where the entry is in one or ends it
 * @property {boolean} isOn a shot of a rally that goes on has been struck
 * @property {boolean} endsGame
 */

/** @param {string} text a chart @returns {Promise<{ header: any, steps: Step[] }>} */
export async function promptSteps(text) {
  const { header, effective } = readChart(text);
  const entries = new Map(effective.map(({ id, at, inserted, entry }) => [id, { ...entry, id, at, inserted }]));
  const scores = new Map(scoreLines(header, effective).map(({ entry, score }) => [entry, score]));
  const { status, stdout, stderr } = await rallytide(["readings", "-", "--each"], { input: text });
  assert.equal(status, 0, stderr);
  const course = new Course(new Match(header).score());
  const steps = stdout
    .trimEnd()
    .split("\n")
    .map((line) => {
      const { entry, readings } = JSON.parse(line);
      return course.step(entries.get(entry), scores.get(entry), readings);
    });
  return { header, steps };
}

class Course {
  #known = new Set();
  #ended = 0;
  #shots = [];

  constructor(score) {
    this.score = score;
  }

  /** @returns {Step} */
  step(entry, score, readings) {
    const before = this.score;
    this.score = score ?? before;
    const after = this.score;
    const isOver = before.winner !== null;
    if (entry.kind === "shot") this.#shots.push(entry);
    const shots = [...this.#shots];
    if (["rally_end", "replay"].includes(entry.kind)) this.#shots = [];
    if (entry.kind === "rally_end" && !isOver) this.#ended += 1;
    const prompts = readings.filter(({ indicator }) => indicator === "prompt");
    const keyOf = ({ slot, value }) => `${slot} ${value.text}`;
    const fresh = prompts.filter((prompt) => !this.#known.has(keyOf(prompt)));
    this.#known = new Set(prompts.map(keyOf));
    return {
      entry,
      score: after,
      before,
      readings,
      prompts,
      fresh,
      ended: this.#ended,
      shots,
      isOn: this.#shots.length > 0 && after.winner === null,
      endsGame: after.finished.length > before.finished.length || (after.winner !== null && !isOver),
    };
  }
}

/** @param {any[]} readings @returns {any} the value, undefined where there is none */
export function readingValue(readings, indicator, team = null, slot = null) {
  return readings.find((one) => one.indicator === indicator && one.team === team && one.slot === slot)?.value;
}
