// What has happened by itself since the host was last asked, and is worth a word
// wherever on the desk somebody is: a plugin stopped, a charter gone, a match over.
// Pure.

/** @import { CourtState, HostState, PluginReport } from "../../types/host.js" */
import { scorersOf } from "../page/telling.js";
import { pluginState } from "../plugins/plugin-words.js";

/** @typedef {{ host: HostState | null, plugins: PluginReport | null }} Known */

/** @typedef {{ words: string, isUrgent: boolean }} News urgent: worth a sound */

/** @param {Known} before @param {Known} now @returns {News[]} */
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

/** @param {HostState | null} before @param {HostState | null} now @returns {News[]} */
function courtNews(before, now) {
  if (before === null || now === null) return [];
  return now.courts.flatMap((court) => {
    const was = before.courts.find((one) => one.court === court.court);
    return was === undefined || was.match !== court.match || court.match === null ? [] : changes(was, court);
  });
}

/** @param {CourtState} was @param {CourtState} is @returns {News[]} */
function changes(was, is) {
  /** @type {News[]} */
  const said = [];
  /** @param {string} words @param {boolean} isUrgent */
  const say = (words, isUrgent) => said.push({ words: `Court ${is.court}: ${words}`, isUrgent });
  const open = is.state !== "finished";
  const scored = scorersOf(was.charters).length > 0;
  const scores = scorersOf(is.charters).length > 0;
  if (open && scored && !scores)
    say("the charter's laptop is gone. What it charts meanwhile it keeps and sends later.", true);
  if (open && !scored && scores) say("a charter is connected.", false);
  if (was.score?.winner === null && is.score?.winner != null) say("the match is over.", true);
  if (was.score?.winner != null && is.score?.winner === null) say("the match is being played again.", false);
  return said;
}

/** @param {PluginReport | null} before @param {PluginReport | null} now @returns {News[]} */
function pluginNews(before, now) {
  if (before === null || now === null) return [];
  const already = stoppedPlugins(before);
  return stoppedPlugins(now)
    .filter((id) => !already.includes(id))
    .map((id) => ({
      words: `The plugin ${id} was stopped; the room Plugins says why. The match goes on without its statistics.`,
      isUrgent: true,
    }));
}
