// The coach's own video beside the list: opened by the browser alone, never sent
// anywhere. One difference between the clock of the chart and the place in the
// video is all it needs; it is kept for this match and file.

import { placeWords } from "../shared/format.js";
import { html, nothing } from "../shared/html.js";
import { lasting } from "../shared/memory.js";

/** Shown before the moment asked for, seconds: a key comes after the stroke it records. */
const LEAD = 1;
const KEPT = "rallytide.review.film.";

/**
 * @typedef {object} FilmState
 * @property {string | null} address of the file that is open
 * @property {boolean} isShown the browser can play it
 * @property {number | null} began ms since 1970 at the video's beginning; null: not known
 * @property {string} words what is said below it
 */

/** @typedef {{ number: number, at: number }} OpenRally */

export class Film {
  /** @type {Readonly<FilmState>} */
  #state = {
    address: null,
    isShown: false,
    began: null,
    words: "The file stays in this browser: it is not copied and not sent anywhere.",
  };
  /** Where the difference of this file is kept. */
  #kept = "";
  #match;
  #page;

  /**
   * @param {string} match id
   * @param {{ rally: () => OpenRally | null, video: () => HTMLVideoElement | null, changed: () => void }} page
   */
  constructor(match, page) {
    this.#match = match;
    this.#page = page;
  }

  get began() {
    return this.#state.began;
  }

  /** @param {number | null} open the number of the open rally */
  view(open) {
    const { address, isShown, words } = this.#state;
    return html`
      <label>Video file <input type="file" accept="video/*" name="film" @change=${this.#open} /></label>
      <video
        controls
        playsinline
        preload="auto"
        aria-label="Your video"
        src=${address ?? nothing}
        ?hidden=${!isShown}
        @loadedmetadata=${this.#loaded}
        @error=${this.#failed}
      ></video>
      <button type="button" data-do="align" ?hidden=${!isShown} @click=${this.#align}>${alignWords(open)}</button>
      <p role="status" class="film-words">${words}</p>
    `;
  }

  /** @param {number} at ms since 1970 */
  seek(at) {
    const { address, began } = this.#state;
    const video = this.#page.video();
    if (address === null || video === null) return;
    if (began === null) {
      const { rally } = this.#page;
      return this.#say(`Find the serve in the video, then press “${alignWords(rally()?.number ?? null)}”.`);
    }
    const wanted = (at - began) / 1000;
    if (wanted < 0 || (Number.isFinite(video.duration) && wanted > video.duration))
      return this.#say("This moment is not in the video.");
    video.currentTime = Math.max(0, wanted - LEAD);
    this.#say(`Shown from ${placeWords(video.currentTime)}`);
  }

  playOrPause() {
    const video = this.#page.video();
    if (this.#state.address === null || video === null) return;
    if (!video.paused) return video.pause();
    video
      .play()
      .catch((/** @type {unknown} */ error) =>
        this.#say(`This video does not play: ${error instanceof Error ? error.message : String(error)}`),
      );
  }

  /** @param {string} words */
  #say(words) {
    this.#become({ words });
  }

  /** @param {Partial<FilmState>} change */
  #become(change) {
    this.#state = { ...this.#state, ...change };
    this.#page.changed();
  }

  #open = (/** @type {Event} */ event) => {
    const file = /** @type {HTMLInputElement} */ (event.currentTarget).files?.[0];
    if (file === undefined) return;
    if (this.#state.address !== null) URL.revokeObjectURL(this.#state.address);
    this.#kept = `${KEPT}${this.#match}.${file.name}.${file.size}`;
    this.#become({ address: URL.createObjectURL(file), isShown: false, began: null });
  };

  #loaded = () => {
    const kept = Number(lasting.getItem(this.#kept) ?? NaN);
    const began = Number.isFinite(kept) ? kept : null;
    const words =
      began === null
        ? `Open a rally, find its serve in the video, then press “${alignWords(null)}”.`
        : "Timed as you set it before: open a rally or press a shot.";
    this.#become({ isShown: true, began, words });
  };

  #failed = () => {
    // Taking the address away is no failure of a file.
    if (this.#state.address === null) return;
    const words = "This browser cannot show that file. Choose another; MP4 (H.264) and WebM work in most browsers.";
    this.#become({ address: null, isShown: false, began: null, words });
  };

  #align = () => {
    const rally = this.#page.rally();
    const video = this.#page.video();
    if (rally === null || video === null) return this.#say("Open the rally whose serve this is first.");
    const began = rally.at - video.currentTime * 1000;
    lasting.setItem(this.#kept, String(began));
    const place = placeWords(video.currentTime);
    this.#become({
      began,
      words: `Rally ${rally.number} is served at ${place}. Rallies and shots now lead to their moment.`,
    });
  };
}

/** @param {number | null} open */
const alignWords = (open) => `Set: this is the serve of ${open === null ? "the open rally" : `rally ${open}`}`;
