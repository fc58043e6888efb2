// The switch for a host that only this machine reaches: let other machines in
// while it runs, or no more.

/** @import { DeskView, Links } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { setText } from "../../shared/dom.js";
import { isLoopback } from "./addresses.js";
import { button } from "../page/controls.js";
import { can } from "../host/desk.js";

export class LettingIn {
  #desk;
  #alsoOut;
  #letsIn = false;
  node = button("", () => this.#turn());

  /**
   * @param {Desk} desk
   * @param {{ alsoOut?: boolean }} [what] whether it takes the word back, too
   */
  constructor(desk, { alsoOut = false } = {}) {
    this.#desk = desk;
    this.#alsoOut = alsoOut;
    this.node.hidden = true;
  }

  /** @param {DeskView} view */
  draw(view) {
    const letsIn = view.links?.let_in;
    // Who shuts the door from outside would shut it behind them.
    const isInside = isLoopback(this.#desk.host.origin);
    this.node.hidden = !can(view, "/desk/others") || letsIn === undefined || (letsIn && !(this.#alsoOut && isInside));
    this.#letsIn = letsIn === true;
    setText(this.node, this.#letsIn ? "Let no other machine in" : "Let other machines in");
  }

  async #turn() {
    const before = this.#letsIn;
    const place = this.node.closest("li, details, section");
    const done = await this.#desk.act(
      () => this.#say(!before),
      () =>
        before
          ? "No other machine gets in any more; pages that are open stay open."
          : lettingWords(this.#desk.view.links),
      {
        label: "Undo",
        said: before ? "Other machines are let in again." : "No other machine gets in any more.",
        run: () => this.#say(before),
      },
    );
    // Where the button is gone, whoever pressed it by keyboard goes on at the link.
    if (done && this.node.hidden)
      /** @type {HTMLElement | null | undefined} */ (place?.querySelector("button:not([hidden])"))?.focus();
  }

  /** @param {boolean} letIn */
  async #say(letIn) {
    this.#desk.takeLinks(await this.#desk.host.letOthersIn(letIn));
  }
}

/** @param {Links | null} links */
function lettingWords(links) {
  return links?.reachable === true
    ? "Other machines are let in: the links now lead here from the whole network."
    : `Other machines are let in. ${links?.hint ?? ""}`;
}
