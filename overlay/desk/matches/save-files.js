// A match's files to save: grouped by who takes them, with what a table or a
// subtitle needs to be told. Links, so that they can be copied; pressed, they are
// fetched here, because a refusal is a sentence for the foot of the page.

/** @import { Desk } from "../host/desk.js" */
import { placeFrom } from "../../shared/video-time.js";
import { make, setAttribute } from "../../shared/dom.js";
import { MATCH_FILES, fileName, filePath } from "../../shared/match-files.js";
import { draft, field, input, saveBlob } from "../page/controls.js";
import { can } from "../host/desk.js";

const EXPORTS = "/matches/{id}/export/{file}";

export class SaveFiles {
  #desk;
  #id;
  #kept;
  #mark = make("input", { type: "checkbox", name: "bom" });
  #place = field(
    "The first entry is at this place of the video",
    input({ name: "offset", placeholder: "0:00", class: "place" }),
    "As the player shows it, like 12:05; -0:40 if the recording begins 40 seconds after the first entry.",
  );
  /** @type {{ link: HTMLAnchorElement, file: string, readers: string }[]} */
  #links = [];
  #summary = make("summary", {}, "Save its files");
  node;

  /** @param {Desk} desk @param {string} id the match's */
  constructor(desk, id) {
    this.#desk = desk;
    this.#id = id;
    this.#kept = draft(`save.${id}`);
    const kept = this.#kept.read();
    this.#mark.checked = kept?.mark === true;
    this.#place.control.value = kept?.place ?? "";
    this.node = make(
      "details",
      { class: "more saves" },
      this.#summary,
      ...MATCH_FILES.map((group) =>
        make(
          "div",
          { class: "files", "data-for": group.for },
          make("span", { class: "for" }, group.words),
          ...group.files.map(({ file, label }) => this.#link(file, label, group.for)),
          ...this.#options(group.for),
        ),
      ),
    );
    this.node.addEventListener("input", () => this.#changed());
    this.#aim();
  }

  /** @param {string} match who plays */
  draw(match) {
    setAttribute(this.#summary, "aria-label", `Save its files: ${match}`);
    const offered = can(this.#desk.view, EXPORTS);
    for (const group of this.node.querySelectorAll(".files")) {
      if (group instanceof HTMLElement) group.hidden = !offered && group.dataset["for"] !== "program";
    }
  }

  /** @param {string} file @param {string} label @param {string} readers */
  #link(file, label, readers) {
    const link = make("a", { download: fileName(this.#id, file) }, label);
    link.addEventListener("click", (event) => {
      event.preventDefault();
      void this.#save(file, readers);
    });
    this.#links.push({ link, file, readers });
    return link;
  }

  /** @param {string} readers */
  #options(readers) {
    if (readers === "spreadsheet")
      return [
        make("label", { class: "tick" }, this.#mark, "My spreadsheet program shows é as Ã©: mark the tables for it"),
      ];
    return readers === "video" ? [this.#place.node] : [];
  }

  #changed() {
    const [mark, place] = [this.#mark.checked, this.#place.control.value];
    this.#kept.keep(!mark && place === "" ? null : { mark, place });
    this.#place.blame("");
    this.#aim();
  }

  /** @param {string} readers @returns {Record<string, string>} */
  #asked(readers) {
    if (readers === "spreadsheet" && this.#mark.checked) return { bom: "true" };
    const place = placeFrom(this.#place.control.value) ?? 0;
    return readers === "video" && place !== 0 ? { offset: String(place) } : {};
  }

  #aim() {
    for (const { link, file, readers } of this.#links)
      setAttribute(link, "href", this.#desk.host.follow(filePath(this.#id, file, this.#asked(readers))));
  }

  /** @param {string} file @param {string} readers */
  async #save(file, readers) {
    if (readers === "video" && placeFrom(this.#place.control.value) === null) {
      this.#place.blame("A place in the video, like 12:05 or 1:02:30, or a number of seconds.");
      return this.#place.control.focus();
    }
    const name = fileName(this.#id, file);
    const path = filePath(this.#id, file, this.#asked(readers));
    await this.#desk.act(
      async () => saveBlob(name, await this.#desk.host.file(path)),
      `Saved, where this browser puts its downloads: ${name}`,
    );
  }
}
