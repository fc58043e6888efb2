// How pages are drawn: templates filled from one state. Values go in as text or
// attributes, never as markup. The only module that imports the vendored library.

export { live } from "../vendor/lit-html/directives/live.js";
export { repeat } from "../vendor/lit-html/directives/repeat.js";
export { html, nothing, render, svg } from "../vendor/lit-html/lit-html.js";
