// <rt-own-numbers>: statistics of any plugin that somebody added, each by the type
// of its value; remembered on this machine. It offers, in words, what the feed has
// now, and keeps one that has no reading at present, saying so.

/**
 * @import { View } from "../types/view.js"
 */
import { keyedChildren, make, setText } from "../shared/dom.js";
import { isIndicatorName } from "../shared/options.js";
import { labelOf, namedIndicator } from "../shared/indicators.js";
import { Remembered } from "../shared/remembered.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { NamedIndicator } from "./named-indicator.js";

needStyles("own-numbers.css", import.meta.url);

/** Counted apart, so that two such elements on a page do not share ids. */
let made = 0;

export class OwnNumbers extends RtElement {
  #kept = new Remembered("own numbers");
  #list = make("ul", { class: "rt-own" });
  #field = make("input", {
    type: "text",
    required: "",
    autocomplete: "off",
    autocapitalize: "off",
    spellcheck: "false",
  });
  #names = make("datalist");
  /** The names of what is offered, by its words. @type {ReadonlyMap<string, string>} */
  #offered = new Map();
  #said = make("p", { class: "rt-said", role: "status" });

  /** @override */
  build() {
    const id = `rt-own-${(made += 1)}`;
    this.#names.id = `${id}-names`;
    this.#field.id = id;
    this.#field.setAttribute("list", this.#names.id);
    const form = make(
      "form",
      {},
      make("label", { for: id }, "Add a statistic"),
      this.#field,
      make("button", {}, "Add"),
    );
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      this.#add(this.#field.value.trim());
    });
    this.append(this.#list, form, this.#names, this.#said);
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    keyedChildren(
      this.#list,
      this.#kept.words,
      (name) => this.#create(name),
      (node, name) => {
        const { indicator, slot } = namedIndicator(name);
        const isThere = Object.values(view.readings).some((one) => one.indicator === indicator && one.slot === slot);
        const shown = node.querySelector("rt-named-indicator");
        const absent = node.querySelector(".rt-absent");
        if (shown instanceof NamedIndicator) shown.view = view;
        if (absent instanceof HTMLElement) absent.hidden = isThere;
      },
    );
    const names = new Set(
      Object.values(view.readings).map(({ indicator, slot }) => (slot === null ? indicator : `${indicator}/${slot}`)),
    );
    const offered = [...names].filter((name) => isOffered(name) && !this.#kept.has(name)).sort();
    this.#offered = new Map(offered.map((name) => [wordsFor(name).toLowerCase(), name]));
    keyedChildren(
      this.#names,
      offered,
      (name) => make("option", { value: wordsFor(name) }),
      () => {},
    );
  }

  /** @param {string} typed the words of one that is offered, or an indicator's name */
  #add(typed) {
    const name = this.#offered.get(typed.toLowerCase()) ?? typed;
    if (!isIndicatorName(name)) {
      setText(this.#said, `There is no statistic “${typed}”. Choose one from the list.`);
      return;
    }
    setText(this.#said, "");
    this.#kept.add(name);
    this.#field.value = "";
    this.redraw();
  }

  /** @param {string} name */
  #create(name) {
    const remove = make("button", { type: "button", "aria-label": `Remove ${wordsFor(name)}` }, "Remove");
    remove.addEventListener("click", () => {
      this.#kept.remove(name);
      this.#field.focus();
      this.redraw();
    });
    const shown = new NamedIndicator();
    shown.setAttribute("name", name);
    shown.setAttribute("range", "");
    return make("li", {}, shown, make("span", { class: "rt-absent" }, `${wordsFor(name)}: not available`), remove);
  }
}

/** @param {string} name of an indicator, with its slot */
function wordsFor(name) {
  const { indicator, slot } = namedIndicator(name);
  return labelOf(indicator, slot);
}

/**
 * Prompts have a place of their own, and the tempo is the charter's alone.
 * @param {string} name
 */
function isOffered(name) {
  return !name.startsWith("prompt/") && name !== "prompt" && name !== "rally.tempo";
}

customElements.define("rt-own-numbers", OwnNumbers);
