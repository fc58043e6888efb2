/**
 * A host of one's own: `rallytide serve` on a free port, with a data folder that is gone after
 * the test. It is stopped when the test ends, however it ends.
 */
import { spawn } from "node:child_process";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { freshFolder } from "./folders.mjs";
import { RALLYTIDE, asLines, collected, environment } from "./program.mjs";
import { inTime, until } from "./wait.mjs";

export class Host {
  #child;
  #ended;

  /**
   * @param {import('node:test').TestContext} t the test that owns the host
   * @param {{ data?: string, port?: number, command?: string[], shell?: string, env?: Record<string, string> }} [options] `data`: a
   *   folder that exists already; `command`: other arguments than those of `serve`; `shell`: what a
   *   shell does before it becomes the host; `env`: what its environment holds besides
   * @returns {Promise<Host>} a host that serves
   */
  static async start(t, { data, port = 0, command, shell, env = {} } = {}) {
    const host = new Host();
    host.data = data ?? (await freshFolder(t));
    const listen = ["--listen", `127.0.0.1:${port}`];
    const args = command ?? ["serve", ...listen, "--data", host.data];
    if (shell === undefined) host.#start(RALLYTIDE, args, env);
    else host.#start("sh", ["-c", `${shell}; exec "$@"`, "sh", RALLYTIDE, ...args], env);
    t.after(() => host.kill());
    const link = await until(
      "the host to print its links",
      () => {
        if (host.#child.exitCode !== null) throw new Error(`the host ended: ${host.stderr()}`);
        return /http:\/\/([\w.:[\]]+)\/\s/.exec(host.stdout());
      },
      { seen: () => ({ stdout: host.stdout(), stderr: host.stderr() }) },
    );
    host.address = link[1];
    host.port = Number(host.address.split(":").at(-1));
    const response = await inTime("the first answer of the host", host.get("/courts"), { seen: host.stderr });
    if (response.status !== 200) throw new Error(`the host answers ${response.status}`);
    return host;
  }

  #start(program, args, env) {
    this.#child = spawn(program, args, { env: { ...environment(), ...env }, stdio: ["ignore", "pipe", "pipe"] });
    this.stdout = collected(this.#child.stdout);
    this.stderr = collected(this.#child.stderr);
    this.#ended = new Promise((resolve, reject) => {
      this.#child.on("error", reject);
      this.#child.on("close", (status, signal) => resolve({ status, signal }));
    });
  }

  /** @param {string} path such as `/courts/1/now` */
  http(path) {
    return `http://${this.address}${path}`;
  }

  /** @param {string} path such as `/courts/1/feed` */
  ws(path) {
    return `ws://${this.address}${path}`;
  }

  /** @param {string} path @param {Record<string, string>} [headers] */
  get(path, headers = {}) {
    return fetch(this.http(path), { headers });
  }

  /** @param {string} [court] @returns {Promise<string>} the snapshot as it came */
  async now(court = "1") {
    const response = await this.get(`/courts/${court}/now`);
    if (response.status !== 200) throw new Error(`\`now\` of court ${court} answers ${response.status}`);
    return response.text();
  }

  /** @param {string} match @returns {string} the log of a match */
  logFile(match) {
    return join(this.data, `${match}.jsonl`);
  }

  /**
   * @param {string} match
   * @returns {Promise<any[]>} what the log holds after the header, a torn last line left out
   */
  async logged(match) {
    const text = await readFile(this.logFile(match), "utf8");
    const whole = text.slice(0, text.lastIndexOf("\n") + 1);
    return asLines(whole)
      .slice(1)
      .map((line) => JSON.parse(line));
  }

  /** Asks the host to stop, as a person or the system would. */
  async stop() {
    this.#child.kill("SIGTERM");
    const { status, signal } = await inTime("the host to stop", this.#ended, { seen: this.stderr });
    if (status !== 0) throw new Error(`the host ended with ${status ?? signal}: ${this.stderr()}`);
  }

  /** Asks the host to stop and waits for nothing. */
  askToStop() {
    this.#child.kill("SIGTERM");
  }

  /** Ends the host at once (`kill -9`), whatever it is doing. */
  async kill() {
    this.#child.kill("SIGKILL");
    await inTime("the host to be gone", this.#ended);
  }

  /** Waits until the host has ended by itself. */
  ended() {
    return inTime("the host to end", this.#ended, { seen: this.stderr });
  }
}
