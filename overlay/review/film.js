// The coach's own video beside the list: opened by the browser alone, never sent
// anywhere. One difference between the clock of the chart and the place in the
// video is all it needs; it is kept for this match and file.

import { placeWords } from "../shared/format.js";
import { make, setText } from "../shared/dom.js";
import { lasting } from "../shared/memory.js";

/** Shown before the moment asked for, seconds: a key comes after the stroke it records. */
const LEAD = 1;
const KEPT = "rallytide.review.film.";

export class Film {
  #video = make("video", { controls: "", playsinline: "", preload: "auto", "aria-label": "Your video", hidden: "" });
  #file = make("input", { type: "file", accept: "video/*", name: "film" });
  #align = make("button", { type: "button", "data-do": "align", hidden: "" }, "This moment is that serve");
  #words = make(
    "p",
    { role: "status", class: "film-words" },
    "The file stays in this browser: it is not copied and not sent anywhere.",
  );
  /** @type {number | null} ms since 1970 at the video's beginning */
  #began = null;
  #kept = "";
  #match;
  #heard;

  /**
   * @param {HTMLElement} place @param {string} match id
   * @param {() => { number: number, at: number } | null} open the rally that is open
   * @param {(began: number | null) => void} heard when the video begins, ms since 1970; null: not known
   */
  constructor(place, match, open, heard) {
    this.#match = match;
    this.#heard = heard;
    this.#file.addEventListener("change", () => this.#open());
    this.#align.addEventListener("click", () => this.#alignWith(open()));
    this.#video.addEventListener("loadedmetadata", () => this.#loaded());
    this.#video.addEventListener("error", () => this.#failed());
    place.append(make("label", {}, "Video file ", this.#file), this.#video, this.#align, this.#words);
  }

  /** @param {number} at ms since 1970 */
  seek(at) {
    if (!this.#video.hasAttribute("src")) return;
    if (this.#began === null)
      return setText(
        this.#words,
        "Find the serve of the open rally in the video, then press “This moment is that serve”.",
      );
    const wanted = (at - this.#began) / 1000;
    const { duration } = this.#video;
    if (wanted < 0 || (Number.isFinite(duration) && wanted > duration))
      return setText(this.#words, "This moment is not in the video.");
    this.#video.currentTime = Math.max(0, wanted - LEAD);
    setText(this.#words, `Shown from ${placeWords(this.#video.currentTime)}`);
  }

  playOrPause() {
    if (!this.#video.hasAttribute("src")) return;
    if (!this.#video.paused) return this.#video.pause();
    this.#video
      .play()
      .catch((/** @type {unknown} */ error) =>
        setText(this.#words, `This video does not play: ${error instanceof Error ? error.message : String(error)}`),
      );
  }

  #open() {
    const file = this.#file.files?.[0];
    if (file === undefined) return;
    URL.revokeObjectURL(this.#video.src);
    this.#kept = `${KEPT}${this.#match}.${file.name}.${file.size}`;
    this.#video.src = URL.createObjectURL(file);
  }

  #loaded() {
    this.#video.hidden = false;
    this.#align.hidden = false;
    const kept = Number(lasting.getItem(this.#kept) ?? NaN);
    this.#began = Number.isFinite(kept) ? kept : null;
    this.#heard(this.#began);
    setText(
      this.#words,
      this.#began === null
        ? "Open a rally, find its serve in the video, then press “This moment is that serve”."
        : "It fits as you left it: open a rally or press a shot.",
    );
  }

  #failed() {
    this.#video.hidden = true;
    this.#align.hidden = true;
    this.#video.removeAttribute("src");
    this.#began = null;
    this.#heard(null);
    setText(this.#words, "This browser cannot show that file; MP4 (H.264) and WebM work in most.");
  }

  /** @param {{ number: number, at: number } | null} rally */
  #alignWith(rally) {
    if (rally === null) return setText(this.#words, "Open the rally whose serve this is first.");
    this.#began = rally.at - this.#video.currentTime * 1000;
    lasting.setItem(this.#kept, String(this.#began));
    this.#heard(this.#began);
    setText(
      this.#words,
      `Rally ${rally.number} is served at ${placeWords(this.#video.currentTime)}; rallies and shots now lead to their moment.`,
    );
  }
}
