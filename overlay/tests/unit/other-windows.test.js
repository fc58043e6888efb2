// A word between windows of one browser, and a browser that refuses it.

import assert from "node:assert/strict";
import { test } from "node:test";
import { otherWindows } from "../../shared/other-windows.js";

test("a window hears of the others at its court, not of itself nor of other courts", async () => {
  const heard = [];
  const channels = [];
  const open = (name) => {
    const channel = new BroadcastChannel(name);
    channels.push(channel);
    return channel;
  };
  let toldSecond = () => {};
  const second = new Promise((resolve) => (toldSecond = resolve));
  const first = otherWindows("court 1", () => heard.push("first"), open);
  otherWindows("court 1", () => toldSecond(heard.push("second")), open);
  otherWindows("court 2", () => heard.push("court 2"), open);
  first.tell();
  await second;
  for (const channel of channels) channel.close();
  assert.deepEqual(heard, ["second"]);
});

test("a browser that refuses the channel, as Firefox does with site data blocked, is gone on without", (t) => {
  const warned = t.mock.method(console, "warn", () => {});
  const windows = otherWindows(
    "court 1",
    () => assert.fail("nobody can have said anything"),
    () => {
      throw new DOMException("The operation is insecure.", "SecurityError");
    },
  );
  windows.tell();
  assert.match(warned.mock.calls[0].arguments[0], /SecurityError/);
});
