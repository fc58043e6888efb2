// What has happened by itself since the host was last asked, and is worth a word
// wherever on the desk somebody is: a plugin stopped, a charter gone, a match over.
// Pure.

/** @import { CourtState, HostState, PluginReport } from "../../types/desk.js" */
import { pluginState } from "../page/telling.js";

/** @typedef {{ host: HostState | null, plugins: PluginReport | null }} Known */

/** @param {Known} before @param {Known} now @returns {string[]} sentences */
export function news(before, now) {
  return [...courtNews(before.host, now.host), ...pluginNews(before.plugins, now.plugins)];
}

/** @param {PluginReport | null} report @returns {string[]} */
export function stoppedPlugins(report) {
  if (report === null) return [];
  return report.plugins
    .filter((plugin) => ["stopped", "given_up"].includes(pluginState(plugin, report).state))
    .map(({ id }) => id);
}

/** @param {HostState | null} before @param {HostState | null} now */
function courtNews(before, now) {
  if (before === null || now === null) return [];
  return now.courts.flatMap((court) => {
    const was = before.courts.find((one) => one.court === court.court);
    return was === undefined || was.match !== court.match || court.match === null ? [] : changes(was, court);
  });
}

/** @param {CourtState} was @param {CourtState} is */
function changes(was, is) {
  const said = [];
  const open = is.state !== "finished";
  if (open && was.charters.length > 0 && is.charters.length === 0)
    said.push(`Court ${is.court}: the charter's laptop is gone. What it charts meanwhile it keeps and brings later.`);
  if (open && was.charters.length === 0 && is.charters.length > 0)
    said.push(`Court ${is.court}: a charter is connected.`);
  if (was.score?.winner === null && is.score?.winner != null) said.push(`Court ${is.court}: the match is over.`);
  if (was.score?.winner != null && is.score?.winner === null)
    said.push(`Court ${is.court}: the match goes on after all.`);
  return said;
}

/** @param {PluginReport | null} before @param {PluginReport | null} now */
function pluginNews(before, now) {
  if (before === null || now === null) return [];
  const already = stoppedPlugins(before);
  return stoppedPlugins(now)
    .filter((id) => !already.includes(id))
    .map((id) => `The plugin ${id} was stopped; the room Plugins says why. The match goes on without its numbers.`);
}
