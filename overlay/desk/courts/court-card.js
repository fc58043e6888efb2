// One court on the desk: what is played, who charts, who looks on, and everything
// that can be done to it. What cannot be undone asks first.

/** @import { CourtState, DeskView, MatchState } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { make, setText } from "../../shared/dom.js";
import { AddressChoice } from "../files/address-choice.js";
import { PAGES, pageLink } from "../files/addresses.js";
import { HandedLink, ask, button, choice, offer } from "../page/controls.js";
import { CorrectionsDialog } from "../corrections/corrections-dialog.js";
import { CABLE_CAUTION, FLASH_CAUTION, reachWords } from "./first-steps.js";
import { LettingIn } from "../files/letting-in.js";
import { asBefore } from "./putting-on.js";
import {
  agoWords,
  charterWords,
  count,
  courtWords,
  kindWords,
  scoreLine,
  stoppedLine,
  versus,
  viewerWords,
} from "../page/telling.js";

/** Why a match that can go on a court stands in the list; in front, where a narrow list shows it. @type {Record<string, string>} */
const ORIGIN = { planned: "", put_aside: "put aside: ", finished: "finished: " };

export class CourtCard {
  #desk;
  #court;
  #name = make("h3");
  #state = make("span", { class: "state" });
  #teams = make("p", { class: "teams" });
  #score = make("p", { class: "score" });
  #charters = make("ul", { class: "charters" });
  #quiet = make("p", { class: "quiet" });
  #pick = choice([]);
  #links;
  #reach = make("p", { class: "advice" });
  #addresses;
  #lettingIn;
  #do;
  node;

  /** @param {Desk} desk @param {string} court */
  constructor(desk, court) {
    this.#desk = desk;
    this.#court = court;
    this.#addresses = new AddressChoice(desk);
    this.#lettingIn = new LettingIn(desk);
    this.#links = PAGES.map((page) => ({
      ...page,
      handed: new HandedLink(`${page.label} of court ${court}`, desk, "code"),
    }));
    this.#do = {
      pause: button("Pause", () => this.#pause(true)),
      resume: button("Go on", () => this.#pause(false)),
      finish: button("Finish …", () => this.#finish()),
      reopen: button("Reopen", () => this.#reopen()),
      fix: button("Correct …", () => new CorrectionsDialog(desk, court).show()),
      off: button("Take off", () => this.#takeOff()),
      on: button("Put on", () => this.#putOn(this.#pick.value)),
      next: button("Next match", () => this.#putOn(this.#next()?.id ?? ""), { class: "chief" }),
      drop: button("Remove this court", () => this.#remove()),
    };
    this.#pick.setAttribute("aria-label", `A match for court ${court}`);
    const d = this.#do;
    const pages = make(
      "details",
      { class: "more" },
      make("summary", {}, "Links and codes", make("span", { class: "rt-hidden" }, `, court ${court}`)),
      this.#addresses.node,
      this.#reach,
      make("div", { class: "row" }, this.#lettingIn.node),
      make(
        "div",
        { class: "page-links" },
        ...this.#links.map(({ label, about, handed }) =>
          make("div", { class: "page-link" }, make("h4", {}, `${label}, ${about}`), handed.node),
        ),
      ),
      make("p", { class: "caution" }, CABLE_CAUTION),
      make("p", { class: "caution" }, FLASH_CAUTION),
    );
    this.node = make(
      "article",
      { class: "card court" },
      make("header", {}, this.#name, this.#state),
      this.#teams,
      this.#score,
      this.#charters,
      this.#quiet,
      make("div", { class: "row" }, d.next, d.pause, d.resume, d.finish, d.reopen, d.fix, d.off),
      make("div", { class: "row put-on" }, this.#pick, d.on, d.drop),
      pages,
    );
    setText(this.#name, `Court ${court}`);
    // Several courts have the same buttons: each says whose it is to those who only listen.
    for (const control of Object.values(d)) control.append(make("span", { class: "rt-hidden" }, `, court ${court}`));
  }

  /** @param {CourtState} court @param {DeskView} view */
  draw(court, view) {
    const matches = view.host?.matches ?? [];
    const match = matches.find(({ id }) => id === court.match) ?? null;
    this.node.dataset["state"] = court.state;
    setText(this.#state, view.trouble === "" ? courtWords(court) : `${courtWords(court)}, when last heard`);
    setText(this.#teams, match === null ? "" : versus(match.header));
    const line = court.state === "finished" ? stoppedLine : scoreLine;
    setText(this.#score, match === null || court.score === null ? "" : line(court.score, match.header));
    this.#drawCharters(court, view);
    const parts = view.trouble === "" ? [viewerWords(court.viewers)] : [];
    if (court.match !== null) parts.push(count(court.entries, "entry", "entries"));
    if (court.last_entry !== null && view.trouble === "") {
      parts.push(
        `last: ${kindWords(court.last_entry.kind)}, ${agoWords(Date.now() + view.clockMs - Date.parse(court.last_entry.received ?? court.last_entry.at))}`,
      );
    }
    setText(this.#quiet, parts.join(" · "));
    this.#drawActions(court, matches);
    for (const { page, where, handed } of this.#links) {
      const link = { court: court.court, page, links: view.links, own: this.#desk.host };
      handed.show(pageLink({ ...link, where }), pageLink({ ...link, where: "this" }));
    }
    this.#addresses.draw(view);
    this.#lettingIn.draw(view);
    setText(this.#reach, reachWords(view));
  }

  /** @param {CourtState} court @param {DeskView} view */
  #drawCharters(court, view) {
    const none =
      court.state === "empty" || court.state === "finished"
        ? []
        : [court.entries === 0 ? "Nobody charts here yet." : "No charting laptop is connected now."];
    const lines = court.charters.length === 0 && view.trouble === "" ? none : charterWords(court.charters, view);
    if (lines.join("\n") === [...this.#charters.children].map((line) => line.textContent).join("\n")) return;
    this.#charters.replaceChildren(...lines.map((line) => make("li", {}, line)));
  }

  /** @param {CourtState} court @param {readonly MatchState[]} matches */
  #drawActions(court, matches) {
    const { state, match } = court;
    const free = matches.filter((one) => one.state !== "on" && one.id !== match);
    const here = free.filter((one) => one.header.court === court.court);
    const sorted = [...here, ...free.filter((one) => !here.includes(one))].sort(
      (one, other) => Number(one.state === "finished") - Number(other.state === "finished"),
    );
    offer(
      this.#pick,
      sorted.map((one) => [
        one.id,
        `${ORIGIN[one.state] ?? ""}${versus(one.header)}${one.header.title ? `, ${one.header.title}` : ""}`,
      ]),
    );
    const next = this.#next();
    const d = this.#do;
    const live = state === "playing" || state === "ready";
    d.pause.hidden = !live;
    d.resume.hidden = state !== "paused";
    d.finish.hidden = match === null || state === "finished";
    // What the rallies have decided only a correction undoes.
    d.reopen.hidden = state !== "finished" || (court.score?.winner != null && court.last_entry?.kind !== "retire");
    d.fix.hidden = match === null || court.entries === 0;
    d.off.hidden = match === null;
    d.next.hidden = next === null || (state !== "empty" && state !== "finished");
    if (next !== null) setText(d.next, `Next: put on ${versus(next.header)}`);
    this.#pick.hidden = sorted.length === 0;
    d.on.hidden = sorted.length === 0;
    d.drop.hidden = match !== null || court.charters.length > 0 || court.viewers.viewer + court.viewers.booth > 0;
  }

  /** The next planned match of this court. */
  #next() {
    return (
      this.#desk.view.host?.matches.find((one) => one.state === "planned" && one.header.court === this.#court) ?? null
    );
  }

  /** @param {boolean} paused */
  #pause(paused) {
    const { host } = this.#desk;
    const words = paused ? "The graphic says that play is paused; charting goes on being accepted." : "Play goes on.";
    return this.#desk.act(() => host.pause(this.#court, paused), words, {
      label: "Undo",
      said: paused ? "Play goes on." : "Play is paused again.",
      run: () => host.pause(this.#court, !paused),
    });
  }

  /** @param {string} id */
  async #putOn(id) {
    const match = this.#desk.match(id);
    const court = this.#desk.court(this.#court);
    if (match === null || court === null) return;
    const busy = court.match !== null && (court.state === "playing" || court.state === "paused");
    if (busy) {
      const words = `A match is being played on court ${this.#court}. It is put aside with everything charted so far, and can be put on again; its charter has to change to the new match.`;
      if (
        (await ask({
          title: "Put another match on?",
          words,
          answers: [{ value: "yes", label: `Put on ${versus(match.header)}` }],
        })) === ""
      )
        return;
    }
    const { host } = this.#desk;
    await this.#desk.act(
      () => host.putOn(this.#court, id, busy),
      `${versus(match.header)} is on court ${this.#court}.`,
      {
        label: "Undo",
        said: "The court is as it was.",
        run: () => asBefore(this.#desk, this.#court, court),
      },
    );
  }

  async #takeOff() {
    const court = this.#desk.court(this.#court);
    if (court === null || court.match === null) return;
    const words = `The graphic of court ${this.#court} becomes empty and its charter is told. Everything charted stays, and the match can be put on again.`;
    if (
      court.state !== "finished" &&
      (await ask({
        title: "Take the match off the court?",
        words,
        answers: [{ value: "yes", label: "Take it off" }],
      })) === ""
    )
      return;
    const { host } = this.#desk;
    await this.#desk.act(() => host.takeOff(this.#court), `Court ${this.#court} is empty.`, {
      label: "Undo: put it on again",
      said: "The match is on again.",
      run: () => asBefore(this.#desk, this.#court, court),
    });
  }

  async #remove() {
    const words = `Court ${this.#court} leaves this list. No match is lost: those planned for it stay in the room Matches, and the court is back as soon as one is put on it.`;
    if (
      (await ask({ title: `Remove court ${this.#court}?`, words, answers: [{ value: "yes", label: "Remove it" }] })) ===
      ""
    )
      return;
    await this.#desk.act(() => this.#desk.host.removeCourt(this.#court), `Court ${this.#court} is removed.`);
  }

  async #finish() {
    const court = this.#desk.court(this.#court);
    const match = this.#desk.match(court?.match ?? "");
    if (court === null || match === null) return;
    const { a, b } = match.header.teams;
    const answer = await ask({
      title: "How did the match end?",
      words:
        "If it was played to its end, the charter's last rally ends it and there is nothing to do here. Otherwise say which it was; both can be undone.",
      answers: [
        { value: "a", label: `${a.name} retired: ${b.name} wins` },
        { value: "b", label: `${b.name} retired: ${a.name} wins` },
        { value: "open", label: "It was broken off: no winner" },
      ],
    });
    if (answer === "") return;
    const { host } = this.#desk;
    if (answer === "open") {
      await this.#desk.act(() => host.finish(this.#court, { finished: true }), "The match is over, without a winner.", {
        label: "Undo: reopen it",
        said: "The match goes on.",
        run: () => host.finish(this.#court, { finished: false }),
      });
      return;
    }
    const retired = answer === "a" ? "a" : "b";
    await this.#desk.act(
      () => host.finish(this.#court, { finished: true, retired }),
      `${match.header.teams[retired].name} retired; the match is over.`,
      {
        label: "Undo: they play on",
        said: "The match goes on.",
        run: () => host.finish(this.#court, { finished: false }),
      },
    );
  }

  #reopen() {
    const { host } = this.#desk;
    const winner = this.#desk.court(this.#court)?.score?.winner ?? null;
    // Only a retirement is reopened with a winner; the undo has to say it again.
    const again =
      winner === null
        ? { finished: true }
        : { finished: true, retired: winner === "a" ? /** @type {const} */ ("b") : /** @type {const} */ ("a") };
    return this.#desk.act(() => host.finish(this.#court, { finished: false }), "The match goes on.", {
      label: "Undo: it is over",
      said: "The match is over again.",
      run: () => host.finish(this.#court, again),
    });
  }
}
