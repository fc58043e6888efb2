// What a key did, to be heard without looking: a soft click for taken, a low tone for not
// taken, two rising ones for another state, in which the next key means something else.

/** @import { State } from "./recorder.js" */
import { modeWord } from "./words.js";

/** @typedef {"taken" | "not_taken" | "state" | null} Heard */

/** Hertz, seconds from the beginning, seconds long. @type {Record<"taken" | "not_taken" | "state", [number, number, number][]>} */
const TONES = {
  taken: [[1500, 0, 0.02]],
  not_taken: [[180, 0, 0.18]],
  state: [
    [600, 0, 0.07],
    [900, 0.09, 0.07],
  ],
};
const LOUDNESS = 0.12;

/**
 * @param {{ state: State, entries: number }} before @param {{ state: State, entries: number, message: string }} after
 * @returns {Heard} null: nothing to be heard
 */
export function heard(before, after) {
  const mode = modeWord(after.state);
  if (mode !== "" && mode !== modeWord(before.state)) return "state";
  if (after.entries > before.entries) return "taken";
  if (before.state !== after.state && modeWord(before.state) !== "") return null;
  return after.message === "" && before.state !== after.state ? null : "not_taken";
}

export class Sounds {
  /** @type {AudioContext | null} */
  #context = null;

  /** A browser lets a page sound only after a key or a tap, so it is opened with the first. @param {Heard} what */
  play(what) {
    if (what === null) return;
    this.#context ??= new AudioContext();
    const { currentTime } = this.#context;
    for (const [hertz, from, long] of TONES[what]) this.#tone(this.#context, hertz, currentTime + from, long);
  }

  /** @param {AudioContext} context @param {number} hertz @param {number} from @param {number} long */
  #tone(context, hertz, from, long) {
    const tone = context.createOscillator();
    const volume = context.createGain();
    tone.frequency.value = hertz;
    volume.gain.setValueAtTime(LOUDNESS, from);
    volume.gain.exponentialRampToValueAtTime(0.001, from + long);
    tone.connect(volume).connect(context.destination);
    tone.start(from);
    tone.stop(from + long);
  }
}
