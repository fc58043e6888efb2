// The part of the graphic's room where numbers of the plugins are put on the
// graphic: chosen from what the plugins provide, or by name.

/** @import { Plugin } from "../../types/desk.js" */
/** @import { Reading } from "../../types/messages.js" */
import { make, setText } from "../../shared/dom.js";
import { isIndicatorName } from "../../shared/options.js";
import { button, choice, field, input } from "../page/controls.js";
import { numberWords, offeredNumbers } from "./numbers.js";

export class NumberList {
  #change;
  /** @type {readonly string[]} */
  #names = [];
  #offered = "";
  #pick = field("A number of a plugin", choice([]));
  #typed = field(
    "Another one, by its name",
    input({ spellcheck: "false" }),
    "As the plugin's author wrote it, a slot behind a slash: third.won/drop",
  );
  #list = make("ul", { class: "numbers" });
  #none = make("p", { class: "quiet" }, "None yet.");
  node;

  /** @param {(names: string[]) => void} change what is to be shown now */
  constructor(change) {
    this.#change = change;
    const add = button("Add", () => this.#add(this.#pick.control.value), { "aria-label": "Add the chosen number" });
    const byName = button("Add", () => this.#addTyped(), { "aria-label": "Add the named number" });
    this.#typed.control.addEventListener("keydown", (event) => {
      if (event instanceof KeyboardEvent && event.key === "Enter") this.#addTyped();
    });
    // What is only being typed or picked composes nothing yet.
    for (const { node } of [this.#pick, this.#typed])
      for (const kind of ["input", "change"]) node.addEventListener(kind, (event) => event.stopPropagation());
    this.node = make(
      "fieldset",
      {},
      make("legend", {}, "Numbers of the plugins"),
      make("p", { class: "advice" }, "Each is on the graphic from when its plugin first tells it."),
      this.#list,
      this.#none,
      make("div", { class: "add" }, this.#pick.node, add),
      make(
        "details",
        { class: "more" },
        make("summary", {}, "By name"),
        make("div", { class: "add" }, this.#typed.node, byName),
      ),
    );
  }

  /** @param {readonly string[]} names what is shown */
  fill(names) {
    if (names.join() === this.#names.join() && this.#list.childElementCount === names.length) return;
    this.#names = names;
    this.#none.hidden = names.length > 0;
    this.#list.replaceChildren(
      ...names.map((name) =>
        make(
          "li",
          {},
          make("span", {}, numberWords(name)),
          button("Remove", () => this.#remove(name), { "aria-label": `Remove: ${numberWords(name)}` }),
        ),
      ),
    );
  }

  /** @param {readonly Plugin[]} plugins @param {readonly Reading[]} readings */
  offer(plugins, readings) {
    const offered = offeredNumbers(plugins, readings);
    const key = offered.map(({ name, plugin }) => `${plugin} ${name}`).join("\n");
    const select = /** @type {HTMLSelectElement} */ (this.#pick.control);
    if (key === this.#offered || document.activeElement === select) return;
    this.#offered = key;
    const chosen = select.value;
    const groups = [...new Set(offered.map(({ plugin }) => plugin))].map((plugin) =>
      make(
        "optgroup",
        { label: plugin },
        ...offered
          .filter((one) => one.plugin === plugin)
          .map(({ name, words }) => make("option", { value: name }, words)),
      ),
    );
    select.replaceChildren(...groups);
    if (offered.some(({ name }) => name === chosen)) select.value = chosen;
  }

  /** @param {string} name */
  #add(name) {
    if (name !== "" && !this.#names.includes(name)) this.#change([...this.#names, name]);
  }

  #addTyped() {
    const name = this.#typed.control.value.trim();
    const fits = isIndicatorName(name);
    this.#typed.blame(
      fits
        ? ""
        : "A name of small letters, digits, - and _, parts joined by dots, such as rally.longest or third.won/drop.",
    );
    if (!fits) {
      this.#typed.control.focus();
      return;
    }
    this.#typed.control.value = "";
    this.#add(name);
  }

  /** @param {string} name */
  #remove(name) {
    this.#change(this.#names.filter((one) => one !== name));
    setText(this.#none, "None.");
    this.#pick.control.focus();
  }
}
