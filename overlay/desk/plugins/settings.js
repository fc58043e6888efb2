// A plugin's settings as they are typed, as the plugin takes them, and what a
// change of them is called. Pure.

/** @import { SettingOffer, SettingValue } from "../../types/host.js" */

/** @param {SettingOffer} setting @param {string} text @returns {string} empty: it fits */
export function settingProblem(setting, text) {
  if (setting.type === "text")
    return [...text].length <= setting.longest
      ? ""
      : `At most ${setting.longest} characters; this has ${[...text].length}.`;
  if (setting.type !== "number" && setting.type !== "whole") return "";
  const value = text.trim() === "" ? NaN : Number(text);
  const whole = setting.type === "whole";
  if (Number.isNaN(value) || (whole && !Number.isInteger(value)) || value < setting.from || value > setting.to) {
    return `A ${whole ? "whole " : ""}number from ${setting.from} to ${setting.to}.`;
  }
  return "";
}

/** @param {SettingOffer} setting @param {string} text @returns {SettingValue} */
export function settingValue(setting, text) {
  if (setting.type === "number" || setting.type === "whole") return Number(text);
  return setting.type === "truth" ? text === "true" : text;
}

/** @param {SettingOffer} setting @returns {SettingValue} where nothing is chosen */
export const standardOf = (setting) => (setting.type === "choice" ? (setting.choices[0] ?? "") : setting.default);

/** @param {SettingOffer} setting @param {Record<string, SettingValue> | null} chosen @returns {SettingValue} what the plugin runs with */
export const inForce = (setting, chosen) => chosen?.[setting.name] ?? standardOf(setting);

/**
 * What is worth choosing: a default is not, because another version of the plugin
 * may have a better one.
 * @param {readonly SettingOffer[]} settings @param {Record<string, SettingValue>} values
 * @returns {Record<string, SettingValue>}
 */
export function chosenOf(settings, values) {
  const differing = settings.filter((setting) => (values[setting.name] ?? standardOf(setting)) !== standardOf(setting));
  return Object.fromEntries(differing.map(({ name }) => [name, /** @type {SettingValue} */ (values[name])]));
}

/** @typedef {{ label: string, from: string, to: string }} SettingChange */

/**
 * What differs for the plugin, in words.
 * @param {readonly SettingOffer[]} settings
 * @param {Record<string, SettingValue> | null} before @param {Record<string, SettingValue> | null} after
 * @returns {SettingChange[]}
 */
export function settingChanges(settings, before, after) {
  return settings.flatMap((setting) => {
    const [from, to] = [inForce(setting, before), inForce(setting, after)];
    return from === to ? [] : [{ label: settingLabel(setting), from: valueWords(from), to: valueWords(to) }];
  });
}

/** @param {SettingOffer} setting */
export function settingLabel({ name }) {
  const words = name.replaceAll("_", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}

/** @param {SettingValue} value */
export function valueWords(value) {
  if (typeof value === "boolean") return value ? "yes" : "no";
  return value === "" ? "empty" : String(value);
}

/** @param {readonly SettingChange[]} changes @param {(change: SettingChange) => string} words */
const listed = (changes, words) => changes.map(words).join("; ");

/** @param {string} plugin @param {readonly SettingChange[]} changes @param {number} courts with a match on */
export function changedWords(plugin, changes, courts) {
  const again =
    courts === 0
      ? ""
      : ` The ${courts === 1 ? "match" : "matches"} on court ${courts === 1 ? "has" : "have"} been worked out again with it.`;
  return `${plugin}: ${listed(changes, ({ label, from, to }) => `${label.toLowerCase()} is ${to} now, it was ${from}`)}.${again}`;
}

/** @param {string} plugin @param {readonly SettingChange[]} changes */
export const undoneWords = (plugin, changes) =>
  `${plugin}: ${listed(changes, ({ label, from }) => `${label.toLowerCase()} is ${from} again`)}.`;
