/**
 * The longest dink exchange of the match: how many dinks in a row, of both teams together.
 *
 * A rally counts when it has ended; a replayed one is forgotten. A shot that was missed ends the
 * exchange, for nobody saw what it was.
 */
const INDICATOR = "dinks.longest";

/** One match: the host makes a fresh instance for every match and after every correction. */
let exchange;

export const guest = {
  describe() {
    return {
      id: "dinks-javascript",
      version: "0.1.0",
      about: "Remembers the longest dink exchange of the match.",
      provides: [INDICATOR],
      reads: [],
      calledFor: ["shot", "rally-end", "replay"],
      settings: [],
    };
  },

  start() {
    exchange = { now: 0, inRally: 0, longest: 0 };
    return [published(0)];
  },

  step({ entry: { play } }) {
    switch (play.tag) {
      case "shot":
        shot(play.val);
        return [];
      case "replay":
        exchange.now = exchange.inRally = 0;
        return [];
      case "rally-end":
        return rallyEnd();
      default:
        return [];
    }
  },
};

function shot({ stroke, missedBefore }) {
  if (missedBefore) exchange.now = 0;
  exchange.now = stroke === "dink" ? exchange.now + 1 : 0;
  exchange.inRally = Math.max(exchange.inRally, exchange.now);
}

function rallyEnd() {
  const longer = exchange.inRally > exchange.longest;
  exchange.longest = Math.max(exchange.longest, exchange.inRally);
  exchange.now = exchange.inRally = 0;
  return longer ? [published(exchange.longest)] : [];
}

function published(n) {
  const key = { indicator: INDICATOR, team: undefined, player: undefined, slot: undefined };
  return { tag: "set", val: { key, value: { tag: "count", val: n }, remarks: undefined } };
}
