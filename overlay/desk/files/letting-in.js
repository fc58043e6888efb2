// Whether other devices reach this host: the switch for one that only this computer
// reaches, and the sentences about it.

/**
 * @import { Links } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 * @import { State } from "../state.js"
 */
import { html, nothing } from "../../shared/html.js";
import { can } from "../state.js";
import { isLoopback } from "./addresses.js";

/**
 * @param {Desk} desk
 * @param {{ alsoOut?: boolean }} [what] whether it takes the word back, too
 */
export function lettingIn(desk, { alsoOut = false } = {}) {
  const letsIn = desk.state.links?.let_in;
  // Who shuts the door from outside would shut it behind them.
  const isInside = isLoopback(desk.host.origin);
  if (!can(desk.state, "/desk/others") || letsIn === undefined || (letsIn && !(alsoOut && isInside))) return nothing;
  return html`<div class="row">
    <button
      type="button"
      @click=${(/** @type {MouseEvent} */ event) => turn(desk, letsIn, /** @type {HTMLElement} */ (event.currentTarget))}
    >
      ${letsIn ? "This computer only" : "Allow other devices"}
    </button>
  </div>`;
}

/** @param {Desk} desk @param {boolean} before @param {HTMLElement} pressed */
async function turn(desk, before, pressed) {
  const place = pressed.closest("li, section, dialog");
  const set = async (/** @type {boolean} */ letIn) => desk.takeLinks(await desk.host.letOthersIn(letIn));
  const closed = "Other devices can no longer connect; pages that are open stay open.";
  const done = await desk.act(
    () => set(!before),
    () => (before ? closed : letInWords(desk.state.links)),
    {
      said: before ? "Other devices can connect again." : closed,
      run: () => set(before),
    },
  );
  // Where the button is gone, whoever pressed it by keyboard goes on at the link.
  if (done && !pressed.isConnected)
    /** @type {HTMLElement | null | undefined} */ (place?.querySelector("button:not([hidden])"))?.focus();
}

/** @param {Links | null} links */
function letInWords(links) {
  return links?.reachable === true
    ? "Other devices can connect: the links now work in the whole network."
    : `Other devices are allowed. ${links?.hint ?? ""}`;
}

/** @param {State} state */
export function reachWords(state) {
  const { links, missing } = state;
  if (!can(state, "/desk/links"))
    return "For now only this computer can open it. To let others in, start Rallytide with --listen 0.0.0.0:7447, in a network you trust, and put this computer's address in place of 127.0.0.1.";
  if (links === null)
    return missing.links === "" ? "" : `How other devices reach this host is not known: ${missing.links}`;
  if (links.reachable)
    return "If it does not open: are both on the same Wi-Fi, and does this computer's firewall let Rallytide in?";
  return `For now only this computer can open it. ${links.hint ?? ""}`;
}
