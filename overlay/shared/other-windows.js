// A word to the other windows of this browser, which share its memory and its name with
// the host. Where the browser keeps nothing for this page, a browser may refuse it: then
// windows share nothing either, and the host tells them apart as it does two laptops.

/**
 * @typedef {object} OtherWindows
 * @property {() => void} tell says to each of the others that this one is at work
 */

/**
 * @param {string} name what the windows are at; those of another name hear nothing
 * @param {() => void} onTold another window is at work
 * @param {(name: string) => BroadcastChannel} [open]
 * @returns {OtherWindows}
 */
export function otherWindows(name, onTold, open = (wanted) => new BroadcastChannel(wanted)) {
  try {
    const channel = open(name);
    channel.onmessage = onTold;
    return { tell: () => channel.postMessage("at work") };
  } catch (error) {
    console.warn(`other windows of this browser are not heard of: ${String(error)}`);
    return { tell: () => {} };
  }
}
