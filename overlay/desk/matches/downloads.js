// A match's files to download: grouped by who takes them, with what a table or a
// subtitle needs to be told. Links, so that they can be copied; pressed, they are
// fetched here, because a refusal is a sentence at the foot of the page.

/**
 * @import { Desk } from "../host/desk.js"
 * @import { Readership } from "../../shared/match-files.js"
 */
import { textField, tick } from "../../shared/fields.js";
import { html, nothing } from "../../shared/html.js";
import { MATCH_FILES, fileName, filePath } from "../../shared/match-files.js";
import { placeFrom } from "../../shared/video-time.js";
import { keepDraft, readDraft } from "../drafts.js";
import { saveFile } from "../page/saving.js";
import { can } from "../state.js";

const EXPORTS = "/matches/{id}/export/{file}";
const draftName = (/** @type {string} */ id) => `save.${id}`;

/** @typedef {{ mark: boolean, place: string, fault: string }} Wish */

/** @param {Desk} desk @param {string} id @returns {Wish} */
function wishOf({ state }, id) {
  const known = state.downloads[id];
  if (known !== undefined) return known;
  const kept = readDraft(draftName(id));
  const wish = { mark: kept?.mark === true, place: typeof kept?.place === "string" ? kept.place : "", fault: "" };
  state.downloads[id] = wish;
  return wish;
}

/** @param {Desk} desk @param {string} id @param {Partial<Wish>} part */
function wish(desk, id, part) {
  const now = { ...wishOf(desk, id), ...part };
  const { mark, place } = now;
  keepDraft(draftName(id), !mark && place === "" ? null : { mark, place });
  desk.change({ downloads: { ...desk.state.downloads, [id]: now } });
}

/** @param {Desk} desk @param {string} id the match's */
export function downloads(desk, id) {
  const now = wishOf(desk, id);
  const offered = can(desk.state, EXPORTS);
  const groups = MATCH_FILES.filter((group) => offered || group.for === "program");
  return html`<details class="more saves">
    <summary>Download</summary>
    ${groups.map(
      (group) => html`<div class="files" data-for=${group.for}>
        <span class="for">${group.words}</span>
        ${group.files.map(({ file, label }) => fileLink(desk, id, now, group.for, file, label))}
        ${options(desk, id, now, group.for)}
      </div>`,
    )}
  </details>`;
}

/** @param {Desk} desk @param {string} id @param {Wish} now @param {Readership} readers @param {string} file @param {string} label */
function fileLink(desk, id, now, readers, file, label) {
  return html`<a
    href=${desk.host.follow(filePath(id, file, asked(now, readers)))}
    download=${fileName(id, file)}
    @click=${(/** @type {MouseEvent} */ event) => {
      event.preventDefault();
      void take(desk, id, now, readers, file);
    }}
    >${label}</a
  >`;
}

/** @param {Desk} desk @param {string} id @param {Wish} now @param {Readership} readers */
function options(desk, id, now, readers) {
  if (readers === "spreadsheet")
    return tick({
      id: "download-mark",
      name: "bom",
      label: "Accents look wrong in my spreadsheet: mark the tables for it",
      on: now.mark,
      put: (mark) => wish(desk, id, { mark }),
    });
  if (readers !== "video") return nothing;
  return textField({
    id: "download-place",
    name: "offset",
    label: "Where in the video the chart starts",
    value: now.place,
    fault: now.fault,
    placeholder: "0:00",
    advice: "As the player shows it, like 12:05; -0:40 if the recording begins 40 seconds after the first entry.",
    put: (place) => wish(desk, id, { place, fault: "" }),
  });
}

/** @param {Wish} now @param {Readership} readers @returns {Record<string, string>} */
function asked({ mark, place }, readers) {
  if (readers === "spreadsheet" && mark) return { bom: "true" };
  const seconds = placeFrom(place) ?? 0;
  return readers === "video" && seconds !== 0 ? { offset: String(seconds) } : {};
}

/** @param {Desk} desk @param {string} id @param {Wish} now @param {Readership} readers @param {string} file */
async function take(desk, id, now, readers, file) {
  if (readers === "video" && placeFrom(now.place) === null) {
    wish(desk, id, { fault: "A place in the video, like 12:05 or 1:02:30, or a number of seconds." });
    document.querySelector("#download-place")?.scrollIntoView({ block: "nearest" });
    return /** @type {HTMLElement | null} */ (document.querySelector("#download-place"))?.focus();
  }
  const name = fileName(id, file);
  await desk.act(
    async () => saveFile(name, await desk.host.file(filePath(id, file, asked(now, readers)))),
    `Saved, where this browser puts its downloads: ${name}`,
  );
}
