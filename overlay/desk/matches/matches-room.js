// The room where matches are planned: the list, the form, the sheet.

/** @import { DeskView, MatchState } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { keyedChildren, make, setAttribute, setText } from "../../shared/dom.js";
import { button } from "../page/controls.js";
import { putOn } from "../courts/putting-on.js";
import { can } from "../host/desk.js";
import { ImportSheet } from "./import-sheet.js";
import { MatchForm } from "./match-form.js";
import { SaveFiles } from "./save-files.js";
import { formatWords, matchStateWords, versus } from "../page/telling.js";

/** @type {Record<MatchState["state"], number>} what matters now stands above */
const ORDER = { on: 0, planned: 1, put_aside: 2, finished: 3 };

export class MatchesRoom {
  #desk;
  #list = make("ul", { class: "matches" });
  #none = make("p", { class: "quiet" }, "No match is planned yet.");
  #form;
  #side = make("div", { class: "side" });
  #planning;
  #sheet;
  /** @type {Map<string, SaveFiles>} */
  #files = new Map();
  /** @type {HTMLElement | null} */
  #editing = null;
  node;

  /** @param {Desk} desk */
  constructor(desk) {
    this.#desk = desk;
    this.#form = new MatchForm({ name: "match", label: "Plan this match", save: (header) => this.#plan(header) });
    this.#planning = make(
      "section",
      { class: "card", "aria-label": "A new match" },
      make("h2", {}, "A new match"),
      this.#form.node,
    );
    this.#sheet = new ImportSheet(desk).node;
    this.#sheet.hidden = true;
    this.#side.append(this.#planning, this.#sheet);
    this.node = make(
      "div",
      { class: "split" },
      make("section", { "aria-label": "Matches" }, make("h2", {}, "Matches"), this.#none, this.#list),
      this.#side,
    );
  }

  /** @param {DeskView} view */
  draw(view) {
    const { host } = view;
    if (host === null) return;
    this.#sheet.hidden = !can(view, "/matches/import");
    const matches = [...host.matches].sort((one, other) => ORDER[one.state] - ORDER[other.state]);
    this.#none.hidden = matches.length > 0;
    /** @type {Map<string, MatchState>} */
    const byId = new Map(matches.map((match) => [match.id, match]));
    keyedChildren(
      this.#list,
      matches.map(({ id }) => id),
      (id) => this.#item(id),
      (node, id) => {
        const match = byId.get(id);
        if (match === undefined) return;
        drawItem(node, match);
        this.#files.get(id)?.draw(versus(match.header));
      },
    );
  }

  /** @param {Parameters<Desk["host"]["addMatch"]>[0]} header */
  #plan(header) {
    /** @type {{ id: string } | null} */
    let made = null;
    return this.#desk.act(
      async () => {
        made = await this.#desk.host.addMatch(header, null);
      },
      "Planned. Put it on its court in the room Courts.",
      {
        label: "Undo: remove it again",
        said: "The match is removed.",
        run: async () => made !== null && this.#desk.host.removeMatch(made.id),
      },
    );
  }

  /** @param {string} id */
  #item(id) {
    const files = new SaveFiles(this.#desk, id);
    this.#files.set(id, files);
    return make(
      "li",
      { class: "card match" },
      make(
        "div",
        { class: "what" },
        make("strong"),
        make("span", { class: "state" }),
        make("p", { class: "title" }),
        make("p", { class: "quiet format" }),
      ),
      make(
        "div",
        { class: "row" },
        button("Put on", () => this.#putOn(id), { "data-do": "on" }),
        button("Change", () => this.#edit(id), { "data-do": "edit" }),
        button("Remove", () => this.#remove(id), { "data-do": "remove" }),
        make(
          "a",
          { class: "review", href: this.#desk.host.follow(`/review/${encodeURIComponent(id)}`), target: "_blank" },
          "Review (new tab)",
        ),
      ),
      files.node,
    );
  }

  /** @param {string} id */
  #putOn(id) {
    return putOn(this.#desk, id, this.#desk.match(id)?.header.court || "1");
  }

  /** @param {string} id */
  #edit(id) {
    const match = this.#desk.match(id);
    if (match === null) return;
    const leave = () => {
      form.clear();
      this.#editing?.remove();
      this.#editing = null;
      this.#planning.hidden = false;
    };
    const form = new MatchForm({
      name: `edit.${id}`,
      label: "Save the change",
      leave,
      save: async (header) => {
        const before = match.header;
        const done = await this.#desk.act(
          () => this.#desk.host.changeMatch(id, { ...header, id }),
          "Changed; it is shown everywhere.",
          {
            label: "Undo the change",
            said: "It is as it was before.",
            run: () => this.#desk.host.changeMatch(id, before),
          },
        );
        if (done) leave();
        return done;
      },
    });
    form.edit(match.header, match.entries > 0);
    this.#editing?.remove();
    this.#planning.hidden = true;
    this.#editing = make(
      "section",
      { class: "card", "aria-label": "Change a match" },
      make("h2", {}, `Change: ${versus(match.header)}`),
      ...(match.entries > 0
        ? [
            make(
              "p",
              { class: "advice" },
              "It has begun: title, court, names and colours can change, the way of scoring cannot.",
            ),
          ]
        : []),
      form.node,
    );
    this.#side.prepend(this.#editing);
    form.focus();
  }

  /** @param {string} id */
  async #remove(id) {
    const match = this.#desk.match(id);
    if (match === null) return;
    await this.#desk.act(() => this.#desk.host.removeMatch(id), `Removed: ${versus(match.header)}.`, {
      label: "Undo: plan it again",
      said: "The match is planned again.",
      run: () => this.#desk.host.addMatch(match.header, null),
    });
  }
}

/** @param {HTMLElement} node @param {MatchState} match */
function drawItem(node, match) {
  const part = (/** @type {string} */ selector) => /** @type {HTMLElement} */ (node.querySelector(selector));
  setText(part("strong"), versus(match.header));
  setText(part(".state"), matchStateWords(match));
  const court = match.header.court ? `, court ${match.header.court}` : "";
  setText(part(".title"), `${match.header.title ?? ""}${court}`);
  setText(part(".format"), formatWords(match.header));
  const planned = match.state === "planned";
  part("[data-do=remove]").hidden = !planned;
  part(".saves").hidden = planned || match.entries === 0;
  part(".review").hidden = planned || match.entries === 0;
  setAttribute(part(".review"), "aria-label", `Review: ${versus(match.header)} (new tab)`);
  part("[data-do=on]").hidden = !planned;
  const on = `Put on court ${match.header.court || "1"}`;
  setText(part("[data-do=on]"), on);
  for (const [name, what] of /** @type {const} */ ([
    ["on", on],
    ["edit", "Change"],
    ["remove", "Remove"],
  ])) {
    setAttribute(part(`[data-do=${name}]`), "aria-label", `${what}: ${versus(match.header)}`);
  }
}
