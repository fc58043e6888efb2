// The few colors of the look that scripts need, as numbers to reckon with. The
// look itself is tokens.css; tests/unit/tokens.test.js holds the two together.

/** What shapes and letters stand on. Without plates it is the rim around a letter. */
export const PLATE = { dark: "#0e2233", light: "#fffdf6", text: "#0e2233" };

/** Words on a filled color: the one that reads better. */
export const INKS = ["#081521", "#fffdf6"];
