// The first match, step by step: plan it, hand out the charting link, put the
// graphic into the streaming program. Done when the first entry arrives.

/** @import { DeskView, MatchState } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { make, setAttribute, setText } from "../../shared/dom.js";
import { AddressChoice } from "../files/address-choice.js";
import { pageLink } from "../files/addresses.js";
import { can } from "../host/desk.js";
import { HandedLink, button } from "../page/controls.js";
import { Refused } from "../host/host.js";
import { LettingIn } from "../files/letting-in.js";
import { MatchForm } from "../matches/match-form.js";
import { putOn } from "./putting-on.js";
import { charterWords, count, versus } from "../page/telling.js";

/** Courtside and at home alike: what a cable does. */
export const CABLE_CAUTION =
  "Keep the laptop, its stand and cables out of the players' way and at a safe distance; tape cables down.";
/** Wherever the graphic's link is handed out. */
export const FLASH_CAUTION =
  "The graphic does not flash, and its motion can be switched off in the room Graphic; keep it that way in styles of your own, flashing light can harm viewers.";

export class FirstSteps {
  #desk;
  #form;
  #addresses;
  #lettingIn;
  #chart;
  #graphic;
  #booth;
  #steps;
  #about = make("p");
  #reach = make("p", { class: "advice" });
  #who = make("p", { role: "status", class: "who" });
  #planned = make("p", { class: "done" });
  #putOn = button("", () => this.#putPlanned(), { class: "chief" });
  #done = make("p", { role: "status", class: "done" });
  #close = button("Close these steps", () => this.#leave());
  #left = false;
  #shown = false;
  node;

  /** @param {Desk} desk */
  constructor(desk) {
    this.#desk = desk;
    this.#addresses = new AddressChoice(desk);
    this.#lettingIn = new LettingIn(desk);
    this.#form = new MatchForm({
      name: "first",
      label: "Put this match on its court",
      save: (header) => this.#begin(header),
    });
    this.#chart = new HandedLink("charting page", desk, "code");
    this.#graphic = new HandedLink("graphic", desk, "plain");
    this.#booth = new HandedLink("booth page", desk, "code");
    this.#steps = {
      match: make("li", {}, make("h3", {}, "Who plays?"), this.#planned, this.#putOn, this.#form.node),
      chart: make(
        "li",
        {},
        make("h3", {}, "The charter's laptop"),
        this.#about,
        this.#addresses.node,
        this.#chart.node,
        this.#reach,
        make("div", { class: "row" }, this.#lettingIn.node),
        this.#who,
        make("p", { class: "caution" }, CABLE_CAUTION),
      ),
      graphic: make(
        "li",
        {},
        make("h3", {}, "The picture"),
        make(
          "p",
          {},
          "In your streaming program, add a browser source 1920 wide and 1080 high with this address, above the camera. Its background is transparent.",
        ),
        this.#graphic.node,
        make("p", {}, "The commentator opens this one, on a tablet or laptop:"),
        this.#booth.node,
        make("p", { class: "caution" }, FLASH_CAUTION),
      ),
    };
    this.node = make(
      "section",
      { class: "first", "aria-label": "First steps" },
      make("h2", {}, "Your first match"),
      make("p", { class: "quiet lead" }, "Three steps, and the graphic runs."),
      this.#done,
      make("ol", {}, this.#steps.match, this.#steps.chart, this.#steps.graphic),
      make("div", { class: "row" }, this.#close),
    );
    this.node.hidden = true;
  }

  /** @param {DeskView} view */
  draw(view) {
    const { host, links } = view;
    if (host === null || this.#left) return;
    const begun = host.courts.some(({ entries }) => entries > 0) || host.matches.some(({ entries }) => entries > 0);
    if (!this.#shown && begun) return;
    const first = !this.#shown;
    this.#shown = true;
    this.node.hidden = false;
    const on = host.courts.find(({ match }) => match !== null) ?? null;
    const match = on === null ? null : (host.matches.find(({ id }) => id === on.match) ?? null);
    const next = this.#next();
    this.#form.node.hidden = match !== null || next !== null;
    this.#putOn.hidden = match !== null || next === null;
    if (next !== null) setText(this.#putOn, `Put on ${versus(next.header)}`);
    const waiting = host.matches.filter(({ state }) => state === "planned").length;
    if (match !== null && on !== null) setText(this.#planned, `${versus(match.header)} is on court ${on.court}.`);
    else
      setText(
        this.#planned,
        next === null
          ? ""
          : `${count(waiting, "match is", "matches are")} planned. The first one goes on court ${placeOf(next)}; any other one from below.`,
      );
    const court = on?.court ?? host.courts[0]?.court ?? "1";
    const isSeen = host.courts.some(({ viewers }) => viewers.viewer > 0);
    for (const [name, step] of Object.entries(this.#steps)) {
      const now = match === null && !begun ? "match" : !begun ? "chart" : isSeen ? "" : "graphic";
      setAttribute(step, "aria-current", name === now ? "step" : null);
    }
    const own = this.#desk.host;
    this.#chart.show(
      pageLink({ court, page: "chart", where: "other", links, own }),
      pageLink({ court, page: "chart", where: "this", links, own }),
    );
    this.#booth.show(
      pageLink({ court, page: "booth", where: "other", links, own }),
      pageLink({ court, page: "booth", where: "this", links, own }),
    );
    this.#graphic.show(pageLink({ court, page: "graphic", where: "this", links, own }));
    const elsewhere =
      links?.reachable === true
        ? "Connect that laptop to the same Wi-Fi as this one and open this link in its browser: type it, or scan the code. "
        : "";
    setText(
      this.#about,
      `A volunteer at the court records what happens with one key a shot. ${elsewhere}To chart on this machine, press Open.`,
    );
    this.#addresses.draw(view);
    this.#lettingIn.draw(view);
    setText(this.#reach, reachWords(view));
    setText(
      this.#who,
      on === null
        ? ""
        : on.charters.length === 0 && view.trouble === ""
          ? "No laptop has opened it yet."
          : `${charterWords(on.charters, view)
              .map((words) => words.replace(/\.$/, ""))
              .join(". ")}.`,
    );
    setText(
      this.#done,
      !begun
        ? ""
        : isSeen
          ? "The first entry has arrived: charter, host and graphic are connected. Everything works."
          : "The first entry has arrived: the charting laptop is connected. No graphic is open yet; step 3 has its address.",
    );
    // The way out is the chief thing to press only once all is done.
    this.#close.classList.toggle("chief", begun && isSeen);
    setText(this.#close, begun ? "Close these steps" : "I know the way, close these steps");
    if (first && match === null && document.activeElement === document.body) this.#form.focus();
  }

  /** The first match that is planned. */
  #next() {
    return this.#desk.view.host?.matches.find(({ state }) => state === "planned") ?? null;
  }

  async #putPlanned() {
    const next = this.#next();
    if (next !== null && (await putOn(this.#desk, next.id, placeOf(next))))
      this.#steps.chart.querySelector("button")?.focus();
  }

  #leave() {
    this.#left = true;
    this.node.hidden = true;
    document.querySelector("main")?.focus();
  }

  /** @param {Parameters<Desk["host"]["addMatch"]>[0]} header */
  #begin(header) {
    const court = /** @type {{ court: string }} */ (header).court;
    let id = "";
    return this.#desk.act(
      async () => {
        if (id === "") id = (await this.#desk.host.addMatch(header, null)).id;
        await this.#desk.host.putOn(court, id, false);
        this.#steps.chart.querySelector("button")?.focus();
      },
      `The match is on court ${court}. Now the charter's laptop.`,
      {
        label: "Undo: take it off and remove it",
        said: "The match is removed.",
        run: async () => {
          if ((this.#desk.court(court)?.entries ?? 0) > 0) {
            throw new Refused(
              "The match has been charted since; nothing is removed. To take it off, use Take off on its card: what was charted stays.",
              409,
            );
          }
          await this.#desk.host.takeOff(court);
          await this.#desk.host.removeMatch(id);
        },
      },
    );
  }
}

/** The court a match was planned for. @param {MatchState} match */
function placeOf(match) {
  return match.header.court || "1";
}

/** @param {DeskView} view */
export function reachWords(view) {
  const { links, missing } = view;
  if (!can(view, "/desk/links"))
    return "For now only this machine can open it. To let others in, start Rallytide with --listen 0.0.0.0:7447, in a network you trust, and put this machine's address in place of 127.0.0.1.";
  if (links === null)
    return missing.links === "" ? "" : `Where other machines reach this host is not known: ${missing.links}`;
  if (links.reachable)
    return "If it does not open: are both in the same Wi-Fi, and does this machine's firewall let Rallytide in?";
  return `For now only this machine can open it. ${links.hint ?? ""}`;
}
