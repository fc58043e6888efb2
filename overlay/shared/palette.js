// The few colors of the look that scripts need, as numbers to reckon with. The
// look itself is tokens.css; tests/unit/tokens.test.js holds the two together.

/** What shapes and letters stand on. Without plates it is the rim around a letter. */
export const PLATE = { dark: "#0e2233", light: "#fffdf6", text: "#0e2233" };

/** Team colors where a match has none of its own: far apart in hue, equal in gray. */
export const TEAM_PAIR = { a: "#46a6ec", b: "#f08a45" };

/** Words on a filled color: the one that reads better. */
export const INKS = ["#081521", "#fffdf6"];
