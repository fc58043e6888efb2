// The room of the plugins: how each is, what it can be told, on and off, and what
// became of every file that was found.

/**
 * @import { RegisteredPlugin, PluginReport, SettingOffer } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { choiceField, textField } from "../../shared/fields.js";
import { clockWords, countWords } from "../../shared/format.js";
import { html, nothing, repeat } from "../../shared/html.js";
import { stoppedPlugins } from "../host/watching.js";
import { attemptWords, pluginCost, pluginState } from "./plugin-words.js";
import { resetSettings, saveSettings, switchPlugin, tryAgain, typeSetting } from "./plugin-actions.js";
import { inForce, settingLabel, standardOf, valueWords } from "./settings.js";

/** @param {Desk} desk */
export function pluginsRoom(desk) {
  const { plugins, missing } = desk.state;
  if (plugins === null) return html`<p class="trouble">${missing.plugins}</p>`;
  const stopped = stoppedPlugins(plugins);
  const attempts = [...plugins.attempts].sort((one, other) => other.at.localeCompare(one.at));
  return html`
    <section aria-label="Plugins">
      <h2>Plugins</h2>
      <p class="quiet">
        Plugins compute what the graphic and the booth page show. One that goes wrong is stopped; the match goes on
        without its statistics.
      </p>
      ${stopped.length === 0 ? nothing : html`<p class="trouble">${countWords(stopped.length, "plugin")} stopped: ${stopped.join(", ")}.</p>`}
      <ul class="plugins">
        ${repeat(
          plugins.plugins,
          ({ id }) => id,
          (plugin) => pluginCard(desk, plugin, plugins),
        )}
      </ul>
    </section>
    <section aria-label="Plugin files found">
      <h2>Plugin files found</h2>
      ${attempts.length > 0 ? nothing : html`<p class="quiet">None since the host started.</p>`}
      <ol class="attempts" reversed>
        ${attempts.map((attempt) => html`<li>${clockWords(attempt.at)}  ${attemptWords(attempt)}</li>`)}
      </ol>
    </section>
  `;
}

/** @param {Desk} desk @param {RegisteredPlugin} plugin @param {PluginReport} report */
function pluginCard(desk, plugin, report) {
  const { id, about, version, built_in: isBuiltIn, file, provides, settings } = plugin;
  const { state, words, faults } = pluginState(plugin, report);
  const whose = html`<span class="rt-hidden"> ${id}</span>`;
  return html`<li class="card plugin" data-state=${state}>
    <header>
      <h3>${id}</h3>
      <span class="state">${words}</span>
      <span class="does">
        ${state === "given_up" ? html`<button type="button" @click=${() => tryAgain(desk, id)}>Retry${whose}</button>` : nothing}
        <button type="button" @click=${() => switchPlugin(desk, plugin)}>${plugin.on ? "Turn off" : "Turn on"}${whose}</button>
      </span>
    </header>
    <p>${about}</p>
    ${
      faults.length === 0
        ? nothing
        : html`<ul class="trouble">
            ${faults.map((fault) => html`<li>${fault}</li>`)}
          </ul>`
    }
    <details class="more">
      <summary>Details<span class="rt-hidden"> of ${id}</span></summary>
      <p class="quiet">
        Version ${version}, ${isBuiltIn ? "comes with Rallytide" : `file ${file}`}; ${pluginCost(plugin, report)};
        provides ${provides.join(", ")}
      </p>
    </details>
    ${settings.length === 0 ? nothing : settingsForm(desk, plugin)}
  </li>`;
}

/** @param {Desk} desk @param {RegisteredPlugin} plugin */
function settingsForm(desk, plugin) {
  const { settings } = plugin;
  return html`<details class="more">
    <summary>${countWords(settings.length, "setting")}</summary>
    <form
      novalidate
      @submit=${(/** @type {SubmitEvent} */ event) => {
        event.preventDefault();
        void saveSettings(desk, plugin, /** @type {HTMLFormElement} */ (event.currentTarget));
      }}
    >
      <div class="grid">${settings.map((setting) => settingField(desk, plugin, setting))}</div>
      <div class="row">
        <button>Save</button>
        <button type="button" @click=${() => resetSettings(desk, plugin)}>Reset</button>
      </div>
      <p class="quiet">Until the host is stopped. What is to hold for good stands in its configuration file.</p>
    </form>
  </details>`;
}

/** @param {Desk} desk @param {RegisteredPlugin} plugin @param {SettingOffer} setting */
function settingField(desk, plugin, setting) {
  const { typed = {}, faults = {} } = desk.state.settings[plugin.id] ?? {};
  const range =
    setting.type === "number" || setting.type === "whole"
      ? `${setting.from} to ${setting.to}, `
      : setting.type === "text"
        ? `${setting.longest} characters at most, `
        : "";
  const field = {
    id: `setting-${plugin.id}-${setting.name}`,
    label: settingLabel(setting),
    value: typed[setting.name] ?? String(inForce(setting, plugin.chosen)),
    fault: faults[setting.name] ?? "",
    advice: `${setting.about} (${range}default ${valueWords(standardOf(setting))})`,
    put: (/** @type {string} */ text) => typeSetting(desk, plugin, setting.name, text),
  };
  if (setting.type === "truth")
    return choiceField({
      ...field,
      choices: [
        ["true", "yes"],
        ["false", "no"],
      ],
    });
  if (setting.type === "choice") return choiceField({ ...field, choices: setting.choices.map((one) => [one, one]) });
  return setting.type === "text" ? textField(field) : textField({ ...field, inputmode: "decimal" });
}
