// What the desk says about plugins and their files. Pure.

/** @import { LoadAttempt, RegisteredPlugin, PluginOnCourt, PluginReport } from "../../types/host.js" */
import { countWords } from "../../shared/format.js";
import { asSentence } from "../host/host.js";

/**
 * How a plugin is, over all courts: the worst first.
 * @param {RegisteredPlugin} plugin
 * @param {PluginReport} report
 * @returns {{ state: "running" | "off" | "idle" | "stopped" | "given_up" | "waiting", words: string, faults: string[] }}
 */
export function pluginState(plugin, report) {
  const places = placesOf(plugin, report);
  const faults = places.flatMap(([court, one]) => faultWords(one).map((words) => `Court ${court}: ${words}`));
  const where = (/** @type {PluginOnCourt["state"][]} */ ...states) =>
    places
      .filter(([, one]) => states.includes(one.state))
      .map(([court]) => court)
      .join(", ");
  if (!plugin.on) return { state: "off", words: "Off", faults: [] };
  if (where("switched_off") !== "")
    return { state: "given_up", words: `Off after repeated faults, court ${where("switched_off")}`, faults };
  if (where("stopped", "failed") !== "")
    return { state: "stopped", words: `Stopped on court ${where("stopped", "failed")}`, faults };
  if (where("suspended") !== "") return { state: "waiting", words: "Waiting for another plugin", faults };
  return places.length === 0
    ? { state: "idle", words: "On, no match is running", faults }
    : { state: "running", words: "Running", faults };
}

/** @param {RegisteredPlugin} plugin @param {PluginReport} report @returns {[string, PluginOnCourt][]} */
function placesOf(plugin, report) {
  return Object.entries(report.courts).flatMap(([court, all]) =>
    all.filter((one) => one.plugin === plugin.id).map((one) => /** @type {[string, PluginOnCourt]} */ ([court, one])),
  );
}

/** @param {PluginOnCourt} one @returns {string[]} */
function faultWords(one) {
  const { last_fault } = one;
  if (one.state === "switched_off")
    return [one.why, ...(last_fault === null ? [] : [`its last fault: ${last_fault.message}`])];
  if (one.state === "stopped" || one.state === "failed") return [one.fault.message];
  if (one.state === "suspended" && one.missing.length > 0)
    return [`waits for ${one.missing.map(({ indicator }) => indicator).join(", ")}, which no running plugin provides`];
  return last_fault === null ? [] : [`it was at fault and runs again: ${last_fault.message}`];
}

/** @param {RegisteredPlugin} plugin @param {PluginReport} report */
export function pluginCost(plugin, report) {
  const places = placesOf(plugin, report).map(([, one]) => one);
  const sum = (/** @type {(one: PluginOnCourt) => number} */ of) => places.reduce((all, one) => all + of(one), 0);
  const calls = sum((one) => one.calls);
  if (calls === 0) return "not called yet";
  const each = sum((one) => one.time_us) / calls;
  const most = Math.max(...places.map((one) => one.most_time_us));
  const memory = Math.max(...places.map((one) => one.memory_bytes)) / 1024 / 1024;
  const faults = sum((one) => one.faults);
  return (
    `${countWords(calls, "call")}, ${each.toFixed(each < 10 ? 1 : 0)} µs a call (longest ${(most / 1000).toFixed(1)} ms), ${memory.toFixed(1)} MiB` +
    (faults > 0 ? `, ${countWords(faults, "fault")}` : "")
  );
}

/** @param {LoadAttempt} attempt */
export function attemptWords(attempt) {
  const { file, plugin, version, outcome } = attempt;
  const what = plugin === null ? file : `${file} (${plugin} ${version ?? ""})`;
  if (outcome === "taken") return `${what}: loaded`;
  if (outcome === "removed") return `${what}: removed`;
  const advice = attempt.hint === null ? "" : ` What to change: ${asSentence(attempt.hint)}`;
  return `${what}: ${outcome === "refused" ? "not a plugin" : "rejected"}. ${asSentence(attempt.message)}${advice}`;
}
