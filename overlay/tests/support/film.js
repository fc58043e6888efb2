// Films a page frame by frame at a time of its own: timers, animation frames,
// `performance.now` and running transitions all follow one clock moved by hand,
// so that a match of half an hour is filmed in a minute and no frame is late.

import { readPng } from "./png.js";

/** Goes into the page before its scripts. */
function installClock() {
  let now = 0;
  let next = 1;
  const timers = new Map();
  let frames = new Map();
  const begun = new WeakMap();
  let isDirty = true;
  performance.now = () => now;
  window.setTimeout = (run, ms = 0, ...rest) => (
    timers.set(next, { due: now + Math.max(0, ms), run: () => run(...rest) }), next++
  );
  window.clearTimeout = (id) => void timers.delete(id);
  window.requestAnimationFrame = (run) => (frames.set(next, run), next++);
  window.cancelAnimationFrame = (id) => void frames.delete(id);
  const watched = { subtree: true, childList: true, characterData: true, attributes: true };
  new MutationObserver(() => (isDirty = true)).observe(document, watched);

  /** Runs what is due, then the frame. */
  async function tick(ms) {
    const end = now + ms;
    for (;;) {
      const due = [...timers].filter(([, one]) => one.due <= end).sort(([, one], [, other]) => one.due - other.due)[0];
      if (due === undefined) break;
      timers.delete(due[0]);
      now = Math.max(now, due[1].due);
      due[1].run();
      await null;
    }
    now = end;
    const running = frames;
    frames = new Map();
    for (const run of running.values()) run(now);
    for (let turn = 0; turn < 5; turn += 1) await null;
  }

  /** Transitions at the hand clock's time. Says whether one ended or runs. */
  function moveTransitions() {
    let running = 0;
    let ended = 0;
    for (const animation of document.getAnimations()) {
      if (!begun.has(animation)) {
        begun.set(animation, now);
        animation.pause();
      }
      const { endTime } = animation.effect.getComputedTiming();
      const at = now - begun.get(animation);
      if (at >= endTime) {
        animation.finish();
        ended += 1;
      } else {
        animation.currentTime = at;
        running += 1;
      }
    }
    return { running, ended };
  }

  /** Frames in which nothing is due and nothing moves are passed over. */
  function idle(every) {
    if (frames.size > 0 || isDirty) return every;
    const next = Math.min(...[...timers.values()].map(({ due }) => due));
    return Math.max(1, Math.ceil((next - now) / every)) * every;
  }

  /**
   * On until the picture may have changed, or `end`.
   * @param {number} end
   * @param {number} every ms a frame
   * @param {boolean} closely also while something only moves
   */
  window.filmOn = async (end, every, closely) => {
    let isMoving = true;
    for (;;) {
      await tick(Math.min(isMoving ? every : idle(every), Math.max(0.01, end - now)));
      const { running, ended } = moveTransitions();
      const changed = isDirty || ended > 0 || (closely && running > 0);
      isDirty = false;
      isMoving = running > 0;
      if (changed || now >= end) return { now, changed };
    }
  };
}

/**
 * @param {import("playwright-core").Page} page not yet gone to its address
 */
export async function film(page) {
  await page.addInitScript(installClock);
  const session = await page.context().newCDPSession(page);
  await session.send("Emulation.setDefaultBackgroundColorOverride", { color: { r: 0, g: 0, b: 0, a: 0 } });
  return {
    /** @returns {Promise<Buffer>} RGBA, four bytes a pixel */
    async picture() {
      const { data } = await session.send("Page.captureScreenshot", { format: "png", optimizeForSpeed: true });
      const { bytes, size } = readPng(Buffer.from(data, "base64"));
      if (size !== 4) throw new Error("a picture without an alpha channel");
      return bytes;
    },
    /**
     * @param {number} until page time, ms
     * @param {{ every: number, closely: boolean }} pace
     * @param {((at: number, picture: Buffer) => void) | null} take null: lets it pass unseen
     */
    async play(until, { every, closely }, take) {
      for (;;) {
        const { now, changed } = await page.evaluate(
          ([end, step, near]) => window.filmOn(end, step, near),
          [until, every, closely],
        );
        if (changed && take !== null) take(now, await this.picture());
        if (now >= until) return;
      }
    },
  };
}
