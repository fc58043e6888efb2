// Times and numbers as people read them, by the browser's own `Intl`, the same on
// every page: English of the United States, a 24-hour clock. Pure.

const LANGUAGE = "en-US";

/** @param {Intl.NumberFormatOptions} options */
const numbers = (options) => new Intl.NumberFormat(LANGUAGE, options);
/** @param {Intl.DateTimeFormatOptions} options */
const times = (options) => new Intl.DateTimeFormat(LANGUAGE, { hourCycle: "h23", ...options });

const WHOLE = numbers({ maximumFractionDigits: 0 });
const TENTHS = numbers({ minimumFractionDigits: 1, maximumFractionDigits: 1 });
const PERCENT = numbers({ style: "percent", maximumFractionDigits: 0 });
const TO_THE_SECOND = times({ hour: "2-digit", minute: "2-digit", second: "2-digit" });

/** @param {number} n "1,204" */
export const wholeWords = (n) => WHOLE.format(n);

/** @param {number} n "1.4" */
export const tenthsWords = (n) => TENTHS.format(n);

/** @param {number} n @param {string} thing @param {string} [things] "1 court", "3 courts" */
export const countWords = (n, thing, things = `${thing}s`) => `${wholeWords(n)} ${n === 1 ? thing : things}`;

/** Never rounded to "none" or "all" when it is neither. @param {number} share 0 to 1 */
export function percentWords(share) {
  if (share > 0 && share < 0.005) return "under 1%";
  if (share < 1 && share >= 0.995) return "over 99%";
  return PERCENT.format(share);
}

/** @param {number} ms "1.4 s" */
export const secondsWords = (ms) => `${tenthsWords(ms / 1000)} s`;

/** A delay: exact while it is short. @param {number} ms "140 ms", "2.1 s" */
export const delayWords = (ms) => (Math.abs(ms) < 1000 ? `${wholeWords(ms)} ms` : secondsWords(ms));

/** @param {number} ms since something happened "just now", "12 s ago", "3 min ago", "2 h ago" */
export function agoWords(ms) {
  const seconds = Math.max(0, Math.round(ms / 1000));
  if (seconds < 5) return "just now";
  if (seconds < 90) return `${seconds} s ago`;
  return seconds < 5400 ? `${Math.round(seconds / 60)} min ago` : `${Math.round(seconds / 3600)} h ago`;
}

/** @param {number | string | Date} moment "14:03:22" */
export const clockWords = (moment) => TO_THE_SECOND.format(new Date(moment));

/** A place in a video or a rally. @param {number} seconds "0:07.4", "1:02:07.4" */
export function placeWords(seconds) {
  const tenths = Math.max(0, Math.floor(seconds * 10 + 1e-6));
  const [hours, minutes] = [Math.floor(tenths / 36_000), Math.floor(tenths / 600) % 60];
  const small = `${String(Math.floor(tenths / 10) % 60).padStart(2, "0")}.${tenths % 10}`;
  return hours === 0 ? `${minutes}:${small}` : `${hours}:${String(minutes).padStart(2, "0")}:${small}`;
}
