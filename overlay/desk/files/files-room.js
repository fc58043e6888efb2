// The room of files and keys: text files for streaming programs, and new keys
// where a link has got into wrong hands.

/** @import { DeskView, Role } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { make, setText } from "../../shared/dom.js";
import { AddressChoice } from "./address-choice.js";
import { ask, button, draft, field, input } from "../page/controls.js";
import { CONSENT_CAUTION } from "../matches/match-form.js";
import { can } from "../host/desk.js";
import { reachWords } from "../courts/first-steps.js";
import { LettingIn } from "./letting-in.js";
import { count } from "../page/telling.js";

const ROLES = /** @type {const} */ ([
  ["charter", "charting laptops"],
  ["booth", "booth pages"],
  ["viewer", "graphics and what only looks on"],
  ["desk", "this desk, opened from other machines"],
]);

/** @param {string} whose @param {() => unknown} press */
function newKeyButton(whose, press) {
  const node = button("New key", press);
  node.append(make("span", { class: "rt-hidden" }, ` for ${whose}`));
  return node;
}

export class FilesRoom {
  #desk;
  #draft = draft("text-files");
  #folder = field(
    "Folder",
    input({ spellcheck: "false" }),
    "A folder of this machine that exists, such as /home/me/stream or C:\\stream",
  );
  #form = make("form", { novalidate: "" });
  #state = make("p", { role: "status" });
  #stop = button("Stop writing", () => this.#write(null));
  #reach = make("p", {});
  #addresses;
  #lettingIn;
  #keys = make("ul", { class: "keys" });
  #filled = false;
  #files;
  #keyRoom;
  #neither = make("p", { class: "quiet" }, "This host writes no text files and has no keys.");
  node;

  /** @param {Desk} desk */
  constructor(desk) {
    this.#desk = desk;
    this.#addresses = new AddressChoice(desk);
    this.#lettingIn = new LettingIn(desk, { alsoOut: true });
    this.#form.append(
      this.#folder.node,
      make("div", { class: "row" }, make("button", { class: "chief" }, "Write there"), this.#stop),
    );
    this.#form.addEventListener("submit", (event) => {
      event.preventDefault();
      void this.#choose();
    });
    this.#folder.control.addEventListener("input", () => this.#draft.keep(this.#folder.control.value));
    this.#keys.append(
      ...ROLES.map(([role, whose]) =>
        make(
          "li",
          {},
          make("span", {}, `Links of ${whose}`),
          newKeyButton(whose, () => this.#newKey(role, whose)),
        ),
      ),
    );
    this.#files = make(
      "section",
      { class: "card", "aria-label": "Text files" },
      make("h2", {}, "Text files for streaming programs"),
      make(
        "p",
        {},
        "For a text source that reads a file. In the folder each court gets a folder of its own name with:",
      ),
      make(
        "ul",
        {},
        make("li", {}, "score.txt: the call and both teams"),
        make("li", {}, "state.txt: who is on offense, or that nobody is"),
        make("li", {}, "names.txt: title and names"),
      ),
      make(
        "p",
        { class: "quiet" },
        "They are written whole, within a tenth of a second of a change, and only when something changes.",
      ),
      make("p", { class: "caution" }, CONSENT_CAUTION),
      this.#form,
      this.#state,
    );
    this.#keyRoom = make(
      "section",
      { class: "card", "aria-label": "Keys" },
      make("h2", {}, "Links and keys"),
      this.#reach,
      make("div", { class: "row" }, this.#lettingIn.node),
      this.#addresses.node,
      make(
        "p",
        {},
        "Links for other machines hold a key. If one has got into wrong hands, make a new key: the old links stop working at once, and pages open with them are cut off.",
      ),
      this.#keys,
    );
    // Until the host has said what it can do, nothing is offered.
    this.#files.hidden = this.#keyRoom.hidden = this.#neither.hidden = true;
    this.node = make("div", { class: "split" }, this.#files, this.#keyRoom, this.#neither);
  }

  /** @param {DeskView} view */
  draw(view) {
    const { host, links } = view;
    if (host === null) return;
    this.#files.hidden = !can(view, "/text-files");
    this.#keyRoom.hidden = !can(view, "/desk/keys");
    this.#neither.hidden = !(this.#files.hidden && this.#keyRoom.hidden);
    const { folder, problem } = host.text_files;
    if (!this.#filled) {
      this.#filled = true;
      this.#folder.control.value = this.#draft.read() ?? folder ?? "";
    }
    this.#stop.hidden = folder === null;
    setText(
      this.#state,
      folder === null
        ? "Nothing is written."
        : problem === null
          ? `Writing to ${folder}.`
          : `Cannot write to ${folder}: ${problem}`,
    );
    for (const one of this.#keys.querySelectorAll("button")) one.disabled = links === null;
    this.#addresses.draw(view);
    this.#lettingIn.draw(view);
    if (links === null) setText(this.#reach, reachWords(view));
    else
      setText(
        this.#reach,
        links.reachable
          ? `Other machines reach this host at ${links.addresses.join(" or ")}.`
          : `Only this machine reaches the host. ${links.hint ?? ""}`,
      );
  }

  async #choose() {
    const folder = this.#folder.control.value.trim();
    this.#folder.blame(folder === "" ? "Name a folder first." : "");
    if (folder === "") this.#folder.control.focus();
    else if (await this.#write(folder)) this.#draft.keep(null);
  }

  /** @param {string | null} folder */
  #write(folder) {
    const before = this.#desk.view.host?.text_files.folder ?? null;
    const { host } = this.#desk;
    return this.#desk.act(
      () => host.writeTextFiles(folder),
      folder === null ? "Nothing is written any more; the files stay as they are." : `Writing to ${folder}.`,
      {
        label: "Undo",
        said: before === null ? "Nothing is written." : `Writing to ${before} again.`,
        run: () => host.writeTextFiles(before),
      },
    );
  }

  /** @param {Role} role @param {string} whose */
  async #newKey(role, whose) {
    const words =
      role === "desk"
        ? "Every desk opened from another machine is cut off at once and has to be opened anew with its new link. This cannot be undone."
        : `All links of ${whose} handed out so far stop working, and pages open with them on other machines are cut off at once, also where a match is on. What a charting laptop has not sent yet stays in it. Hand out the new links right after. This cannot be undone.`;
    if (
      (await ask({ title: `A new key for ${whose}?`, words, answers: [{ value: "yes", label: "Make a new key" }] })) ===
      ""
    )
      return;
    let ended = 0;
    await this.#desk.act(
      async () => {
        const links = await this.#desk.host.newKey(role);
        ended = links.ended ?? 0;
        this.#desk.takeLinks(links);
      },
      () =>
        `The key is new${ended === 0 ? "" : `, and ${count(ended, "open page")} with the old one ${ended === 1 ? "was" : "were"} cut off`}: hand out the links again.`,
    );
  }
}
