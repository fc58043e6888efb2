/**
 * A small seeded generator of numbers and choices: the same seed gives the same values on every
 * machine. For random charts only; it is neither fast nor good enough for anything else.
 */

/** Mulberry32: one 32-bit word of state, every step a few multiplications. */
export class Dice {
  /** @param {number} seed */
  constructor(seed) {
    this.state = Math.imul(seed, 0x9e3779b1) ^ 0x5bd1e995;
  }

  /** @returns {number} in [0, 1) */
  next() {
    this.state = (this.state + 0x6d2b79f5) | 0;
    let word = Math.imul(this.state ^ (this.state >>> 15), this.state | 1);
    word ^= word + Math.imul(word ^ (word >>> 7), word | 61);
    return ((word ^ (word >>> 14)) >>> 0) / 4294967296;
  }

  /** @returns {boolean} true with this probability */
  chance(probability) {
    return this.next() < probability;
  }

  /** @returns {number} a whole number from `low` to `high`, both included */
  between(low, high) {
    return low + Math.floor(this.next() * (high - low + 1));
  }

  /** @template T @param {T[]} items @returns {T} one of them, each as likely */
  pick(items) {
    return items[this.between(0, items.length - 1)];
  }

  /** @param {Record<string, number>} weights @returns {string} a key, as likely as its weight */
  weighted(weights) {
    const entries = Object.entries(weights);
    let left = this.next() * entries.reduce((sum, [, weight]) => sum + weight, 0);
    for (const [key, weight] of entries) {
      left -= weight;
      if (left < 0) return key;
    }
    return entries.at(-1)[0];
  }

  /** @template T @param {T[]} items @returns {T[]} `count` different ones in random order */
  some(items, count) {
    const pool = [...items];
    const chosen = [];
    while (chosen.length < count && pool.length > 0) {
      chosen.push(...pool.splice(this.between(0, pool.length - 1), 1));
    }
    return chosen;
  }
}
