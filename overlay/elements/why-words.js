// <rt-why-words>: why a team is under pressure, in at most four words. Empty
// while nobody holds; the words themselves are shared/words.js's.

/** @import { View } from "../types/view.js" */
import { setText } from "../shared/dom.js";
import { whyWords } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";

needStyles("why-words.css", import.meta.url);

export class WhyWords extends RtElement {
  /**
   * @override
   * @param {View} view
   */
  draw({ shown }) {
    setText(this, whyWords(shown));
  }
}

customElements.define("rt-why-words", WhyWords);
