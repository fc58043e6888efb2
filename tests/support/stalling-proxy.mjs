/**
 * A dead Wi-Fi: a way to the host on which nothing passes any more while every connection stays
 * open. Closing one, which is all a stopped host does, is told to both sides; this is not.
 */
import { createServer, connect } from "node:net";

export class StallingProxy {
  #server;
  /** @type {Set<{ near: import('node:net').Socket, far: import('node:net').Socket | null }>} */
  #pairs = new Set();
  #stalled = false;

  /**
   * @param {import('node:test').TestContext} t the test that owns it
   * @param {number} port of the host
   * @returns {Promise<StallingProxy>} that lets everything pass
   */
  static async start(t, port) {
    const proxy = new StallingProxy();
    proxy.#server = createServer((near) => proxy.#take(near, port));
    await new Promise((resolve) => proxy.#server.listen(0, "127.0.0.1", resolve));
    proxy.port = proxy.#server.address().port;
    t.after(() => proxy.#end());
    return proxy;
  }

  #take(near, port) {
    const pair = { near, far: null };
    this.#pairs.add(pair);
    near.on("error", () => {});
    near.on("close", () => {
      this.#pairs.delete(pair);
      pair.far?.destroy();
    });
    // Whoever connects while nothing passes is never answered.
    if (this.#stalled) return;
    pair.far = connect(port, "127.0.0.1");
    pair.far.on("error", () => {});
    pair.far.on("close", () => near.destroy());
    near.pipe(pair.far);
    pair.far.pipe(near);
  }

  /** From now on nothing passes, and nobody is told. */
  stall() {
    this.#stalled = true;
    for (const { near, far } of this.#pairs) {
      near.unpipe();
      near.pause();
      far?.unpipe();
      far?.pause();
    }
  }

  /** New connections pass again; what was open is as dead as it was. */
  flow() {
    this.#stalled = false;
  }

  #end() {
    for (const { near, far } of this.#pairs) {
      near.destroy();
      far?.destroy();
    }
    return new Promise((resolve) => this.#server.close(resolve));
  }
}
