// What of the match can be downloaded: the print of what is shown, the review
// itself, and, with the desk's access, every file the host makes of it.

import { html, nothing } from "../shared/html.js";
import { withKey } from "../shared/key.js";
import { MATCH_FILES, fileName, filePath } from "../shared/match-files.js";

/** @typedef {"asked" | "offered" | "refused" | "lost"} Offer whether the host hands files out to this page */

/** @param {string} match id @param {string} file @param {Record<string, string>} [options] */
function addressOf(match, file, options) {
  return withKey(new URL(filePath(match, file, options), location.origin), location.href).href;
}

/** @param {string} match id @returns {Promise<Offer>} */
export async function askForFiles(match) {
  try {
    const answer = await fetch(addressOf(match, "chart.jsonl"), { method: "HEAD" });
    return answer.ok ? "offered" : "refused";
  } catch (error) {
    console.warn(`could not ask which files there are: ${String(error)}`);
    return "lost";
  }
}

/**
 * @param {string} match id
 * @param {Offer} offer
 * @param {number | null} began ms since 1970 at the beginning of the video that is open
 */
export function filesView(match, offer, began) {
  /** @param {string} file @param {string} label @param {Record<string, string>} [options] */
  const link = (file, label, options) =>
    html`<a href=${addressOf(match, file, options)} download=${fileName(match, file)}>${label}</a>`;
  // Captions fit the video that is open.
  const timed = began === null ? {} : { start: new Date(began).toISOString() };
  return html`
    <div class="group">
      <button type="button" @click=${() => globalThis.print()}>Print</button>
      ${link("review.json", "Review data (JSON)")}
    </div>
    ${
      offer !== "offered"
        ? html`<p>${OTHERWISE[offer]}</p>`
        : MATCH_FILES.map(
            (group) => html`<div class="group">
            <span class="for">${group.words}</span>
            ${group.files.map(({ file, label }) => link(file, label, group.for === "video" ? timed : undefined))}
            ${group.for === "video" ? html`<span class="timed" role="status">${timedWords(began)}</span>` : nothing}
          </div>`,
          )
    }
  `;
}

const OTHERWISE = {
  asked: "",
  refused: "The chart, tables and captions can be downloaded at the desk.",
  lost: "The host did not answer. Check that Rallytide is running, then reload this page for more files.",
};

/** @param {number | null} began */
const timedWords = (began) =>
  began === null ? "Timed from the first entry of the chart." : "Timed to fit your video.";
