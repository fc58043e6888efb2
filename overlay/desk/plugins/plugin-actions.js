// What is done to a plugin from the desk: on, off, another chance, its settings.

/**
 * @import { RegisteredPlugin, SettingValue } from "../../types/host.js"
 * @import { Desk } from "../host/desk.js"
 */
import { focusFault } from "../../shared/fields.js";
import {
  changedWords,
  chosenOf,
  inForce,
  settingChanges,
  settingProblem,
  settingValue,
  undoneWords,
} from "./settings.js";

/** @param {Desk} desk @param {RegisteredPlugin} plugin */
export function switchPlugin(desk, { id, on, provides }) {
  const words = on
    ? `${id} is off: ${provides.join(", ")} are shown nowhere, and what reads them waits.`
    : `${id} is on.`;
  return desk.act(() => desk.host.switchPlugin(id, !on), words, {
    said: on ? `${id} is on again.` : `${id} is off again.`,
    run: () => desk.host.switchPlugin(id, on),
  });
}

/** Turning it on forgets its faults. @param {Desk} desk @param {string} id */
export const tryAgain = (desk, id) =>
  desk.act(() => desk.host.switchPlugin(id, true), `${id} runs again; its error count starts again.`);

/** @param {Desk} desk @param {RegisteredPlugin} plugin @param {string} name @param {string} text */
export function typeSetting(desk, plugin, name, text) {
  const { typed = {}, faults = {} } = desk.state.settings[plugin.id] ?? {};
  const setting = plugin.settings.find((one) => one.name === name);
  const isAsItIs = setting !== undefined && text === String(inForce(setting, plugin.chosen));
  const { [name]: _was, ...others } = typed;
  const { [name]: _fault, ...rest } = faults;
  keep(desk, plugin.id, { typed: isAsItIs ? others : { ...others, [name]: text }, faults: rest });
}

/** @param {Desk} desk @param {string} id @param {{ typed: Record<string, string>, faults: Record<string, string> }} what */
const keep = (desk, id, what) => desk.change({ settings: { ...desk.state.settings, [id]: what } });

/** @param {Desk} desk @param {RegisteredPlugin} plugin @param {HTMLFormElement} form */
export function saveSettings(desk, plugin, form) {
  const { typed = {} } = desk.state.settings[plugin.id] ?? {};
  const texts = plugin.settings.map((setting) => ({
    setting,
    text: typed[setting.name] ?? String(inForce(setting, plugin.chosen)),
  }));
  const faults = texts.flatMap(({ setting, text }) => {
    const sentence = settingProblem(setting, text);
    return sentence === "" ? [] : [[setting.name, sentence]];
  });
  keep(desk, plugin.id, { typed, faults: Object.fromEntries(faults) });
  if (faults.length > 0) return focusFault(form);
  const values = texts.map(({ setting, text }) => [setting.name, settingValue(setting, text)]);
  return set(desk, plugin, chosenOf(plugin.settings, Object.fromEntries(values)));
}

/** @param {Desk} desk @param {RegisteredPlugin} plugin */
export function resetSettings(desk, plugin) {
  keep(desk, plugin.id, { typed: {}, faults: {} });
  return set(desk, plugin, {});
}

/** @param {Desk} desk @param {RegisteredPlugin} plugin @param {Record<string, SettingValue>} chosen */
async function set(desk, plugin, chosen) {
  const { id, settings } = plugin;
  const before = plugin.chosen ?? {};
  const changes = settingChanges(settings, before, chosen);
  if (changes.length === 0) return desk.tell(`Nothing to change: ${id} runs with these settings already.`);
  const courts = Object.keys(desk.state.plugins?.courts ?? {}).length;
  const done = await desk.act(() => desk.host.setPlugin(id, chosen), changedWords(id, changes, courts), {
    said: undoneWords(id, changes),
    run: () => desk.host.setPlugin(id, before),
  });
  if (done) keep(desk, id, { typed: {}, faults: {} });
}
