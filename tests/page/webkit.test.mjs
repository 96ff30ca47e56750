/** WebKit: both builds load, answer, follow an edit and undo it, the single file from disk too. Driven by WebDriver (W3C), on a screen that nobody sees. */
import { spawn } from "node:child_process";
import { createServer } from "node:net";
import { after, before, test } from "node:test";
import { follows } from "./follows.mjs";
import { builds, open } from "./harness.mjs";

const program = process.env.WEBKIT ?? "/usr/bin/WebKitWebDriver";
const missing = (what, error) => new Error(`${what} does not start (${error.message}): run \`cargo xtask check\`, which sets everything up, or set WEBKIT`);

/** Starts a program, and ends it with `close`. */
function started(what, args, options) {
  const running = spawn(what, args, options);
  const failed = new Promise((_, reject) => running.on("error", (error) => reject(missing(what, error))));
  failed.catch(() => undefined);
  const close = async () => {
    if (running.exitCode !== null || !running.kill()) return;
    await new Promise((resolve) => running.on("exit", resolve));
  };
  return { running, failed, close };
}

/** A screen of its own: its number, once it is there. */
async function screen() {
  const { running, failed, close } = started("Xvfb", ["-displayfd", "3", "-screen", "0", "1280x900x24", "-nolisten", "tcp"], { stdio: ["ignore", "ignore", "ignore", "pipe"] });
  const number = await Promise.race([new Promise((resolve) => running.stdio[3].once("data", (text) => resolve(String(text).trim()))), failed]);
  return { number, close };
}

const freePort = () =>
  new Promise((resolve) => {
    const server = createServer().listen(0, "127.0.0.1", () => {
      const { port } = server.address();
      server.close(() => resolve(port));
    });
  });

const moment = () => new Promise((resolve) => setTimeout(resolve, 100));

/** A WebKit, and a way to ask it things, until `close`. */
async function start() {
  const shown = await screen();
  const port = await freePort();
  const driver = started(program, [`--port=${port}`, "--host=127.0.0.1"], { stdio: "ignore", env: { ...process.env, DISPLAY: `:${shown.number}` } });
  const ask = async (method, path, body) => {
    const answer = await fetch(`http://127.0.0.1:${port}${path}`, { method, ...(body && { body: JSON.stringify(body) }) });
    const { value } = await answer.json();
    if (value?.error) throw new Error(`${value.error}: ${value.message}`);
    return value;
  };
  const listening = async () => {
    for (let i = 0; i < 100; i++) {
      if (await ask("GET", "/status").catch(() => null)) return;
      await moment();
    }
    throw new Error(`${program} did not begin to listen`);
  };
  await Promise.race([listening(), driver.failed]);
  const { sessionId } = await ask("POST", "/session", { capabilities: {} });
  const session = `/session/${sessionId}`;
  return {
    visit: (url) => ask("POST", `${session}/url`, { url }),
    async until(expression) {
      for (let i = 0; i < 300; i++) {
        const told = await ask("POST", `${session}/execute/sync`, { script: `return ${expression}`, args: [] });
        if (told) return told;
        await moment();
      }
      throw new Error(`never true: ${expression}`);
    },
    async close() {
      await ask("DELETE", session).catch(() => undefined);
      await driver.close();
      await shown.close();
    },
  };
}

let stand, webkit;
before(async () => {
  stand = await open();
  webkit = await start();
});
after(async () => {
  await webkit?.close();
  await stand?.close();
});

for (const [build, at] of Object.entries(builds)) {
  test(`${build}: answers, follows an edit, undoes it, and draws what takes longer`, () => follows(webkit, at(stand.address)));
}
