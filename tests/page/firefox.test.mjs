/** Firefox: both builds load, answer, follow an edit and undo it, the single file from disk too. Driven by WebDriver BiDi (W3C). */
import assert from "node:assert/strict";
import { spawn } from "node:child_process";
import { existsSync } from "node:fs";
import { mkdtemp, rm } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { follows } from "./follows.mjs";
import { builds, open } from "./harness.mjs";

const { WebSocket } = createRequire(new URL("../../web/package.json", import.meta.url))("ws");
const program = process.env.FIREFOX ?? "/usr/bin/firefox-esr";

/** A Firefox without a window, and a way to ask it things, until `close`. */
async function start() {
  if (!existsSync(program)) throw new Error(`${program} is missing: run \`cargo xtask check\`, which sets everything up, or set FIREFOX`);
  const profile = await mkdtemp(join(tmpdir(), "roulade-firefox-"));
  const browser = spawn(program, ["--headless", "--no-remote", "--profile", profile, "--remote-debugging-port", "0", "about:blank"], { stdio: ["ignore", "ignore", "pipe"] });
  const address = await new Promise((resolve, reject) => {
    let told = "";
    browser.on("exit", () => reject(new Error(`Firefox ended: ${told}`)));
    browser.stderr.on("data", (data) => {
      told += data;
      const [, found] = /WebDriver BiDi listening on (ws:\S+)/.exec(told) ?? [];
      if (found) resolve(found);
    });
  });
  const socket = new WebSocket(`${address}/session`);
  await new Promise((resolve, reject) => socket.on("open", resolve).on("error", reject));
  const waiting = new Map();
  const errors = [];
  socket.on("message", (text) => {
    const told = JSON.parse(text);
    if (told.method === "log.entryAdded" && told.params.level === "error") errors.push(told.params.text);
    const done = waiting.get(told.id);
    waiting.delete(told.id);
    if (told.type === "error") done?.reject(new Error(`${told.error}: ${told.message}`));
    else done?.resolve(told.result);
  });
  let count = 0;
  const ask = (method, params) =>
    new Promise((resolve, reject) => {
      waiting.set(++count, { resolve, reject });
      socket.send(JSON.stringify({ id: count, method, params }));
    });
  await ask("session.new", { capabilities: {} });
  await ask("session.subscribe", { events: ["log.entryAdded"] });
  const { contexts } = await ask("browsingContext.getTree", {});
  const context = contexts[0].context;
  return {
    errors,
    visit: (url) => ask("browsingContext.navigate", { context, url, wait: "complete" }),
    /** What a function of the page returns, as text, once it returns something. */
    async until(expression) {
      for (let i = 0; i < 150; i++) {
        const { result } = await ask("script.evaluate", { expression, target: { context }, awaitPromise: true });
        if (result?.value) return result.value;
        await new Promise((resolve) => setTimeout(resolve, 100));
      }
      throw new Error(`never true: ${expression}`);
    },
    async close() {
      socket.close();
      browser.removeAllListeners("exit");
      const ended = new Promise((resolve) => browser.on("exit", resolve));
      browser.kill();
      await ended;
      await rm(profile, { recursive: true, force: true, maxRetries: 5 });
    },
  };
}

let stand, firefox;
before(async () => {
  stand = await open();
  firefox = await start();
});
after(async () => {
  await firefox?.close();
  await stand?.close();
});

for (const [build, at] of Object.entries(builds)) {
  test(`${build}: answers, follows an edit, undoes it, and draws what takes longer`, async () => {
    await follows(firefox, at(stand.address));
    assert.deepEqual(firefox.errors, []);
  });
}
