// A video's place as a time of day, and back to words. Pure.

/** Pictures a second where the browser does not tell. */
export const USUAL_PICTURE = 1 / 30;

/**
 * When a recording began, as far as the file tells: a camera writes the file's time
 * when it stops. Copies often carry the time of copying, so it can be changed.
 * @param {number} modified ms since 1970, of the file @param {number} duration seconds @returns {number} ms since 1970, a whole second
 */
export const likelyBeginning = (modified, duration) =>
  Math.floor((modified - (Number.isFinite(duration) ? duration * 1000 : 0)) / 1000) * 1000;

/** @param {number} began ms since 1970 @param {number} place seconds into the video @returns {number} ms since 1970 */
export const timeAt = (began, place) => began + Math.round(place * 1000);

/**
 * A place in a video as somebody types it: `1:02:03.4`, `12:05`, seconds alone; a
 * comma for the stop; `-` before the video's beginning.
 * @param {string} text @returns {number | null} seconds, 0 for nothing; null where it is no place
 */
export function placeFrom(text) {
  const typed = text.trim().replace(",", ".").replace(/^[−–]/, "-");
  if (typed === "") return 0;
  const parts = /^(-?)(?:(?:(\d{1,3}):)?(\d{1,3}):)?(\d+(?:\.\d{1,3})?)$/.exec(typed);
  if (parts === null) return null;
  const [, sign, hours, minutes, seconds] = parts;
  const [inHour, inMinute] = [Number(minutes ?? 0), Number(seconds)];
  // Seconds alone may be any number; beside minutes they are below sixty.
  if ((minutes !== undefined && inMinute >= 60) || (hours !== undefined && inHour >= 60)) return null;
  const place = Math.round((Number(hours ?? 0) * 3600 + inHour * 60 + inMinute) * 1000) / 1000;
  return place === 0 ? 0 : sign === "-" ? -place : place;
}

/** @param {number} time ms since 1970 @returns {string} for a field of date and time, in this laptop's own zone */
export function fieldFrom(time) {
  const date = new Date(time);
  const two = (/** @type {number} */ number) => String(number).padStart(2, "0");
  return `${date.getFullYear()}-${two(date.getMonth() + 1)}-${two(date.getDate())}T${two(date.getHours())}:${two(date.getMinutes())}:${two(date.getSeconds())}`;
}

/** @param {string} field @returns {number | null} ms since 1970; null where it is no time */
export function timeFrom(field) {
  const time = new Date(field).getTime();
  return field === "" || Number.isNaN(time) ? null : time;
}
