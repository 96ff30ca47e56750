/** What every page test needs: the built page served, a browser, and a record of all that the browser complained of. */
import { existsSync } from "node:fs";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { fileURLToPath, pathToFileURL } from "node:url";

const web = new URL("../../web/", import.meta.url);
const installed = createRequire(new URL("package.json", web));
const { preview } = await import(pathToFileURL(installed.resolve("vite")).href);
const { chromium } = installed("playwright-core");

export const dist = fileURLToPath(new URL("dist/", web));

/** The two builds; the single file must open from a disk, which is stricter than from a server. */
export const builds = {
  "normal build": (served) => served,
  "single file": () => pathToFileURL(`${dist}single/roulade.html`).href,
};

/**
 * Serves dist/ with the server of `cargo xtask show` and starts a browser, until `close`. The browser is `CHROMIUM`, or
 * the system's.
 */
export async function open() {
  const executablePath = process.env.CHROMIUM ?? "/usr/bin/chromium";
  for (const file of [executablePath, `${dist}index.html`, `${dist}single/roulade.html`])
    if (!existsSync(file)) throw new Error(`${file} is missing: run \`cargo xtask check\`, which sets everything up`);

  const server = await preview({
    root: fileURLToPath(web),
    logLevel: "warn",
    preview: { host: "127.0.0.1", port: 0 },
  });
  const browser = await chromium.launch({
    executablePath,
    args: [
      // Tests run as root in containers too, where Chromium's sandbox cannot start and /dev/shm is small.
      "--no-sandbox",
      "--disable-dev-shm-usage",
      "--disable-gpu",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
      "--no-first-run",
    ],
  });
  return {
    address: `http://127.0.0.1:${server.httpServer.address().port}/`,
    browser,
    async close() {
      await browser.close();
      await server.close();
    },
  };
}

/**
 * A fresh page of its own context at `address`, ready, with `complaints` (errors, warnings, policy violations, failed
 * requests) and `requests` (every address asked for), both of which go on growing. It shows the invented pair of cells, unless
 * the address holds other cells or it is to be `bare`. `options` are Playwright's for a context.
 */
export async function visit(browser, address, { bare = false, ...options } = {}) {
  const context = await browser.newContext({ viewport: { width: 1280, height: 900 }, ...options });
  const complaints = [];
  const requests = [];
  context.on("request", (request) => requests.push(request.url()));
  context.on("requestfailed", (request) => complaints.push(`failed: ${request.url()} ${request.failure()?.errorText}`));
  context.on("response", (answer) => answer.status() >= 400 && complaints.push(`${answer.status()}: ${answer.url()}`));
  context.on("weberror", (error) => complaints.push(`thrown: ${error.error().stack}`));
  context.on("console", (line) => {
    if (["error", "warning"].includes(line.type())) complaints.push(`${line.type()}: ${line.text()}`);
  });
  await context.exposeFunction("complain", (words) => complaints.push(words));
  await context.addInitScript(() => {
    addEventListener("securitypolicyviolation", (event) =>
      complain(`policy: ${event.violatedDirective} refused ${event.blockedURI || event.sample}`),
    );
  });

  const page = await context.newPage();
  const pair = !bare && !address.includes("#");
  await page.goto(address + (pair ? "#demo" : ""));
  await ready(page).catch((error) => {
    throw new Error([`${address} did not get ready: ${error.message}`, ...complaints].join("\n"));
  });
  // The address then holds the cells themselves.
  if (pair) await page.waitForFunction(() => location.hash.startsWith("#1."));
  return { page, complaints, requests, close: () => context.close() };
}

/** The text of a file of demo/, or of one beside these tests. */
export const demo = (name) => readFile(new URL(`../../demo/${name}.json`, import.meta.url), "utf8");
export const stored = (name) => readFile(new URL(name, import.meta.url), "utf8");

/** One of the page's own models, "whole" or "first", started in node. */
export async function model(which = "whole") {
  const started = await import(new URL(`model/${which}/roulade_wasm.js`, web).href);
  started.initSync({ module: await readFile(new URL(`model/${which}/roulade_wasm_bg.wasm`, web)) });
  return started;
}

/** The place of one entry in the design sheet, such as "first.cathode.loading". */
export const entry = (page, place) => page.locator(`[data-place="${place}"]`);

export const sentence = async (page) => (await page.locator(".sentence").textContent()).trim();

/** Does something that changes the answer, and waits for the new one. */
export async function changes(page, action) {
  const before = await sentence(page);
  await action();
  await page.waitForFunction((text) => document.querySelector(".sentence").textContent.trim() !== text, before, { timeout: 10_000 });
  return sentence(page);
}

/** What a button saves: the name of the file and its text. */
export async function saved(page, button) {
  const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
  return { name: download.suggestedFilename(), text: await readFile(await download.path(), "utf8") };
}

/** Opens a chapter of the page and brings it into sight, or one fold of the entries. */
export async function chapter(page, id) {
  await page.locator(`#chapter-${id}`).evaluate((details) => {
    details.open = true;
    details.scrollIntoView();
  });
  await page.waitForFunction((name) => document.querySelector(`#chapter-${name} .content`)?.childElementCount > 0, id);
}

export async function fold(page, name) {
  await page.locator(`[data-fold="${name}"]`).evaluate((details) => (details.open = true));
  await page.locator(`[data-fold="${name}"] table`).waitFor();
}

/** Opens every chapter, note, table and fold of the page, and waits until the work that chapters begin is done. */
export async function unfold(page) {
  const open = () => page.evaluate(() => document.querySelectorAll("details:not([open])").forEach((details) => (details.open = true)));
  // What is opened holds more to be opened.
  for (let i = 0; i < 4; i++) {
    await open();
    await page.waitForTimeout(120);
  }
  const materials = page.locator("[data-do=materials][aria-expanded=false]");
  if (await materials.count()) await materials.click();
  // Chapters begin their work once they come into sight.
  for (const one of await page.locator("[data-chapter]").all()) await one.evaluate((details) => details.scrollIntoView());
  const working = () => page.evaluate(() => document.querySelectorAll(".work progress").length);
  for (let i = 0; i < 60 && (await working()); i++) await page.waitForTimeout(250);
  // Work that takes longer is stopped.
  for (const stop of await page.locator(".work button", { hasText: "stop" }).all()) await stop.click({ timeout: 1000 }).catch(() => undefined);
  await open();
  await page.waitForTimeout(200);
  await open();
  // Tables behind pictures are made once they are opened.
  await page.waitForFunction(() => [...document.querySelectorAll("details.behind")].every((one) => one.querySelector("table")));
}

/** Waits until the page has answered: it has a heading, nothing in it says that it is busy, and no request is under way. */
export async function ready(page) {
  await page.locator("h1").first().waitFor({ timeout: 10_000 });
  await page.waitForFunction(() => document.querySelector("[aria-busy=true]") === null, null, { timeout: 10_000 });
  await page.waitForLoadState("networkidle", { timeout: 10_000 });
}

/** What axe finds wrong, one line per rule and element; injected by the driver, so the page's policy stays in force. */
export async function barriers(page) {
  await page.evaluate(await readFile(installed.resolve("axe-core/axe.min.js"), "utf8"));
  const { violations } = await page.evaluate(() => axe.run());
  return violations.flatMap(({ id, help, nodes }) => nodes.map(({ target }) => `${id} (${help}): ${target.join(" ")}`));
}
