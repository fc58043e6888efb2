// Many matches at once, from a sheet: dropped, chosen or pasted, looked over by
// the host, and then planned all or none.

/** @import { DeskHeader, ImportAnswer, ImportProblem } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { make, setText } from "../../shared/dom.js";
import { button, draft, field, save } from "../page/controls.js";
import { asSentence } from "../host/host.js";
import { CONSENT_CAUTION } from "./match-form.js";
import { TEMPLATE } from "./planning.js";
import { count, formatWords, versus } from "../page/telling.js";

export class ImportSheet {
  #desk;
  #draft = draft("sheet");
  #text = make("textarea", { rows: "5", spellcheck: "false", wrap: "off" });
  #file = make("input", { type: "file", accept: ".csv,text/csv,text/plain" });
  #found = make("div", { class: "found" });
  #said = make("p", { role: "status", class: "sheet-said" });
  #import = button("Plan them all", () => this.#take(), { class: "chief" });
  node;

  /** @param {Desk} desk */
  constructor(desk) {
    this.#desk = desk;
    const text = field(
      "The sheet's lines, to paste or change",
      this.#text,
      "Only team_a and team_b are needed. Players are separated by / or ;",
    );
    const file = field("A file from your spreadsheet (CSV)", this.#file, "Or drop it anywhere on the desk");
    this.node = make(
      "section",
      { class: "card sheet", "aria-label": "Many matches at once" },
      make("h2", {}, "Many matches at once"),
      make(
        "div",
        { class: "row" },
        button("Save a sheet to fill in", () => save("matches.csv", TEMPLATE, "text/csv")),
      ),
      file.node,
      text.node,
      make("p", { class: "caution" }, CONSENT_CAUTION),
      make(
        "div",
        { class: "row" },
        button("Look it over", () => this.#check()),
        this.#import,
      ),
      this.#said,
      this.#found,
    );
    this.#import.hidden = true;
    this.#text.value = this.#draft.read() ?? "";
    this.#text.addEventListener("input", () => {
      this.#draft.keep(this.#text.value);
      this.#import.hidden = true;
    });
    this.#file.addEventListener("change", () => void this.#load(this.#file.files?.[0]));
    this.#takeDrops();
  }

  /**
   * Wherever on the desk a file is dropped: a browser would show it in place of
   * the page.
   */
  #takeDrops() {
    /** @param {DragEvent} event */
    const carriesFile = (event) => event.dataTransfer?.types.includes("Files") === true;
    document.addEventListener("dragover", (event) => {
      if (!carriesFile(event)) return;
      event.preventDefault();
      this.node.dataset["over"] = "";
    });
    document.addEventListener("dragleave", (event) => {
      if (event.relatedTarget === null) delete this.node.dataset["over"];
    });
    document.addEventListener("drop", (event) => {
      if (!carriesFile(event)) return;
      event.preventDefault();
      delete this.node.dataset["over"];
      if (this.node.hidden) return;
      location.hash = "matches";
      void this.#load(event.dataTransfer?.files[0]).then(() => this.node.scrollIntoView({ block: "start" }));
    });
  }

  /** @param {File | undefined} file */
  async #load(file) {
    if (file === undefined) return;
    const before = this.#text.value;
    this.#put(await file.text());
    await this.#check();
    if (before.trim() === "" || before === this.#text.value) return;
    void this.#desk.act(async () => {}, `The lines of ${file.name} are in the place of those that stood there.`, {
      label: "Undo: the lines from before",
      said: "The lines from before are back.",
      run: async () => {
        this.#put(before);
        this.#file.value = "";
        await this.#check();
      },
    });
  }

  /** @param {string} text */
  #put(text) {
    this.#text.value = text;
    this.#draft.keep(text);
  }

  async #check() {
    await this.#ask("check", (answer) => {
      this.#import.hidden = answer.problems.length > 0 || answer.matches.length === 0;
      setText(
        this.#import,
        `Plan ${answer.matches.length === 1 ? "this match" : `all ${answer.matches.length} matches`}`,
      );
      setText(this.#said, this.#verdict(answer));
      this.#found.replaceChildren(
        answer.problems.length > 0 ? problemTable(answer.problems, this.#text.value) : matchTable(answer.matches),
      );
    });
  }

  /** @param {ImportAnswer} answer */
  #verdict({ matches, problems }) {
    if (problems.length > 0)
      return `${count(problems.length, "problem")}. Nothing has been planned; put these right and look it over again.`;
    if (matches.length === 0)
      return "There is no match in it: below the line with the names of the columns each line is one match.";
    return `${count(matches.length, "match", "matches")} found, no problem. Nothing has been planned yet.`;
  }

  async #take() {
    await this.#ask("import", (answer) => {
      if (answer.problems.length > 0) {
        setText(this.#said, this.#verdict(answer));
        this.#found.replaceChildren(problemTable(answer.problems, this.#text.value));
        return;
      }
      this.#text.value = "";
      this.#file.value = "";
      this.#draft.keep(null);
      this.#import.hidden = true;
      this.#found.replaceChildren();
      setText(this.#said, "");
      const ids = answer.matches.map(({ id }) => id);
      void this.#desk.act(async () => {}, `${count(ids.length, "match", "matches")} planned.`, {
        label: "Undo: remove them again",
        said: "The imported matches that had not begun are removed.",
        run: () => this.#remove(ids),
      });
    });
  }

  /** @param {readonly string[]} ids those that have begun meanwhile stay */
  async #remove(ids) {
    for (const id of ids) {
      if (this.#desk.match(id)?.state === "planned") await this.#desk.host.removeMatch(id);
    }
  }

  /** @param {"check" | "import"} how @param {(answer: ImportAnswer) => void} then */
  async #ask(how, then) {
    if (this.#text.value.trim() === "") {
      setText(this.#said, "There is nothing to look over yet: drop or choose a file, or paste its lines.");
      return;
    }
    try {
      then(await this.#desk.host.importMatches(this.#text.value, how));
    } catch (error) {
      this.#import.hidden = true;
      this.#found.replaceChildren();
      this.#desk.fail(error);
    }
  }
}

/** @param {readonly ImportProblem[]} problems @param {string} text */
function problemTable(problems, text) {
  const lines = text.split(/\r\n|\n|\r/);
  return table(
    "Problems by line",
    ["Line", "Column", "What is wrong", "The line"],
    problems.map(({ line, column, message }) => [
      String(line),
      column ?? "",
      asSentence(message),
      lines[line - 1] ?? "",
    ]),
  );
}

/** @param {readonly DeskHeader[]} matches */
function matchTable(matches) {
  return table(
    "Matches found",
    ["Court", "Title", "Teams", "Format"],
    matches.map((header) => [header.court ?? "", header.title ?? "", versus(header), formatWords(header)]),
  );
}

/** @param {string} caption @param {string[]} heads @param {string[][]} rows */
function table(caption, heads, rows) {
  return make(
    "div",
    { class: "scroll", tabindex: "0", role: "region", "aria-label": caption },
    make(
      "table",
      {},
      make("caption", {}, caption),
      make("thead", {}, make("tr", {}, ...heads.map((head) => make("th", { scope: "col" }, head)))),
      make("tbody", {}, ...rows.map((cells) => make("tr", {}, ...cells.map((cell) => make("td", {}, cell))))),
    ),
  );
}
