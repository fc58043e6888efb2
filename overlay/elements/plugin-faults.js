// <rt-plugin-faults>: says which numbers are missing because their plugin was
// stopped, and why. Nothing is shown while all is well.

/** @import { View } from "../types/view.js" */
import { keyedChildren, make, setText } from "../shared/dom.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";

needStyles("plugin-faults.css", import.meta.url);

export class PluginFaults extends RtElement {
  #list = make("ul");

  /** @override */
  build() {
    this.append(make("div", { role: "status" }, this.#list));
  }

  /**
   * @override
   * @param {View} view
   */
  draw({ unavailable }) {
    const byKey = new Map(unavailable.map((fault) => [fault.plugin, fault]));
    keyedChildren(
      this.#list,
      [...byKey.keys()],
      () => make("li"),
      (node, key) => {
        setText(node, `Not available: ${key} (${byKey.get(key)?.message ?? ""})`);
      },
    );
  }
}

customElements.define("rt-plugin-faults", PluginFaults);
