// A video on this laptop to chart from: chosen, played, stepped through, and asked for
// the time of what it shows. The file is read by the browser alone and goes nowhere.
// Knows nothing about a match.

import { make, setText } from "../../shared/dom.js";
import { clockWords, placeWords } from "../../shared/format.js";
import { keptJson, lasting } from "../../shared/memory.js";
import { leaveFocus } from "../../shared/charting/key-desk.js";
import { USUAL_PICTURE, fieldFrom, likelyBeginning, timeAt, timeFrom } from "../../shared/video-time.js";

const KEPT = "rallytide.chart.film";
const RATES = [0.25, 0.5, 0.75, 1, 1.5, 2];
/** Seconds that a key moves. @type {Record<string, number>} */
const STEPS = { back: -1, on: 1, far_back: -5, far_on: 5 };

/** @typedef {{ name: string, size: number, began: number, place: number }} Kept where a file was left */

export class Film {
  #video = make("video", { playsinline: "", preload: "auto", "aria-label": "The video" });
  #slider = make("input", {
    type: "range",
    min: "0",
    max: "0",
    step: "0.1",
    value: "0",
    "aria-label": "Place in the video",
  });
  #words = make("p", { class: "film-words" });
  #dialog;
  #began = make("input", { type: "datetime-local", step: "1", name: "began", disabled: "" });
  #chosen = make("p", { class: "film-chosen", role: "status" });
  #file = make("input", { type: "file", accept: "video/*", name: "film" });
  #leave = make("button", { type: "button", "data-do": "film-leave", hidden: "" }, "Close the video");
  /** @type {File | null} */
  #opened = null;
  #start = 0;
  #picture = USUAL_PICTURE;
  #changed;

  /** @param {() => void} changed called when one is opened or left, plays or stands */
  constructor(changed) {
    this.#changed = changed;
    this.#dialog = make("dialog", { class: "film-choice", "aria-labelledby": "film-heading" }, this.#form());
    this.#dialog.addEventListener("close", leaveFocus);
    document.body.append(this.#dialog);
    for (const event of ["timeupdate", "seeked", "durationchange", "ratechange"])
      this.#video.addEventListener(event, () => this.#draw());
    for (const event of ["play", "pause", "ended"]) this.#video.addEventListener(event, () => this.#stopped());
    this.#slider.addEventListener("input", () => this.#go(Number(this.#slider.value)));
    this.#slider.addEventListener("change", leaveFocus);
    addEventListener("pagehide", () => this.#keepPlace());
    this.#measurePictures();
  }

  /** @returns {readonly Node[]} the picture, its place and words, to be put on the page */
  get nodes() {
    return [this.#video, this.#slider, this.#words];
  }

  get open() {
    return this.#opened !== null;
  }

  get running() {
    return this.open && !this.#video.paused;
  }

  /** @returns {string} what is open, in words */
  get title() {
    return this.#opened === null ? "" : `Video: ${this.#opened.name}`;
  }

  /** @returns {number} ms since 1970: when what is shown took place; now, where no video is open */
  get at() {
    return this.open ? timeAt(this.#start, this.#video.currentTime) : Date.now();
  }

  choose() {
    this.#dialog.showModal();
  }

  /** @param {string} word what follows `film:` in an action */
  press(word) {
    if (!this.open) return;
    const video = this.#video;
    if (word === "play") void this.#play();
    else if (word === "slower" || word === "faster") this.#rate(word === "faster" ? 1 : -1);
    else {
      const step = word === "frame_back" ? -this.#picture : word === "frame_on" ? this.#picture : (STEPS[word] ?? 0);
      if (word.startsWith("frame")) video.pause();
      this.#go(video.currentTime + step);
    }
  }

  async #play() {
    try {
      if (this.#video.paused) await this.#video.play();
      else this.#video.pause();
    } catch (error) {
      setText(this.#words, `This video does not play: ${error instanceof Error ? error.message : String(error)}`);
    }
  }

  /** @param {1 | -1} way */
  #rate(way) {
    const place = RATES.indexOf(this.#video.playbackRate) + way;
    this.#video.playbackRate = RATES[Math.min(RATES.length - 1, Math.max(0, place))] ?? 1;
  }

  /** @param {number} place seconds */
  #go(place) {
    const { duration } = this.#video;
    this.#video.currentTime = Math.min(Number.isFinite(duration) ? duration : place, Math.max(0, place));
    this.#draw();
  }

  #form() {
    this.#file.addEventListener("change", () => void this.#open());
    this.#began.addEventListener("change", () => this.#begin());
    this.#leave.addEventListener("click", () => this.#close());
    return make(
      "form",
      { method: "dialog" },
      make("h2", { id: "film-heading" }, "Chart from a video"),
      make(
        "p",
        {},
        "The file is shown by this browser alone: it is not copied and not sent anywhere. Every entry gets the time at which the picture was taken.",
      ),
      make("label", {}, "Video file ", this.#file),
      this.#chosen,
      make("label", {}, "The recording began ", this.#began),
      make(
        "p",
        {},
        "Taken from the file: a camera writes its time when it stops, less the length of the video. If the file was copied or cut, put it right here. What is charted already keeps its time.",
      ),
      make(
        "p",
        {},
        "The chart goes to this court like that of a match being played. If this court is on a stream now, use another one.",
      ),
      make(
        "p",
        {},
        "Those filmed should have agreed to it, for minors their guardians. The event's rules and local law come first.",
      ),
      this.#leave,
      make("button", { value: "" }, "Close"),
    );
  }

  async #open() {
    const file = this.#file.files?.[0];
    if (file === undefined) return;
    try {
      URL.revokeObjectURL(this.#video.src);
      this.#video.src = URL.createObjectURL(file);
      const duration = await lengthOf(this.#video);
      const kept = keptPlace(file);
      this.#opened = file;
      this.#start = kept?.began ?? likelyBeginning(file.lastModified, duration);
      this.#began.value = fieldFrom(this.#start);
      this.#began.disabled = false;
      this.#leave.hidden = false;
      this.#go(kept?.place ?? 0);
      setText(
        this.#chosen,
        `${file.name} is open${kept === null ? "" : `, where you left it, at ${placeWords(kept.place)}`}`,
      );
    } catch (error) {
      this.#close();
      setText(this.#chosen, error instanceof Error ? error.message : String(error));
    }
    this.#changed();
  }

  #begin() {
    this.#start = timeFrom(this.#began.value) ?? this.#start;
    this.#keepPlace();
    this.#draw();
  }

  #close() {
    this.#video.pause();
    URL.revokeObjectURL(this.#video.src);
    this.#video.removeAttribute("src");
    this.#opened = null;
    this.#file.value = "";
    this.#began.disabled = true;
    this.#leave.hidden = true;
    setText(this.#chosen, "No video is open: entries get the time of this laptop");
    this.#changed();
  }

  #stopped() {
    if (this.#video.paused) this.#keepPlace();
    this.#draw();
    this.#changed();
  }

  /** The file cannot be kept, the place in it can. */
  #keepPlace() {
    if (this.#opened === null) return;
    const { name, size } = this.#opened;
    lasting.setItem(KEPT, JSON.stringify({ name, size, began: this.#start, place: this.#video.currentTime }));
  }

  #draw() {
    if (this.#opened === null) return;
    const { currentTime, duration, playbackRate } = this.#video;
    this.#slider.max = String(Number.isFinite(duration) ? duration : currentTime);
    this.#slider.value = String(currentTime);
    const of = Number.isFinite(duration) ? ` of ${placeWords(duration)}` : "";
    setText(
      this.#words,
      `${placeWords(currentTime)}${of} · ${clockWords(this.at)} · ${playbackRate} × · ${this.#opened.name}`,
    );
  }

  /** How long one picture lasts, from two that followed each other, where the browser tells. */
  #measurePictures() {
    if (!("requestVideoFrameCallback" in HTMLVideoElement.prototype)) return;
    let last = { mediaTime: 0, presentedFrames: 0 };
    const note = (/** @type {number} */ _, /** @type {VideoFrameCallbackMetadata} */ picture) => {
      const lasted = picture.mediaTime - last.mediaTime;
      if (picture.presentedFrames === last.presentedFrames + 1 && lasted > 0.005 && lasted < 0.2)
        this.#picture = lasted;
      last = picture;
      this.#video.requestVideoFrameCallback(note);
    };
    this.#video.requestVideoFrameCallback(note);
  }
}

/**
 * Waits until the browser knows the video. Recordings made in a browser do not say how
 * long they are until their end has been looked for.
 * @param {HTMLVideoElement} video @returns {Promise<number>} seconds @throws where it is none it can show
 */
async function lengthOf(video) {
  await heard(video, "loadedmetadata");
  if (!Number.isFinite(video.duration)) {
    video.currentTime = Number.MAX_SAFE_INTEGER;
    await heard(video, "seeked");
  }
  return video.duration;
}

/** @param {HTMLVideoElement} video @param {string} event @returns {Promise<void>} */
const heard = (video, event) =>
  new Promise((resolve, reject) => {
    video.addEventListener(event, () => resolve(), { once: true });
    video.addEventListener(
      "error",
      () => reject(new Error("This browser cannot show that file; MP4 (H.264) and WebM work in most")),
      { once: true },
    );
  });

/** @param {File} file @returns {Kept | null} where it was left, if it is the one that was open last */
function keptPlace({ name, size }) {
  const kept = keptJson(lasting, KEPT, isKept, null);
  return kept !== null && kept.name === name && kept.size === size ? kept : null;
}

/** @param {unknown} value @returns {value is Kept} */
const isKept = (value) =>
  value !== null && typeof value === "object" && "began" in value && "place" in value && "name" in value;
