// Putting a court's chart right: choose one of the last entries or give the
// referee's word on the score, see what it does, then let it take effect.

/** @import { DeskHeader, EntryJson, ListedEntry, Preview, Taken } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { newId } from "../../shared/ids.js";
import { make, setAttribute } from "../../shared/dom.js";
import { button } from "../page/controls.js";
import { formFor, scoreForm } from "./correction-forms.js";
import { retract } from "./correcting.js";
import { sentenceOf } from "../host/desk.js";
import { Refused, asSentence } from "../host/host.js";
import { count, describeEntry, refusedWords, scoreBrief } from "../page/telling.js";

/** How many entries are looked at. */
const SHOWN = 40;
/** A moment of rest before the host is asked what a change does, ms. */
const REST_MS = 250;

/** What is to be done, by the kind of entry that does it. @type {Record<string, string>} */
const DOING = {
  amend: ": it is changed",
  retract: ": it is taken away",
  insert: ": it is inserted",
  score_fix: ": the score is set",
};

/** @returns {{ id: string, at: string }} of something recorded now */
export function stamp() {
  return { id: `desk-${newId()}`, at: new Date().toISOString() };
}

/** @param {Taken} taken */
export function refuseNothing({ refused }) {
  if (refused.length > 0) throw new Refused(asSentence(refusedWords(refused)), 422);
}

export class CorrectionsDialog {
  #desk;
  #court;
  /** @type {DeskHeader | null} */
  #header = null;
  /** @type {ListedEntry[]} */
  #entries = [];
  #list = make("ol", { class: "entries" });
  #form = make("div", { class: "correction" });
  #effect = make("div", { class: "effect", role: "status" });
  #apply = button("Let it take effect", () => this.#record(), { class: "chief" });
  /** @type {EntryJson[]} */
  #wanted = [];
  #asked = 0;
  #timer = 0;
  /** @type {HTMLDialogElement} */
  #dialog;

  /** @param {Desk} desk @param {string} court */
  constructor(desk, court) {
    this.#desk = desk;
    this.#court = court;
    const score = button("The referee's word on the score", () => this.#chooseScore());
    this.#dialog = make(
      "dialog",
      { class: "corrections", "aria-labelledby": "corrections-title" },
      make(
        "div",
        { class: "head" },
        make("h2", { id: "corrections-title" }, `Correct the chart of court ${court}`),
        button("Close", () => this.#dialog.close(), { class: "plain" }),
      ),
      make(
        "div",
        { class: "split" },
        make(
          "section",
          { "aria-label": "The last entries" },
          score,
          make("p", { class: "quiet" }, "or choose what was recorded wrongly, the latest first:"),
          this.#list,
        ),
        make(
          "section",
          { "aria-label": "The correction" },
          this.#form,
          this.#effect,
          make("div", { class: "row" }, this.#apply),
        ),
      ),
    );
    this.#apply.hidden = true;
    this.#dialog.addEventListener(
      "close",
      () => {
        clearTimeout(this.#timer);
        this.#dialog.remove();
      },
      { once: true },
    );
  }

  async show() {
    document.body.append(this.#dialog);
    this.#dialog.showModal();
    this.#invite();
    await this.#load();
  }

  #invite() {
    this.#form.replaceChildren(
      make("p", { class: "quiet" }, "Nothing is erased: a correction is added to the chart, and can be taken back."),
    );
    this.#want([]);
  }

  async #load() {
    this.#header = this.#desk.match(this.#desk.court(this.#court)?.match ?? "")?.header ?? null;
    try {
      this.#entries = (await this.#desk.host.entries(this.#court, SHOWN)).entries;
    } catch (error) {
      this.#showTrouble(sentenceOf(error));
      return;
    }
    const header = this.#header;
    if (header === null) return;
    this.#list.replaceChildren(
      ...this.#entries.map((listed) => {
        const words = `${listed.rally === null ? "" : `Rally ${listed.rally}: `}${describeEntry(header, listed.entry)}`;
        const state =
          listed.state === "original" ? "" : ` (${listed.state === "retracted" ? "removed" : listed.state})`;
        const choose = button(`${words}${state}`, () => this.#choose(listed, choose), { "aria-pressed": "false" });
        return make("li", { "data-state": listed.state }, choose);
      }),
    );
  }

  /** @param {HTMLElement | null} chosen */
  #mark(chosen) {
    for (const one of this.#list.querySelectorAll("button")) setAttribute(one, "aria-pressed", String(one === chosen));
  }

  /** @param {ListedEntry} listed @param {HTMLElement} chosen */
  #choose(listed, chosen) {
    if (this.#header === null) return;
    this.#mark(chosen);
    this.#want([]);
    this.#form.replaceChildren(
      make("h3", {}, describeEntry(this.#header, listed.entry)),
      formFor(listed, this.#header, stamp, (wanted) => this.#want(wanted)),
    );
  }

  #chooseScore() {
    const score = this.#desk.court(this.#court)?.score ?? null;
    if (this.#header === null || score === null) return;
    this.#mark(null);
    this.#want([]);
    // After the match only corrections are taken: the word is then inserted after the last entry.
    const last = score.winner === null ? null : (this.#entries[0]?.entry.id ?? null);
    this.#form.replaceChildren(
      make("h3", {}, "The referee's word on the score"),
      scoreForm(score, this.#header, last, stamp, (wanted) => this.#want(wanted)),
    );
  }

  /** @param {EntryJson[]} wanted what is to be recorded; empty: nothing yet */
  #want(wanted) {
    this.#wanted = wanted;
    this.#apply.hidden = true;
    clearTimeout(this.#timer);
    this.#asked += 1;
    if (wanted.length === 0) this.#effect.replaceChildren();
    else this.#timer = window.setTimeout(() => void this.#ask(this.#asked), REST_MS);
  }

  /** @param {number} asked an answer to an older question is not shown */
  async #ask(asked) {
    try {
      const preview = await this.#desk.host.preview(this.#court, this.#wanted);
      if (asked === this.#asked) this.#showEffect(preview);
    } catch (error) {
      if (asked === this.#asked) this.#showTrouble(sentenceOf(error));
    }
  }

  /** @param {Preview} preview */
  #showEffect({ score, rallies, readings, refused }) {
    if (this.#header === null) return;
    if (refused.length > 0) {
      this.#showTrouble(`This cannot be: ${asSentence(refusedWords(refused))}`);
      return;
    }
    const { teams } = this.#header;
    // The host says `a won`; people know the teams by name.
    const named = (/** @type {string} */ words) =>
      words.replace(/^[ab]\b/, (team) => teams[team === "a" ? "a" : "b"].name);
    const before = scoreBrief(score.before, this.#header);
    const after = scoreBrief(score.after, this.#header);
    const lines = [
      before === after
        ? make("p", {}, `The score stays as it is: ${after}.`)
        : make(
            "dl",
            {},
            make("dt", {}, "Score now"),
            make("dd", {}, before),
            make("dt", {}, "and then"),
            make("dd", { class: "after" }, after),
          ),
      ...(rallies.length === 0
        ? []
        : [
            make(
              "ul",
              {},
              ...rallies
                .slice(0, 5)
                .map(({ number, before: was, after: is }) =>
                  make(
                    "li",
                    {},
                    `Rally ${number}: ${was === null ? "none" : named(was)} → ${is === null ? "none" : named(is)}`,
                  ),
                ),
              ...(rallies.length > 5
                ? [make("li", {}, `and ${count(rallies.length - 5, "more rally", "more rallies")}`)]
                : []),
            ),
          ]),
      make(
        "p",
        { class: "quiet" },
        readings.changed === 0
          ? "No number changes."
          : `${count(readings.changed, "number")} on the graphic and the booth page change${readings.changed === 1 ? "s" : ""}.`,
      ),
    ];
    this.#effect.replaceChildren(make("h4", {}, `What it does${DOING[this.#wanted[0]?.kind ?? ""] ?? ""}`), ...lines);
    this.#apply.hidden = false;
  }

  async #record() {
    const wanted = this.#wanted;
    const { host } = this.#desk;
    this.#apply.disabled = true;
    try {
      refuseNothing(await host.record(this.#court, wanted));
    } catch (error) {
      this.#showTrouble(sentenceOf(error));
      return;
    } finally {
      this.#apply.disabled = false;
    }
    this.#dialog.close();
    await this.#desk.act(async () => {}, "The correction is in; it is shown everywhere.", {
      label: "Undo the correction",
      said: "The correction is taken back.",
      run: async () =>
        refuseNothing(
          await host.record(
            this.#court,
            [...wanted].reverse().map(({ id }) => retract(id, stamp())),
          ),
        ),
    });
  }

  /** @param {string} sentence */
  #showTrouble(sentence) {
    this.#effect.replaceChildren(make("p", { class: "trouble" }, sentence));
  }
}
