/**
 * Waiting for something to become true. Every wait is bounded, says what it waited for and shows
 * what it saw last; nothing here lets time pass for its own sake.
 */
import { inspect } from "node:util";

/** How long something may take that a person would call immediate, on a busy machine. */
export const PATIENCE_MS = 30_000;

/** How often a state that tells nobody about its changes is looked at. */
const LOOK_EVERY_MS = 10;

/**
 * Looks until `look` gives something else than `undefined`, `null` or `false`.
 * @template T
 * @param {string} label what is waited for
 * @param {() => T | Promise<T>} look
 * @param {{ within?: number, seen?: () => unknown }} [options] `seen`: what to show if it never comes, now or promised
 * @returns {Promise<NonNullable<T>>}
 */
export async function until(label, look, { within = PATIENCE_MS, seen } = {}) {
  const end = performance.now() + within;
  for (;;) {
    const value = await look();
    if (value !== undefined && value !== null && value !== false) return value;
    if (performance.now() > end) throw new Error(gaveUp(label, within, await seen?.()));
    await new Promise((resolve) => setTimeout(resolve, LOOK_EVERY_MS));
  }
}

/**
 * Gives `promise` so much time and no more.
 * @template T
 * @param {string} label what is waited for
 * @param {Promise<T>} promise
 * @param {{ within?: number, seen?: () => unknown }} [options]
 * @returns {Promise<T>}
 */
export async function inTime(label, promise, { within = PATIENCE_MS, seen } = {}) {
  let timer;
  const tooLate = new Promise((_, reject) => {
    timer = setTimeout(() => reject(new Error(gaveUp(label, within, seen?.()))), within);
  });
  try {
    return await Promise.race([promise, tooLate]);
  } finally {
    clearTimeout(timer);
  }
}

function gaveUp(label, within, seen) {
  const last = seen === undefined ? "" : `; last seen: ${inspect(seen, { depth: 6 })}`;
  return `waited ${within} ms for ${label}${last}`;
}
