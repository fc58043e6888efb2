// How far a share can be trusted: the Wilson score interval, without correction
// for continuity. Pure. It speaks of chance alone, not of how well the cases
// stand for anything else.
// Formula: E. B. Wilson, J. Am. Stat. Assoc. 22 (1927), 209-212; it is method 3
// of R. G. Newcombe, Statistics in Medicine 17 (1998), 857-872.

/** Two-sided 95 % of the normal distribution. */
const Z = 1.959964;

/**
 * @param {number} part
 * @param {number} whole 1 or more
 * @returns {{ low: number, high: number }} both from 0 to 1
 */
export function wilson(part, whole) {
  const share = part / whole;
  const square = Z * Z;
  const middle = 2 * part + square;
  const spread = Z * Math.sqrt(square + 4 * part * (1 - share));
  const under = 2 * (whole + square);
  // Rounding must not lead out of what a share can be, nor off its own ends.
  return {
    low: part === 0 ? 0 : Math.max(0, (middle - spread) / under),
    high: part === whole ? 1 : Math.min(1, (middle + spread) / under),
  };
}
