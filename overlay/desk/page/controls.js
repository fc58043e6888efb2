// What the desk's rooms are built of: buttons, labelled fields with their fault
// beside them, a question before something happens, a link to hand on. They know
// nothing about matches.

import { draw, make, setAttribute, setText } from "../../shared/dom.js";
import { encode } from "../../vendor/uqr/uqr.js";
import { isLoopback } from "../files/addresses.js";

/** @param {string} label @param {() => unknown} press @param {Record<string, string>} [attributes] */
export function button(label, press, attributes = {}) {
  const node = make("button", { type: "button", ...attributes }, label);
  node.addEventListener("click", () => void press());
  return node;
}

let fields = 0;

/**
 * A control with its label, a word of advice and room for what is wrong with it.
 * @param {string} label
 * @param {HTMLInputElement | HTMLSelectElement | HTMLTextAreaElement} control
 * @param {string} [advice]
 */
export function field(label, control, advice = "") {
  const id = `field-${(fields += 1)}`;
  control.id = id;
  const fault = make("span", { class: "fault", id: `${id}-fault` });
  const word = make("span", { class: "advice", id: `${id}-advice` }, advice);
  const node = make(
    "div",
    { class: "field" },
    make("label", { for: id }, label),
    control,
    ...(advice === "" ? [] : [word]),
    fault,
  );
  control.setAttribute("aria-describedby", `${advice === "" ? "" : `${word.id} `}${fault.id}`);
  return {
    node,
    control,
    /** @param {string} sentence empty: nothing is wrong */
    blame(sentence) {
      setText(fault, sentence);
      setAttribute(control, "aria-invalid", sentence === "" ? null : "true");
    },
  };
}

/** @param {Record<string, string>} [attributes] */
export function input(attributes = {}) {
  return make("input", { type: "text", autocomplete: "off", ...attributes });
}

/** @param {readonly (readonly [string, string])[]} options value and words @param {Record<string, string>} [attributes] */
export function choice(options, attributes = {}) {
  return make("select", attributes, ...options.map(([value, words]) => make("option", { value }, words)));
}

/** Makes the options of a choice these, keeping what is chosen. @param {HTMLSelectElement} select @param {readonly (readonly [string, string])[]} options */
export function offer(select, options) {
  const now = [...select.options].map(({ value, text }) => `${value}\n${text}`).join("\n");
  if (now === options.map(([value, words]) => `${value}\n${words}`).join("\n")) return;
  const chosen = select.value;
  select.replaceChildren(...options.map(([value, words]) => make("option", { value }, words)));
  if (options.some(([value]) => value === chosen)) select.value = chosen;
}

/**
 * Asks before something happens, and says what will.
 * @param {{ title: string, words: string, answers: { value: string, label: string }[], more?: Node }} question
 * @returns {Promise<string>} the answer's value, empty: nothing is to happen
 */
export function ask({ title, words, answers, more }) {
  const form = make("form", { method: "dialog" });
  const dialog = make("dialog", { "aria-labelledby": "question" }, form);
  form.append(
    make("h2", { id: "question" }, title),
    make("p", {}, words),
    ...(more === undefined ? [] : [more]),
    ...answers.map(({ value, label }) => make("button", { value }, label)),
    make("button", { value: "", class: "plain" }, "Do nothing"),
  );
  document.body.append(dialog);
  dialog.showModal();
  return new Promise((resolve) => {
    dialog.addEventListener(
      "close",
      () => {
        dialog.remove();
        resolve(dialog.returnValue);
      },
      { once: true },
    );
  });
}

/** A link that somebody hands on: to read, to copy, to scan. */
export class HandedLink {
  #address = make("output", { class: "address" });
  #open = make("a", { target: "_blank", rel: "noopener" }, "Open");
  #code = make("div", { class: "code" });
  #href = "";
  node;

  /**
   * @param {string} label whose link
   * @param {{ tell: (sentence: string) => void }} desk
   * @param {"code" | "plain"} look with a code for cameras or without
   */
  constructor(label, desk, look) {
    this.#address.setAttribute("aria-label", `${label}, address`);
    const copy = button("Copy", () => this.#copy(label, desk), { "aria-label": `Copy the link: ${label}` });
    this.#open.setAttribute("aria-label", `Open: ${label} (new tab)`);
    this.node = make(
      "div",
      { class: "handed" },
      this.#address,
      copy,
      this.#open,
      ...(look === "code" ? [this.#code] : []),
    );
    this.look = look;
    this.label = label;
  }

  /** @param {string} href @param {string} [open] what this browser opens, where that is another address */
  show(href, open = href) {
    setAttribute(this.#open, "href", open);
    if (href === this.#href) return;
    this.#href = href;
    setText(this.#address, href);
    // A camera belongs to another machine, and this one's own address is no use there.
    const codes =
      this.look === "code" && !isLoopback(href) ? [qrCode(href, `${this.label}, as a code for a camera`)] : [];
    this.#code.replaceChildren(...codes);
  }

  /** @param {string} label @param {{ tell: (sentence: string) => void }} desk */
  async #copy(label, desk) {
    desk.tell(
      (await copyText(this.#href, this.#address))
        ? `Copied: ${label}.`
        : "This browser does not copy here. The link is selected; press Ctrl C.",
    );
  }
}

/** @param {string} text @param {Node} shown where it can be selected */
async function copyText(text, shown) {
  try {
    // Plain http from another machine has no clipboard.
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    const selection = getSelection();
    selection?.removeAllRanges();
    const range = document.createRange();
    range.selectNodeContents(shown);
    selection?.addRange(range);
    return document.execCommand("copy");
  }
}

/** @param {string} text @param {string} label */
export function qrCode(text, label) {
  // Four light modules around it, dark on light, as ISO/IEC 18004 asks.
  const { data, size } = encode(text, { ecc: "M", border: 4 });
  const path = data.flatMap((row, y) => row.flatMap((dark, x) => (dark ? [`M${x} ${y}h1v1h-1z`] : []))).join("");
  return draw(
    "svg",
    { viewBox: `0 0 ${size} ${size}`, role: "img", "aria-label": label, class: "qr", "shape-rendering": "crispEdges" },
    draw("rect", { width: size, height: size, fill: "#fff" }),
    draw("path", { d: path, fill: "#000" }),
  );
}

/** Offers a text to be saved. @param {string} name @param {string} text @param {string} type */
export const save = (name, text, type) => saveBlob(name, new Blob([text], { type }));

/** The same for a file. @param {string} name @param {Blob} file */
export function saveBlob(name, file) {
  const link = make("a", { href: URL.createObjectURL(file), download: name });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 0);
}

/**
 * What is half typed survives a reload: in this tab, or for good in this browser.
 * @param {string} name @param {{ lasting?: boolean }} [how]
 */
export function draft(name, { lasting = false } = {}) {
  const place = `rallytide.desk.${name}`;
  const storage = () => (lasting ? localStorage : sessionStorage);
  return {
    /** @returns {any} null: nothing was kept */
    read() {
      try {
        return JSON.parse(storage().getItem(place) ?? "null");
      } catch (error) {
        console.warn(`what was kept of \`${name}\` cannot be read`, error);
        return null;
      }
    },
    /** @param {unknown} value null forgets it */
    keep(value) {
      try {
        if (value === null) storage().removeItem(place);
        else storage().setItem(place, JSON.stringify(value));
      } catch (error) {
        console.warn(`\`${name}\` cannot be kept`, error);
      }
    },
  };
}
