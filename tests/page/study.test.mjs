/** Long work: worths, claims, readings, draws, maps and the report are answered in a worker, with the model's own figures. */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";
import { builds, open, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const press = (page, section, text) => page.locator(`#${section} button`, { hasText: text }).first().click();

test("worths are answered and add to the whole; an entry can be given to another change", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await press(page, "worth", "work it out");
  await page.waitForSelector("#worth-picture");
  await page.locator("#worth-picture summary").click();
  await page.waitForSelector("#worth-picture tbody tr");
  const rows = await page.locator("#worth-picture tbody tr").evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));
  const worths = rows.map((row) => Number(row[1].replace("−", "-")));
  const whole = worths.pop();
  assert.ok(Math.abs(whole - worths.reduce((sum, worth) => sum + worth, 0)) < 0.01 * Math.abs(whole), rows.join("; "));
  assert.equal(await page.locator("#worth-picture [data-change]").count(), worths.length + 1);
  await page.locator("#worth summary", { hasText: "What belongs" }).click();
  const move = page.locator("#worth td select").first();
  await move.selectOption({ index: 1 });
  await page.waitForFunction(() => document.querySelector("#worth .work").textContent.includes("changed since"));
  await press(page, "worth", "work it out again");
  await page.waitForFunction(() => document.querySelector("#worth .work progress") === null);
  assert.equal(await page.locator("#worth .problems").count(), 0);
  assert.deepEqual(complaints, []);
  await close();
});

test("a claim is weighed, and one that cannot be read is told in words", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["single file"]());
  await page.fill("#claim-text", "at least 9000 Wh/L of the cell");
  await press(page, "claim", "check it");
  await page.waitForSelector("#claim .told.contradicted", { timeout: 60_000 });
  assert.ok((await page.locator("#claim tbody tr").count()) > 5);
  await page.fill("#claim-text", "at least 9000 bananas");
  await press(page, "claim", "check it");
  await page.waitForSelector("#claim .problems li");
  assert.match(await page.locator("#claim .problems").textContent(), /bananas/);
  assert.deepEqual(complaints, []);
  await close();
});

test("readings are held against the sheet, the planted one is doubted, and the reconciled sheet is taken", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await page.locator("#bench-readings").fill(await readFile(new URL("../../demo/bench.csv", import.meta.url), "utf8"));
  await page.locator("#bench-readings").blur();
  await press(page, "bench", "hold them");
  await page.waitForSelector("#bench-picture", { timeout: 60_000 });
  assert.match(await page.locator("#bench h3 + ul").first().textContent(), /anode width/);
  await press(page, "bench", "rank the readings");
  await page.waitForSelector("#bench h3 ~ p.told");
  await page.locator("[data-do=accept]").click();
  await page.waitForFunction(() => document.querySelector("#files .said").textContent.includes("reconciled"));
  assert.deepEqual(complaints, []);
  await close();
});

test("the map is drawn, read by keyboard, and a common size is set beside the cell", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await press(page, "sizes", "draw it");
  await page.waitForSelector("#sizes-picture .contour");
  const before = await page.locator("#sizes .readout").textContent();
  await page.locator("#sizes input[type=range]").first().focus();
  await page.keyboard.press("ArrowLeft");
  await page.waitForFunction((words) => document.querySelector("#sizes .readout").textContent !== words, before);
  await page.locator("#sizes button", { hasText: "set beside" }).first().click();
  await page.waitForFunction(() => /\d+ × \d+/.test(document.querySelector("#answer").textContent) || document.querySelector("#messages").textContent !== "", null, { timeout: 10_000 });
  assert.equal(await page.locator("#messages").textContent(), "");
  assert.deepEqual(complaints, []);
  await close();
});

test("long work can be stopped, and a report is one file that holds the answer", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await press(page, "spread", "draw");
  await page.locator("#spread button", { hasText: "stop" }).click();
  await page.waitForFunction(() => document.querySelector("#spread .work").textContent.includes("Stopped"));
  await press(page, "files", "write a report");
  const saved = page.locator("[data-do=report]");
  await saved.waitFor({ timeout: 60_000 });
  const [download] = await Promise.all([page.waitForEvent("download"), saved.click()]);
  const report = await readFile(await download.path(), "utf8");
  assert.match(report, /^<!doctype html>/i);
  assert.match(report, /Brindle series 1/);
  assert.doesNotMatch(report, /<script|https?:\/\/[^ ]*\.(js|css)/);
  assert.deepEqual(complaints, []);
  await close();
});
