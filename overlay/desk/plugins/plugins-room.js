// The room of the plugins: how each is, what it can be told, on and off, and what
// became of every file that was tried.

/** @import { DeskView, Plugin, PluginReport, Setting, SettingValue } from "../../types/desk.js" */
/** @import { Desk } from "../host/desk.js" */
import { keyedChildren, make, setText } from "../../shared/dom.js";
import { button, choice, field, input } from "../page/controls.js";
import {
  changedWords,
  chosenOf,
  inForce,
  settingChanges,
  settingLabel,
  settingProblem,
  settingValue,
  standardOf,
  undoWords,
  undoneWords,
  valueWords,
} from "./settings.js";
import { stoppedPlugins } from "../host/watching.js";
import { attemptWords, count, pluginCost, pluginState } from "../page/telling.js";

/** @typedef {Record<string, SettingValue>} Chosen */

export class PluginsRoom {
  #desk;
  #list = make("ul", { class: "plugins" });
  #attempts = make("ol", { class: "attempts", reversed: "" });
  #none = make("p", { class: "quiet" }, "No file has been tried since the host started.");
  #alarm = make("p", { class: "trouble" });
  /** @type {Map<string, PluginCard>} */
  #cards = new Map();
  node;

  /** @param {Desk} desk */
  constructor(desk) {
    this.#desk = desk;
    this.node = make(
      "div",
      {},
      make(
        "section",
        { "aria-label": "Plugins" },
        make("h2", {}, "Plugins"),
        make(
          "p",
          { class: "quiet" },
          "Plugins compute what the graphic and the booth page show. One that goes wrong is stopped; the match goes on without its numbers.",
        ),
        this.#alarm,
        this.#list,
      ),
      make(
        "section",
        { "aria-label": "Files tried" },
        make("h2", {}, "Files that were tried"),
        this.#none,
        this.#attempts,
      ),
    );
  }

  /** @param {DeskView} view */
  draw({ plugins, missing }) {
    if (plugins === null) {
      setText(this.#alarm, missing.plugins);
      return;
    }
    const byId = new Map(plugins.plugins.map((plugin) => [plugin.id, plugin]));
    keyedChildren(
      this.#list,
      [...byId.keys()],
      (id) => {
        const card = new PluginCard(this.#desk, id);
        this.#cards.set(id, card);
        return card.node;
      },
      (_node, id) => {
        const plugin = byId.get(id);
        if (plugin !== undefined) this.#cards.get(id)?.draw(plugin, plugins);
      },
    );
    const stopped = stoppedPlugins(plugins);
    setText(
      this.#alarm,
      stopped.length === 0 ? "" : `${count(stopped.length, "plugin")} stopped: ${stopped.join(", ")}.`,
    );
    this.#none.hidden = plugins.attempts.length > 0;
    const words = [...plugins.attempts]
      .sort((one, other) => other.at.localeCompare(one.at))
      .map((attempt) => `${timeOf(attempt.at)}  ${attemptWords(attempt)}`);
    if (words.join("\n") !== [...this.#attempts.children].map((one) => one.textContent).join("\n")) {
      this.#attempts.replaceChildren(...words.map((one) => make("li", {}, one)));
    }
  }
}

/** @param {string} at */
const timeOf = (at) => new Date(at).toLocaleTimeString([], { hour: "2-digit", minute: "2-digit", second: "2-digit" });

class PluginCard {
  #desk;
  #id;
  #state = make("span", { class: "state" });
  #about = make("p", {});
  #cost = make("p", { class: "quiet" });
  #faults = make("ul", { class: "trouble" });
  #switch = button("", () => this.#toggle());
  #again = button("", () => this.#tryAgain());
  #settings = make("details", { class: "more" });
  /** Which settings the form was built for. */
  #built = "";
  /** Each with the value it was last given to show. @type {(ReturnType<typeof settingField> & { setting: Setting, shown: string })[]} */
  #fields = [];
  node;

  /** @param {Desk} desk @param {string} id */
  constructor(desk, id) {
    this.#desk = desk;
    this.#id = id;
    this.node = make(
      "li",
      { class: "card plugin" },
      make("header", {}, make("h3", {}, id), this.#state, make("span", { class: "does" }, this.#again, this.#switch)),
      this.#about,
      this.#cost,
      this.#faults,
      this.#settings,
    );
  }

  get #plugin() {
    return this.#desk.view.plugins?.plugins.find(({ id }) => id === this.#id) ?? null;
  }

  /** @param {Plugin} plugin @param {PluginReport} report */
  draw(plugin, report) {
    const { state, words, faults } = pluginState(plugin, report);
    this.node.dataset["state"] = state;
    setText(this.#state, words);
    setText(this.#about, plugin.about);
    setText(
      this.#cost,
      `version ${plugin.version}, ${plugin.built_in ? "comes with Rallytide" : `file ${plugin.file}`}; ${pluginCost(plugin, report)}; provides ${plugin.provides.join(", ")}`,
    );
    if (faults.join("\n") !== [...this.#faults.children].map((one) => one.textContent).join("\n")) {
      this.#faults.replaceChildren(...faults.map((fault) => make("li", {}, fault)));
    }
    this.#again.hidden = state !== "given_up";
    setText(this.#again, `Give ${this.#id} another chance`);
    setText(this.#switch, plugin.on ? `Switch ${this.#id} off` : `Switch ${this.#id} on`);
    this.#drawSettings(plugin);
  }

  #toggle() {
    const plugin = this.#plugin;
    if (plugin === null) return;
    const { host } = this.#desk;
    const { id, on, provides } = plugin;
    const words = on
      ? `${id} is off: ${provides.join(", ")} are shown nowhere, and what reads them waits.`
      : `${id} is on.`;
    return this.#desk.act(() => host.switchPlugin(id, !on), words, {
      label: "Undo",
      said: on ? `${id} is on again.` : `${id} is off again.`,
      run: () => host.switchPlugin(id, on),
    });
  }

  /** Switching it on forgets its faults. */
  #tryAgain() {
    return this.#desk.act(
      () => this.#desk.host.switchPlugin(this.#id, true),
      `${this.#id} runs again; its faults are counted from nought.`,
    );
  }

  /** The form stays where it is, and what is typed in it: a field follows only what it showed. @param {Plugin} plugin */
  #drawSettings(plugin) {
    this.#settings.hidden = plugin.settings.length === 0;
    const offered = JSON.stringify(plugin.settings);
    if (offered !== this.#built) this.#build(plugin);
    this.#built = offered;
    for (const one of this.#fields) {
      const now = String(inForce(one.setting, plugin.chosen));
      if (now !== one.shown && String(settingValue(one.setting, one.control.value)) === one.shown)
        one.control.value = now;
      one.shown = now;
    }
  }

  /** @param {Plugin} plugin */
  #build({ settings, chosen }) {
    this.#fields = settings.map((setting) => ({
      setting,
      ...settingField(setting),
      shown: String(inForce(setting, chosen)),
    }));
    for (const one of this.#fields) one.control.value = one.shown;
    const form = make(
      "form",
      { novalidate: "" },
      make("div", { class: "grid" }, ...this.#fields.map(({ node }) => node)),
      make(
        "div",
        { class: "row" },
        make("button", {}, "Use these"),
        button("Back to the defaults", () => this.#reset()),
      ),
      make(
        "p",
        { class: "quiet" },
        "Until the host is stopped. What is to hold for good stands in its configuration file.",
      ),
    );
    form.addEventListener("submit", (event) => {
      event.preventDefault();
      const wrong = this.#fields.filter(({ setting, control, blame }) => {
        const sentence = settingProblem(setting, control.value);
        blame(sentence);
        return sentence !== "";
      });
      if (wrong[0] !== undefined) wrong[0].control.focus();
      else
        void this.#set(
          chosenOf(
            settings,
            Object.fromEntries(
              this.#fields.map(({ setting, control }) => [setting.name, settingValue(setting, control.value)]),
            ),
          ),
        );
    });
    this.#settings.replaceChildren(make("summary", {}, count(settings.length, "setting")), form);
  }

  #reset() {
    for (const { setting, control, blame } of this.#fields) {
      control.value = String(standardOf(setting));
      blame("");
    }
    return this.#set({});
  }

  /** @param {Chosen} chosen */
  #set(chosen) {
    const { view, host } = this.#desk;
    const plugin = this.#plugin;
    if (plugin === null) return;
    const { id, settings } = plugin;
    const before = plugin.chosen ?? {};
    const changes = settingChanges(settings, before, chosen);
    if (changes.length === 0) return this.#desk.tell(`Nothing to change: ${id} runs with these settings already.`);
    const courts = Object.keys(view.plugins?.courts ?? {}).length;
    return this.#desk.act(() => host.setPlugin(id, chosen), changedWords(id, changes, courts), {
      label: undoWords(changes),
      said: undoneWords(id, changes),
      run: () => host.setPlugin(id, before),
    });
  }
}

/** @param {Setting} setting */
function settingField(setting) {
  const range =
    setting.type === "number" || setting.type === "whole"
      ? `${setting.from} to ${setting.to}, `
      : setting.type === "text"
        ? `${setting.longest} characters at most, `
        : "";
  const control =
    setting.type === "truth"
      ? choice([
          ["true", "yes"],
          ["false", "no"],
        ])
      : setting.type === "choice"
        ? choice(setting.choices.map((one) => /** @type {const} */ ([one, one])))
        : input(setting.type === "text" ? {} : { inputmode: "decimal" });
  return field(settingLabel(setting), control, `${setting.about} (${range}default ${valueWords(standardOf(setting))})`);
}
