// A team's shape, as the elements draw it.

/** @import { Side } from "../types/view.js" */
import { html } from "../shared/html.js";

/** @param {Side} team */
export const shapeOf = (team) => html`<span class="rt-shape" data-team=${team} aria-hidden="true"></span>`;
