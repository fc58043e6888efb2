// The room of the graphic: how it looks, clicked together; the delay that fits the
// video, found by watching; and the link that says it all.

/** @import { DeskView } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
/** @import { Composition, Piece } from "./composing.js" */
/** @import { Reading } from "../../types/messages.js" */
import { keyedChildren, make, setAttribute, setText } from "../../shared/dom.js";
import { ANCHORS } from "../../shared/options.js";
import { pageLink } from "../files/addresses.js";
import { CHOICES, freshComposition, optionsOf } from "./composing.js";
import { HandedLink, button, choice, draft, field, input, offer } from "../page/controls.js";
import { freshFinder, hear, seconds, tap, verdict } from "./delay-finder.js";
import { NumberList } from "./number-list.js";
import { charterWords } from "../page/telling.js";

/** The slider's end; the field beside it takes more. */
const SLIDER_MS = 30_000;
const LONGEST_MS = 300_000;
/** How many looks at the host pass between two at a court's readings. */
const READINGS_EVERY = 5;
/** While a slider is dragged the preview waits for it to rest, ms. */
const REST_MS = 200;
const GROUNDS = /** @type {const} */ ([
  ["court", "coloured stripes"],
  ["dark", "dark"],
  ["light", "light"],
]);
const SAMPLE = "an invented match";

export class GraphicRoom {
  #desk;
  // The streamer comes back to it on the next day of the event.
  #draft = draft("graphic", { lasting: true });
  /** @type {Composition} */
  #now;
  #heard = freshFinder();
  #heardOf = "";
  #timer = 0;
  #loaded = "about:blank";
  #frame = make("iframe", { title: "Preview of the graphic", tabindex: "-1" });
  #screen = make("div", { class: "screen", "data-ground": "court" }, this.#frame);
  #court = field("Court", choice([]));
  #shown = field(
    "Preview shows",
    choice([
      ["live", "this court, live"],
      ["sample", SAMPLE],
    ]),
  );
  #ground = field("Behind it", choice(GROUNDS));
  #theme = field(
    "Look",
    choice([
      ["dark", "dark plates"],
      ["light", "light plates"],
      ["text", "letters without plates"],
    ]),
  );
  #scale = field("Size", input({ type: "range", min: "0.25", max: "4", step: "0.05" }));
  #scaleSaid = make("output");
  #still = make("input", { type: "checkbox", id: "graphic-still" });
  #pieces = CHOICES.map(({ piece, label }) => ({
    piece,
    box: make("input", { type: "checkbox", id: `piece-${piece}` }),
    label,
    place: placeChoice(label),
  }));
  #numbers = new NumberList((show) => this.#show(show));
  #numbersPlace = placeChoice("the numbers of the plugins");
  /** @type {readonly Reading[]} of the court, to know the slots that there are */
  #readings = [];
  #looks = 0;
  #slider = field("Delay", input({ type: "range", min: "0", max: String(SLIDER_MS), step: "100" }));
  #typed = field("Delay in seconds", input({ inputmode: "decimal" }), "0 to 300");
  #taps = make("p", { role: "status" });
  #use = button("Use it", () => this.#useFound());
  #charters = make("ul", { class: "charters" });
  #link;
  node;

  /** @param {Desk} desk */
  constructor(desk) {
    this.#desk = desk;
    this.#now = { ...freshComposition(), ...(this.#draft.read() ?? {}) };
    this.#link = new HandedLink("graphic, as composed", desk, "plain");
    this.#use.hidden = true;
    this.node = make(
      "div",
      { class: "graphic-room" },
      make(
        "section",
        { class: "preview", "aria-label": "Preview" },
        make("h2", {}, "Graphic"),
        this.#screen,
        make("div", { class: "grid" }, this.#court.node, this.#shown.node, this.#ground.node),
        make("h3", {}, "The link for the streaming program"),
        make(
          "p",
          { class: "quiet" },
          "Add it as a browser source, 1920 wide and 1080 high. After every change here, give the program the new link.",
        ),
        this.#link.node,
        make(
          "p",
          { class: "caution" },
          "The graphic does not flash; keep it that way in styles of your own: flashing light can harm viewers. Motion can be switched off on this page.",
        ),
      ),
      make("div", { class: "side" }, this.#lookSection(), this.#delaySection()),
    );
    this.#fill();
    this.node.addEventListener("input", () => this.#read());
    this.node.addEventListener("change", () => this.#read());
  }

  #lookSection() {
    const pieces = make(
      "fieldset",
      {},
      make("legend", {}, "What it shows, and where"),
      ...this.#pieces.map(({ piece, box, label, place }) =>
        make("div", { class: "piece" }, box, make("label", { for: `piece-${piece}` }, label), place),
      ),
    );
    this.#scale.node.append(this.#scaleSaid);
    return make(
      "section",
      { class: "card", "aria-label": "Look" },
      pieces,
      this.#numbers.node,
      make("div", { class: "piece" }, make("span", { class: "wide" }, "Where the numbers stand"), this.#numbersPlace),
      make("div", { class: "grid" }, this.#theme.node, this.#scale.node),
      make(
        "div",
        { class: "piece" },
        this.#still,
        make(
          "label",
          { for: "graphic-still" },
          "No motion: nothing eases (the streaming machine decides for all viewers; when in doubt, choose this)",
        ),
      ),
      make(
        "div",
        { class: "row" },
        button("Back to the plain graphic", () => this.#reset()),
      ),
    );
  }

  #delaySection() {
    return make(
      "section",
      { class: "card", "aria-label": "Delay" },
      make("h3", {}, "Fit it to the video"),
      make(
        "p",
        {},
        "Video reaches viewers later than what the charter enters. The graphic waits that long, so that it never gives a rally away.",
      ),
      this.#slider.node,
      this.#typed.node,
      make("h4", {}, "Find the right delay"),
      make(
        "ol",
        {},
        make(
          "li",
          {},
          "Let a match be charted, and watch the picture as it leaves the streaming program, such as its full-screen output. Not its preview: some programs delay only one of them. Not the stream as viewers get it: that is later by seconds that the graphic must not wait for.",
        ),
        make("li", {}, "Press the button the moment you see a rally end there. Do so at three rallies."),
      ),
      make(
        "div",
        { class: "row" },
        button("I see the rally end now", () => this.#tap(), { class: "chief" }),
        button("Begin anew", () => this.#forget()),
        this.#use,
      ),
      this.#taps,
      make("h4", {}, "How late the charters are"),
      this.#charters,
    );
  }

  /** @param {DeskView} view */
  draw(view) {
    const courts = view.host?.courts ?? [];
    const names = courts.length === 0 ? ["1"] : courts.map(({ court }) => court);
    offer(
      /** @type {HTMLSelectElement} */ (this.#court.control),
      names.map((name) => [name, `court ${name}`]),
    );
    const court = courts.find((one) => one.court === this.#court.control.value) ?? null;
    if (this.#heardOf !== this.#court.control.value) {
      this.#heardOf = this.#court.control.value;
      this.#heard = freshFinder();
    }
    if (court !== null) this.#heard = hear(this.#heard, court.last_entry);
    this.#drawFound();
    const lines =
      court === null || court.charters.length === 0
        ? ["Nobody charts on this court."]
        : charterWords(court.charters, view);
    keyedChildren(
      this.#charters,
      lines,
      (line) => make("li", {}, line),
      () => {},
    );
    this.#drawNumbers(view);
    this.#drawLink();
    // Out of sight it would only count as one more viewer.
    if (this.node.hidden) this.#load("about:blank");
    else if (this.#loaded === "about:blank") this.#drawPreview();
  }

  /** What the controls say becomes the composition. */
  #read() {
    const controls = this.#pieces;
    const typed = Number(this.#typed.control.value.replace(",", "."));
    const byHand = document.activeElement === this.#typed.control;
    const fits = this.#typed.control.value.trim() !== "" && typed >= 0 && typed * 1000 <= LONGEST_MS;
    this.#typed.blame(!byHand || fits ? "" : "A number of seconds from 0 to 300, such as 2.5.");
    const delayMs = byHand
      ? fits
        ? Math.round(typed * 1000)
        : this.#now.delayMs
      : document.activeElement === this.#slider.control
        ? Number(this.#slider.control.value)
        : this.#now.delayMs;
    this.#now = {
      pieces: /** @type {Piece[]} */ (controls.filter(({ box }) => box.checked).map(({ piece }) => piece)),
      show: this.#now.show,
      at: Object.fromEntries(
        [...controls, { piece: "show", place: this.#numbersPlace }]
          .filter(({ place }) => place.value !== "")
          .map(({ piece, place }) => [piece, place.value]),
      ),
      theme: this.#theme.control.value,
      scale: Number(this.#scale.control.value),
      still: this.#still.checked,
      delayMs,
    };
    this.#changed();
  }

  /** @param {string[]} show */
  #show(show) {
    this.#now = { ...this.#now, show };
    this.#changed();
  }

  /** @param {DeskView} view */
  #drawNumbers({ plugins, host }) {
    this.#numbers.offer(plugins?.plugins ?? [], this.#readings);
    const court = host?.courts.find(({ court }) => court === this.#court.control.value);
    if (this.node.hidden || court === undefined || court.match === null) return;
    if (this.#looks % READINGS_EVERY === 0) void this.#readReadings(court.court);
    this.#looks += 1;
  }

  /** @param {string} court */
  async #readReadings(court) {
    try {
      this.#readings = (await this.#desk.host.now(court)).readings;
    } catch (error) {
      // The line on top says that the host is away; what is offered stays.
      console.debug("the court's readings are not to be had", error);
    }
  }

  #changed() {
    this.#draft.keep(this.#now);
    this.#fill();
    this.#drawLink();
    clearTimeout(this.#timer);
    this.#timer = window.setTimeout(() => this.#drawPreview(), REST_MS);
  }

  /** The composition becomes what the controls say; what is being typed is left alone. */
  #fill() {
    const { pieces, show, at, theme, scale, still, delayMs } = this.#now;
    for (const { piece, box, place } of this.#pieces) {
      box.checked = pieces.includes(piece);
      place.value = at[piece] ?? "";
      place.disabled = !box.checked;
    }
    this.#numbers.fill(show);
    this.#numbersPlace.value = at.show ?? "";
    this.#numbersPlace.disabled = show.length === 0;
    this.#theme.control.value = theme;
    this.#scale.control.value = String(scale);
    setText(this.#scaleSaid, `${Math.round(scale * 100)} %`);
    this.#still.checked = still;
    this.#slider.control.value = String(Math.min(delayMs, SLIDER_MS));
    setAttribute(this.#slider.control, "aria-valuetext", seconds(delayMs));
    if (document.activeElement !== this.#typed.control) this.#typed.control.value = String(delayMs / 1000);
    this.#screen.dataset["ground"] = this.#ground.control.value;
  }

  /** @param {Record<string, string>} [more] @returns {string} */
  #address(more = {}) {
    const options = { ...optionsOf(this.#now), ...more };
    return pageLink({
      court: this.#court.control.value || "1",
      page: "graphic",
      where: "this",
      links: this.#desk.view.links,
      own: this.#desk.host,
      options,
    });
  }

  #drawLink() {
    this.#link.show(this.#address());
  }

  #drawPreview() {
    const sample = this.#shown.control.value === "sample" ? { recorded: "/samples/invented-match.jsonl" } : {};
    // A sample needs no waiting; the live graphic is shown as viewers will get it.
    this.#load(this.#address(sample));
  }

  /** @param {string} address */
  #load(address) {
    if (address === this.#loaded) return;
    this.#loaded = address;
    this.#frame.src = address;
  }

  #tap() {
    this.#heard = tap(this.#heard, this.#hostNow());
    this.#drawFound();
  }

  #hostNow() {
    return Date.now() + this.#desk.view.clockMs;
  }

  #drawFound() {
    const { delayMs, sentence } = verdict(this.#heard, this.#hostNow());
    this.#use.hidden = delayMs === null;
    if (delayMs !== null) setText(this.#use, `Use ${seconds(delayMs)}`);
    setText(this.#taps, sentence);
  }

  #useFound() {
    const { delayMs } = verdict(this.#heard, this.#hostNow());
    if (delayMs === null) return;
    void this.#replace(
      { ...this.#now, delayMs },
      `The graphic now waits ${seconds(delayMs)}. Give the streaming program the new link.`,
    );
  }

  #forget() {
    this.#heard = { ...freshFinder(), ends: this.#heard.ends };
    this.#drawFound();
  }

  #reset() {
    void this.#replace(
      freshComposition(),
      "The graphic is the plain one, without a delay. Give the streaming program the new link.",
    );
  }

  /**
   * Several choices at once, with their undo.
   * @param {Composition} composition @param {string} said
   */
  #replace(composition, said) {
    const before = this.#now;
    /** @param {Composition} next */
    const become = async (next) => {
      this.#now = next;
      this.#changed();
    };
    return this.#desk.act(() => become(composition), said, {
      label: "Undo",
      said: "The graphic and its link are as they were.",
      run: () => become(before),
    });
  }
}

/** @param {string} label */
function placeChoice(label) {
  return choice(
    [["", "at its own place"], ...ANCHORS.map((anchor) => /** @type {const} */ ([anchor, anchor.replace("-", " ")]))],
    { "aria-label": `Place of: ${label}` },
  );
}
