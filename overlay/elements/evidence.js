// <rt-evidence>: who is on offense in words that read at a metre, and every
// reason with the shot it was seen on. Its room is reserved, so that the page
// below it does not move as reasons come and go.

/**
 * @import { View } from "../types/view.js"
 */
import { betweenWords } from "../shared/between.js";
import { make, setAttribute, setText } from "../shared/dom.js";
import { PAUSED_WORDS, REPLACED_WORDS, endWords, resultWords, teamName } from "../shared/words.js";
import { needStyles } from "../shared/styles.js";
import { RtElement } from "./element.js";
import { drawReasons } from "./reason-list.js";

needStyles("evidence.css", import.meta.url);

/** From so many characters on the headline is set narrower. */
const LONG_TITLE = 28;

export class Evidence extends RtElement {
  #headline = make("p", { class: "rt-headline" });
  #detail = make("p", { class: "rt-detail" });
  #reasons = make("ul", { class: "rt-reasons" });

  /** @override */
  build() {
    this.append(this.#headline, make("div", { class: "rt-room" }, this.#detail, this.#reasons));
  }

  /**
   * @override
   * @param {View} view
   */
  draw(view) {
    const { title, detail } = headline(view);
    setText(this.#headline, title);
    setAttribute(this.#headline, "data-long", [...title].length > LONG_TITLE ? "" : null);
    setText(this.#detail, detail);
    this.#detail.hidden = detail === "";
    drawReasons(this.#reasons, view, view.shown.phase === "play" ? view.shown.why : []);
  }
}

/**
 * @param {View} view
 * @returns {{ title: string, detail: string }}
 */
function headline(view) {
  const { shown, match, score, connection } = view;
  if (connection.phase === "replaced") {
    return { title: REPLACED_WORDS, detail: "Ask the desk for the new link. Until then nothing new is shown here." };
  }
  if (match === null) return withoutMatch(connection);
  if (score !== null && score.winner !== null) return { title: resultWords(score, match), detail: "" };
  if (view.paused && isFollowed(view)) return { title: PAUSED_WORDS, detail: lastRally(view) };
  if (shown.phase === "play") return { title: playTitle(view), detail: "" };
  if (shown.phase === "unknown" && view.between !== null && isFollowed(view)) {
    return { title: betweenWords(view.between, match), detail: lastRally(view) };
  }
  if (shown.phase === "unknown") return { title: "Initiative is not available", detail: lastRally(view) };
  if (!isFollowed(view)) return { title: "Connection lost", detail: "" };
  const detail = lastRally(view);
  if (view.between !== null) return { title: betweenWords(view.between, match), detail };
  return { title: detail === "" ? "Waiting for the first serve" : "Between rallies", detail };
}

/** @param {View["connection"]} connection */
function withoutMatch({ phase, message }) {
  switch (phase) {
    case "connecting":
      return { title: "Connecting …", detail: "" };
    case "lost":
      return {
        title: "Can't reach the host",
        detail: "Check that Rallytide is running and the network is up. This page keeps trying.",
      };
    case "failed":
      return { title: "Nothing to show", detail: message };
    default:
      return { title: "No match on this court yet", detail: "" };
  }
}

/** @param {View} view */
function playTitle({ shown, match }) {
  if (shown.toward === null) return shown.flags.includes("contested") ? "Neutral: both pressed" : "Neutral";
  const still = shown.flags.includes("carried") ? " still" : "";
  return `${teamName(match, shown.toward)}${still} on offense`;
}

/** @param {View} view */
function isFollowed({ connection }) {
  return connection.phase === "live" || connection.phase === "recorded";
}

/** @param {View} view */
function lastRally({ rally, match }) {
  const end = rally?.end ?? rally?.earlier[0]?.end ?? null;
  return end === null ? "" : `Last rally: ${endWords(end, match)}`;
}

customElements.define("rt-evidence", Evidence);
