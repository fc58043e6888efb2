// A plugin's setting as it is typed, and as the plugin takes it. Pure.

/** @import { Setting, SettingValue } from "../types/desk.js" */

/** @param {Setting} setting @param {string} text @returns {string} empty: it fits */
export function settingProblem(setting, text) {
  if (setting.type === "text") return [...text].length <= setting.longest ? "" : `At most ${setting.longest} characters; this has ${[...text].length}.`;
  if (setting.type !== "number" && setting.type !== "whole") return "";
  const value = text.trim() === "" ? NaN : Number(text);
  const whole = setting.type === "whole";
  if (Number.isNaN(value) || (whole && !Number.isInteger(value)) || value < setting.from || value > setting.to) {
    return `A ${whole ? "whole " : ""}number from ${setting.from} to ${setting.to}.`;
  }
  return "";
}

/** @param {Setting} setting @param {string} text @returns {SettingValue} */
export function settingValue(setting, text) {
  if (setting.type === "number" || setting.type === "whole") return Number(text);
  return setting.type === "truth" ? text === "true" : text;
}
