// <rt-connection-state>: says in words and by a shape whether what is shown is
// live. It speaks (role=status) when the phase changes, and not in between.

/**
 * @import { Connection, View } from "../types/view.js"
 */
import { make, setAttribute, setText } from "../shared/dom.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";

needStyles("connection-state.css", import.meta.url);

export class ConnectionState extends RtElement {
  #words = make("span");

  /** @override */
  build() {
    this.append(
      make("span", { class: "rt-sign", "aria-hidden": "true" }),
      make("span", { role: "status" }, this.#words),
    );
  }

  /**
   * @override
   * @param {View} view
   */
  draw({ connection }) {
    setAttribute(this, "data-phase", connection.phase);
    setText(this.#words, connectionWords(connection));
  }
}

/** @param {Connection} connection */
export function connectionWords({ phase, message }) {
  switch (phase) {
    case "connecting":
      return "Connecting";
    case "live":
      return "Live";
    case "lost":
      return "Connection lost. Retrying";
    case "replaced":
      return "Link replaced: ask the desk";
    case "recorded":
      return "Recorded match";
    case "failed":
      return message;
    default:
      return "";
  }
}

customElements.define("rt-connection-state", ConnectionState);
