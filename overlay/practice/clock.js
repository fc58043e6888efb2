// The time of a rally that is played at a tempo, can be paused and stepped through,
// and a second one, in real seconds, that stands still while it is paused: by that
// one it is known how far behind a volunteer is. Time comes in as a parameter.

/** True tempo is 1. */
export const TEMPOS = [0.5, 0.6, 0.75, 0.9, 1, 1.25, 1.5];
export const FIRST_TEMPO = 0.6;

export class RallyClock {
  /** ms of the rally; negative before the serve. */
  head = 0;
  /** Real seconds the rally has run, pauses left out. */
  active = 0;
  running = false;
  tempo = FIRST_TEMPO;
  #last = 0;

  /** @param {number} head where to begin @param {number} now ms */
  begin(head, now) {
    this.head = head;
    this.active = 0;
    this.running = true;
    this.#last = now;
  }

  /** @param {number} now ms */
  tick(now) {
    const passed = Math.max(0, now - this.#last);
    this.#last = now;
    if (!this.running) return;
    this.head += passed * this.tempo;
    this.active += passed / 1000;
  }

  /** @param {boolean} running @param {number} now ms */
  run(running, now) {
    this.tick(now);
    this.running = running;
  }

  /** @param {1 | -1} way the next tempo up or down, as far as there is one */
  change(way) {
    const place = TEMPOS.indexOf(this.tempo) + way;
    this.tempo = TEMPOS[Math.min(TEMPOS.length - 1, Math.max(0, place))] ?? FIRST_TEMPO;
  }

  /** @param {number} moment ms of the rally, already passed @returns {number} the active time it was passed at */
  activeAt(moment) {
    return this.active - Math.max(0, this.head - moment) / this.tempo / 1000;
  }
}
