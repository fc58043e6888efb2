// The buttons and keys that move a picture, a video's or a drawn rally's. What they do is up
// to whoever has the picture.

/** @import { Hands } from "./court-view.js" */
import { html, nothing } from "../html.js";
import { signs } from "./court-view.js";
import { SCHEME } from "./scheme.js";

/**
 * @param {Pick<Hands, "keys" | "layout">} hands @param {boolean} running
 * @param {Record<string, string>} [words] where they mean something else than for a video; only these are drawn then
 */
export const filmKeys = (hands, running, words) =>
  SCHEME.filter(({ group, action }) => group === "film" && (words === undefined || action in words)).map(
    ({ action, words: usual }) =>
      html`<button type="button" data-action=${action} aria-pressed=${action === "film:play" && running ? "true" : nothing}
        ><kbd>${signs(hands)(action)}</kbd><span>${words?.[action] ?? usual}</span></button
      >`,
  );
