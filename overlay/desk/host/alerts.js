// A short sound when something needs somebody at the desk: chosen in this browser, and
// never without a sentence at the foot of the page that says the same.

import { lasting } from "../../shared/memory.js";

const KEPT = "rallytide.desk.sounds";
/** Two notes, Hz and when they begin, s. */
const NOTES = [
  { pitch: 660, at: 0 },
  { pitch: 880, at: 0.16 },
];
const LENGTH_S = 0.14;
const LOUDNESS = 0.15;

/** @type {AudioContext | null} */
let audio = null;

export const soundsKept = () => lasting.getItem(KEPT) === "on";

/** @param {boolean} on */
export function keepSounds(on) {
  if (on) lasting.setItem(KEPT, "on");
  else lasting.removeItem(KEPT);
}

export function playSound() {
  audio ??= new AudioContext();
  // A browser lets a page sound only after somebody has used it.
  if (audio.state === "suspended") void audio.resume();
  for (const { pitch, at } of NOTES) {
    const [tone, volume] = [audio.createOscillator(), audio.createGain()];
    tone.frequency.value = pitch;
    volume.gain.value = LOUDNESS;
    tone.connect(volume).connect(audio.destination);
    tone.start(audio.currentTime + at);
    tone.stop(audio.currentTime + at + LENGTH_S);
  }
}
