/**
 * The plugins of `guests/`, built with plain cargo when the first test needs one, and plugin folders
 * that tests change while a host watches them.
 */
import { spawn } from "node:child_process";
import { readFile, rename, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { collected } from "./program.mjs";
import { inTime, until } from "./wait.mjs";

const GUESTS = fileURLToPath(new URL("../guests/", import.meta.url));
const TARGET = join(tmpdir(), "rallytide-tests-guests");
const BUILD_MS = 300_000;

let building;

/** Cargo's own lock keeps processes apart that build at the same time. */
async function build() {
  const args = [
    "build",
    "--quiet",
    "--release",
    "--locked",
    "--examples",
    "--target",
    "wasm32-unknown-unknown",
    "--target-dir",
    TARGET,
  ];
  const { CARGO_TARGET_DIR: _, RUSTFLAGS: __, ...env } = process.env;
  const child = spawn("cargo", args, { cwd: GUESTS, env, stdio: "pipe" });
  const stderr = collected(child.stderr);
  const ended = new Promise((resolve, reject) => child.on("error", reject).on("close", resolve));
  try {
    const status = await inTime("the guests to be built", ended, { within: BUILD_MS, seen: stderr });
    if (status !== 0) throw new Error(`the guests could not be built: ${stderr()}`);
  } finally {
    child.kill("SIGKILL");
  }
}

/** @param {string} name as in `guests/Cargo.toml` @returns {Promise<Buffer>} the built file */
export async function guest(name) {
  building ??= build();
  await building;
  return readFile(join(TARGET, "wasm32-unknown-unknown/release/examples", `${name}.wasm`));
}

/** Puts a file into a folder as a careful program does: whole, under another name, then in its place. */
export async function put(folder, file, bytes) {
  await writeFile(join(folder, `${file}.part`), bytes);
  await rename(join(folder, `${file}.part`), join(folder, file));
}

/** @param {string} folder @param {string} file */
export const remove = (folder, file) => rm(join(folder, file));

/** What a host says about its plugins, and waiting for what it will say. */
export class PluginReport {
  /** @param {import('./host.mjs').Host} host */
  constructor(host) {
    this.host = host;
  }

  async read() {
    const response = await this.host.get("/plugins");
    if (response.status !== 200) throw new Error(`\`/plugins\` answers ${response.status}`);
    return response.json();
  }

  /** @returns {Promise<any>} the plugin as it is on a court, `undefined` if it is not there */
  async onCourt(plugin, court = "1") {
    const { courts } = await this.read();
    return courts[court]?.find((one) => one.plugin === plugin);
  }

  /** Waits for the attempt number `count` and gives it. */
  async attempt(count) {
    let seen;
    const attempts = await until(
      `attempt ${count} to load a plugin`,
      async () => {
        seen = (await this.read()).attempts;
        return seen.length >= count && seen;
      },
      { seen: () => seen },
    );
    return attempts[count - 1];
  }

  /** @returns {Promise<Response>} the answer to switching a plugin */
  switch(plugin, on) {
    return fetch(this.host.http(`/plugins/${plugin}/switch`), {
      method: "PUT",
      headers: { "content-type": "application/json" },
      body: JSON.stringify({ on }),
    });
  }
}
