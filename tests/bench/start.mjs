/**
 * How long from starting the program to its first page served, and to the readings of a chart,
 * with the plugins compiled before and without; beside each, in the same run and in turn, a bare
 * Node server that serves one page. Prints medians; asserts nothing.
 *
 *     cargo build --release -p rallytide
 *     RALLYTIDE=../target/release/rallytide node bench/start.mjs [CHART]
 *
 * Says first which program it measures. A page counts as served when the answer's head is here;
 * a program that is not there yet is asked again every 2 ms.
 */
import { spawn } from "node:child_process";
import { createServer, get } from "node:http";
import { mkdir, mkdtemp, rm } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { RALLYTIDE, environment } from "../support/program.mjs";

const CHART = process.argv[2] ?? fileURLToPath(new URL("../../demo-streams/harbour-final.jsonl", import.meta.url));
/** Starts with the plugins compiled before, and without. */
const TURNS = { warm: 11, cold: 5 };
const AGAIN_MS = 2;
/** The least that serves a page: prints nothing, ends by a signal. */
const BARE = 'require("http").createServer((_, answer) => answer.end("page")).listen(+process.argv[1], "127.0.0.1")';

const folder = await mkdtemp(join(tmpdir(), "rallytide-start-"));
try {
  console.log(`measured: ${RALLYTIDE}, on ${CHART}`);
  const times = {
    "bare Node server": [],
    "pages, compiled before": [],
    "pages, compiled now": [],
    "readings, compiled before": [],
    "readings, compiled now": [],
  };
  for (let turn = 0; turn < TURNS.warm; turn += 1) {
    times["bare Node server"].push(await served(process.execPath, (port) => ["-e", BARE, String(port)], environment()));
    for (const how of turn < TURNS.cold ? ["now", "before"] : ["before"]) {
      const env = await kept(how);
      times[`pages, compiled ${how}`].push(
        await served(
          RALLYTIDE,
          (port) => ["serve", "--listen", `127.0.0.1:${port}`, "--data", join(folder, "data")],
          env,
        ),
      );
      times[`readings, compiled ${how}`].push(await ended(["readings", CHART], await kept(how)));
    }
  }
  for (const [what, all] of Object.entries(times)) {
    all.sort((one, other) => one - other);
    console.log(
      `${what}: ${all[all.length >> 1].toFixed(0)} ms (${all[0].toFixed(0)} to ${all.at(-1).toFixed(0)}, ${all.length} times)`,
    );
  }
} finally {
  await rm(folder, { recursive: true, force: true });
}

/** @param {'now' | 'before'} how @returns {Promise<NodeJS.ProcessEnv>} with an empty cache, or one that an earlier start has filled */
async function kept(how) {
  const cache = join(folder, "cache");
  if (how === "now") await rm(cache, { recursive: true, force: true });
  await Promise.all([mkdir(cache, { recursive: true }), mkdir(join(folder, "data"), { recursive: true })]);
  return { ...environment(), XDG_CACHE_HOME: cache };
}

/** @param {string} program @param {(port: number) => string[]} args @param {NodeJS.ProcessEnv} env @returns {Promise<number>} milliseconds */
async function served(program, args, env) {
  const port = await freePort();
  const began = performance.now();
  const child = spawn(program, args(port), { env, stdio: "ignore" });
  const over = new Promise((resolve) => child.once("exit", resolve));
  while (!(await answers(port))) {
    if (child.exitCode !== null) throw new Error(`\`${program} ${args(port).join(" ")}\` ended by itself`);
    await new Promise((resolve) => setTimeout(resolve, AGAIN_MS));
  }
  const took = performance.now() - began;
  child.kill();
  await over;
  return took;
}

/** @param {number} port @returns {Promise<boolean>} */
function answers(port) {
  return new Promise((resolve) => {
    const asked = get({ host: "127.0.0.1", port, agent: false }, (answer) => {
      answer.resume();
      resolve(answer.statusCode === 200);
    });
    asked.once("error", () => resolve(false));
  });
}

/** @param {string[]} args @param {NodeJS.ProcessEnv} env @returns {Promise<number>} milliseconds of the whole process */
async function ended(args, env) {
  const began = performance.now();
  const child = spawn(RALLYTIDE, args, { env, stdio: "ignore" });
  const status = await new Promise((resolve) => child.once("exit", resolve));
  if (status !== 0) throw new Error(`\`rallytide ${args.join(" ")}\` ended with ${status}`);
  return performance.now() - began;
}

/** @returns {Promise<number>} */
async function freePort() {
  const server = createServer().listen(0, "127.0.0.1");
  await new Promise((resolve) => server.once("listening", resolve));
  const { port } = /** @type {import('node:net').AddressInfo} */ (server.address());
  await new Promise((resolve) => server.close(resolve));
  return port;
}
