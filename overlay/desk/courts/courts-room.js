// The room where matches are run: the first steps, and a card for each court.

/** @import { DeskView } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { keyedChildren, make } from "../../shared/dom.js";
import { choice, field, input, offer } from "../page/controls.js";
import { CourtCard } from "./court-card.js";
import { FirstSteps } from "./first-steps.js";
import { putOn } from "./putting-on.js";
import { versus } from "../page/telling.js";

export class CourtsRoom {
  #desk;
  #first;
  #cards = make("div", { class: "cards" });
  /** @type {Map<string, CourtCard>} */
  #byCourt = new Map();
  #more = make("form", { class: "row new-court", novalidate: "" });
  #match = field("A planned match", choice([]));
  #name = field("goes on court", input({ maxlength: "64" }), "1, 2, centre …");
  node;

  /** @param {Desk} desk */
  constructor(desk) {
    this.#desk = desk;
    this.#first = new FirstSteps(desk);
    this.#more.append(this.#match.node, this.#name.node, make("button", {}, "Put it on"));
    this.#match.control.addEventListener("change", () => this.#suggest());
    this.#more.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.#putOn();
    });
    this.node = make(
      "div",
      {},
      this.#first.node,
      make("section", { "aria-label": "Courts" }, make("h2", {}, "Courts"), this.#cards, this.#more),
    );
  }

  /** @param {DeskView} view */
  draw(view) {
    this.#first.draw(view);
    if (view.host === null) return;
    const courts = new Map(view.host.courts.map((court) => [court.court, court]));
    keyedChildren(
      this.#cards,
      [...courts.keys()],
      (name) => {
        const card = new CourtCard(this.#desk, name);
        this.#byCourt.set(name, card);
        return card.node;
      },
      (_node, name) => {
        const court = courts.get(name);
        if (court !== undefined) this.#byCourt.get(name)?.draw(court, view);
      },
    );
    const planned = view.host.matches.filter(({ state }) => state === "planned");
    this.#more.hidden = planned.length === 0;
    const before = this.#match.control.value;
    offer(
      /** @type {HTMLSelectElement} */ (this.#match.control),
      planned.map(({ id, header }) => [id, versus(header)]),
    );
    if (this.#match.control.value !== before) this.#suggest();
  }

  /** The court it was planned for. */
  #suggest() {
    this.#name.control.value = this.#desk.match(this.#match.control.value)?.header.court ?? "";
  }

  async #putOn() {
    const name = this.#name.control.value.trim();
    const fits = /^[A-Za-z0-9_-]{1,64}$/.test(name);
    this.#name.blame(fits ? "" : "A court's name is 1 to 64 letters a to z, digits, - or _, without spaces.");
    if (!fits) {
      this.#name.control.focus();
      return;
    }
    await putOn(this.#desk, this.#match.control.value, name);
  }
}
