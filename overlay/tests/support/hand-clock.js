// A clock that a test moves by hand, and a socket that a test speaks through.

export class HandClock {
  time = 0;
  /** @type {Map<number, { due: number, run: () => void }>} */
  #timers = new Map();
  #next = 1;

  now = () => this.time;

  /** @param {number} ms @param {() => void} run */
  after = (ms, run) => {
    const id = this.#next++;
    this.#timers.set(id, { due: this.time + ms, run });
    return () => void this.#timers.delete(id);
  };

  get waiting() {
    return this.#timers.size;
  }

  /** @param {number} ms */
  pass(ms) {
    const end = this.time + ms;
    for (;;) {
      const due = [...this.#timers]
        .filter(([, timer]) => timer.due <= end)
        .sort((one, other) => one[1].due - other[1].due)[0];
      if (due === undefined) break;
      const [id, timer] = due;
      this.#timers.delete(id);
      this.time = Math.max(this.time, timer.due);
      timer.run();
    }
    this.time = end;
  }
}

export class HandSocket {
  /** @type {(() => void) | null} */
  onopen = null;
  /** @type {((event: { data: string }) => void) | null} */
  onmessage = null;
  /** @type {((event: { code: number }) => void) | null} */
  onclose = null;
  isClosed = false;
  readyState = 0;
  /** @type {Record<string, unknown>[]} */
  sent = [];

  /** @param {string} url */
  constructor(url) {
    this.url = url;
  }

  close() {
    this.isClosed = true;
    this.readyState = 3;
  }

  /** @param {string} text */
  send(text) {
    this.sent.push(JSON.parse(text));
  }

  open() {
    this.readyState = 1;
    this.onopen?.();
  }

  /** @param {unknown} message */
  hear(message) {
    this.onmessage?.({ data: typeof message === "string" ? message : JSON.stringify(message) });
  }

  /** @param {number} [code] */
  end(code = 1006) {
    this.onclose?.({ code });
  }
}
