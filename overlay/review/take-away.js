// What of the match can be taken away: the print of what is shown, the review
// itself, and, with the desk's access, every file the host makes of it.

import { make, setAttribute, setText } from "../shared/dom.js";
import { withKey } from "../shared/key.js";
import { MATCH_FILES, fileName, filePath } from "../shared/match-files.js";

export class TakeAway {
  #match;
  #place;
  /** @type {{ link: HTMLAnchorElement, file: string }[]} */
  #forVideo = [];
  #timed = make("span", { class: "timed", role: "status" });
  /** @type {number | null} ms since 1970 at the beginning of the video that is open */
  #began = null;

  /** @param {HTMLElement} place @param {string} match id */
  constructor(place, match) {
    this.#match = match;
    this.#place = place;
    const print = make("button", { type: "button" }, "Print this list");
    print.addEventListener("click", () => globalThis.print());
    place.append(make("div", { class: "group" }, print, this.#link("review.json", "This review")));
    void this.#offer();
  }

  /** Subtitles fit the video that is open. @param {number | null} began ms since 1970; null: not known */
  fit(began) {
    this.#began = began;
    for (const { link, file } of this.#forVideo)
      setAttribute(link, "href", this.#address(file, began === null ? {} : { start: new Date(began).toISOString() }));
    setText(this.#timed, began === null ? "Timed from the first entry of the chart." : "Timed to fit your video.");
  }

  async #offer() {
    const answer = await fetch(this.#address("chart.jsonl"), { method: "HEAD" });
    if (!answer.ok) {
      this.#place.append(make("p", {}, "The chart and other files are handed out by the desk."));
      return;
    }
    for (const group of MATCH_FILES) {
      const links = group.files.map(({ file, label }) => {
        const link = this.#link(file, label);
        if (group.for === "video") this.#forVideo.push({ link, file });
        return link;
      });
      this.#place.append(
        make(
          "div",
          { class: "group" },
          make("span", { class: "for" }, group.words),
          ...links,
          ...(group.for === "video" ? [this.#timed] : []),
        ),
      );
    }
    this.fit(this.#began);
  }

  /** @param {string} file @param {string} label */
  #link(file, label) {
    return make("a", { href: this.#address(file), download: fileName(this.#match, file) }, label);
  }

  /** @param {string} file @param {Record<string, string>} [options] */
  #address(file, options) {
    return withKey(new URL(filePath(this.#match, file, options), location.origin), location.href).href;
  }
}
