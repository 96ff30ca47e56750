/** Long work: contributions, claims, readings, draws, maps and the report are answered in a worker, with the model's own figures. */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { after, before, test } from "node:test";
import { builds, chapter, fold, open, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const press = (page, section, text) => page.locator(`#${section} button`, { hasText: text }).first().click();

test("contributions are answered and add to the whole; an entry can be given to another change", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await chapter(page, "part");
  await page.waitForSelector("#contributions-picture");
  await page.locator("#contributions-picture summary").click();
  await page.waitForSelector("#contributions-picture tbody tr");
  const rows = await page.locator("#contributions-picture tbody tr").evaluateAll((all) => all.map((row) => [...row.children].map((cell) => cell.textContent)));
  const contributions = rows.map((row) => Number(row[1].replace("−", "-")));
  const whole = contributions.pop();
  assert.ok(Math.abs(whole - contributions.reduce((sum, one) => sum + one, 0)) < 0.01 * Math.abs(whole), rows.join("; "));
  assert.equal(await page.locator("#contributions-picture [data-change]").count(), contributions.length + 1);
  await page.locator("#contributions summary", { hasText: "What belongs" }).click();
  const move = page.locator("#contributions td select").first();
  await move.selectOption({ index: 1 });
  await page.waitForFunction(() => document.querySelector("#contributions .old"));
  await page.waitForFunction(() => !document.querySelector("#contributions .old"), null, { timeout: 60_000 });
  assert.equal(await page.locator("#contributions .problems").count(), 0);
  assert.deepEqual(complaints, []);
  await close();
});

test("a claim is weighed, and one that cannot be read is told in words", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["single file"]());
  await chapter(page, "claim");
  await page.fill("#claim-text", "at least 9000 Wh/L of the cell");
  await page.waitForSelector("#claim .finding.contradicted", { timeout: 60_000 });
  assert.ok((await page.locator("#claim tbody tr").count()) > 5);
  for (const example of await page.locator("#claim-examples option").evaluateAll((all) => all.map(({ value }) => value))) {
    await page.fill("#claim-text", example);
    await page.waitForTimeout(400);
    await page.waitForFunction(() => document.querySelector("#claim .work progress") === null && !document.querySelector("#claim .old"), null, { timeout: 60_000 });
    assert.equal(await page.locator("#claim .problems").count(), 0, example);
  }
  await page.fill("#claim-text", "at least 9000 bananas");
  await page.waitForSelector("#claim .problems li");
  assert.equal(await page.locator("#claim .finding").count(), 0, "no old verdict under a new error");
  assert.match(await page.locator("#claim .problems").textContent(), /bananas/);
  assert.deepEqual(complaints, []);
  await close();
});

test("readings are held against the sheet, the planted one is named, and the reconciled sheet is taken", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await chapter(page, "readings");
  await page.locator("#bench-readings").fill(await readFile(new URL("../../demo/bench.csv", import.meta.url), "utf8"));
  await page.locator("#bench-readings").blur();
  await page.waitForSelector("#bench-picture", { timeout: 60_000 });
  assert.match(await page.locator("#bench h3 + ul").first().textContent(), /anode width/);
  await page.waitForSelector("#bench h3 ~ p.finding");
  await page.locator("[data-do=accept]").click();
  await page.waitForFunction(() => document.querySelector(".said").textContent.includes("reconciled"));
  assert.deepEqual(complaints, []);
  await close();
});

/** The rows of a bench sheet as a spreadsheet in another country has them. */
const abroad = (text, between) => {
  const [heads, ...rows] = text.trim().split("\n").map((row) => row.split(";"));
  const numbers = ["value", "uncertainty"].map((name) => heads.indexOf(name));
  const cells = rows.map((row) => row.map((cell, i) => (numbers.includes(i) ? cell.replace(".", ",") : cell)));
  return [heads, ...cells].map((row) => row.join(between)).join("\r\n");
};

test("what a spreadsheet puts on the clipboard is read as it comes", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await page.context().grantPermissions(["clipboard-read", "clipboard-write"]);
  await chapter(page, "readings");
  const field = page.locator("#bench-readings");
  const paste = async (text) => {
    await field.fill("");
    await field.blur();
    await page.waitForFunction(() => !document.querySelector("#bench-picture"));
    await page.evaluate((table) => navigator.clipboard.writeText(table), text);
    await field.press("Control+V");
    await field.blur();
    // What stands there until then is the answer to the text before.
    await page.waitForFunction(() => document.querySelector("#bench-picture") && !document.querySelector("#bench .old, #bench .work progress"), null, { timeout: 60_000 });
    return {
      finding: await page.locator("#bench .finding").first().textContent(),
      problems: await page.locator("#bench .problems li").allTextContents(),
    };
  };
  const plain = await readFile(new URL("../../demo/bench.csv", import.meta.url), "utf8");
  const expected = await paste(plain);
  assert.match(expected.finding, /85 readings/);
  assert.deepEqual(expected.problems, []);
  const units = { "the letter mu": "\u03bc", "the micro sign": "\u00b5" };
  for (const between of ["\t", ";"]) {
    for (const [what, micro] of Object.entries(units)) {
      const text = abroad(plain, between).replace(/[\u03bc\u00b5]/g, micro);
      assert.ok(text.includes(micro) && /\d,\d/.test(text), "something is different");
      assert.deepEqual(await paste(text), expected, `${JSON.stringify(between)}, ${what}`);
    }
  }
  // A number whose marks may group thousands is not guessed at; all others are read.
  const length = "cathode length\t3763\t";
  const grouped = abroad(plain, "\t");
  assert.ok(grouped.includes(length));
  for (const [written, ways] of [["3.763", /3\.763 or 3763/], ["3 763", /3763, or two numbers/], ["3.763,0", /3763\.0 or 3\.763/]]) {
    const { finding, problems } = await paste(grouped.replace(length, length.replace("3763", written)));
    assert.match(finding, /84 readings/);
    assert.equal(problems.length, 1, problems.join("; "));
    assert.match(problems[0], ways);
  }
  assert.deepEqual(complaints, []);
  await close();
});

test("the map is drawn, read by keyboard, and a common size is set beside the cell", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await chapter(page, "size");
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

test("what the map holds is chosen, refused in place, kept in the link, and held by a size that is set beside", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  const address = page.url();
  await chapter(page, "size");
  await page.waitForSelector("#sizes-picture .contour");
  // The cell in its own can is the same whatever is held; the common sizes are not.
  const common = () => page.locator("#sizes .wide tbody").innerText();
  const redrawn = async (action) => {
    const before = await common();
    await action();
    await page.waitForFunction((words) => document.querySelector("#sizes .wide tbody").innerText !== words, before);
  };
  await page.locator("#sizes summary", { hasText: "What is held" }).click();
  assert.match(await page.locator("#held-wall option").first().textContent(), /0\.42 ± 0\.01 mm/);
  await redrawn(() => page.getByLabel("masses of parts").selectOption("as they are"));

  // Another value is typed; a wrong one is told beside it, and the last good map stays.
  await page.locator("#held-void_height").selectOption("another");
  const space = page.locator("#held-void_height-value");
  await page.waitForFunction(() => document.activeElement.id === "held-void_height-value");
  const good = await common();
  for (const [wrong, words] of [["3 g", /mass/], ["-1 mm", /zero or more/], ["1 ± 0.1 mm", /with an uncertainty/]]) {
    await space.fill(wrong);
    await space.press("Tab");
    await page.waitForFunction((text) => document.querySelector("#sizes .held .problem")?.textContent.includes(text), wrong);
    assert.match(await page.locator(`[id="${await space.getAttribute("aria-describedby")}"]`).textContent(), words);
    assert.equal(await space.getAttribute("aria-invalid"), "true");
    assert.equal(await page.locator("#sizes .work .problems").count(), 0);
    assert.equal(await common(), good);
  }
  await redrawn(() => space.fill("4 mm").then(() => space.press("Tab")));
  assert.equal(await page.locator("#sizes .problem").count(), 0);

  // So are the ends of the map.
  const from = page.locator("#sizes-0-from");
  await from.fill("14 kg");
  await from.press("Tab");
  await page.waitForFunction(() => document.querySelector("#sizes-0-from").ariaInvalid === "true");
  await from.fill("20 mm");
  await from.press("Tab");
  await page.waitForFunction(() => document.querySelector("#sizes-0-from").ariaInvalid === "false");
  await page.locator("#sizes-figure").selectOption("gravimetric");
  await page.waitForURL((url) => url.href !== address);
  await page.waitForTimeout(500);

  await page.reload();
  await chapter(page, "size");
  await page.waitForFunction(() => document.querySelector("#held-void_height-value")?.value === "4 mm");
  assert.equal(await page.locator("#held-parts").inputValue(), "as they are");
  assert.equal(await from.inputValue(), "20 mm");
  assert.match(await page.locator("#sizes summary").first().textContent(), /2 otherwise/);
  await page.waitForSelector("#sizes-picture .contour");
  assert.match(await page.locator("#sizes-picture h2").textContent(), /gravimetric/);
  await page.locator("#sizes button", { hasText: "set beside" }).last().click();
  await fold(page, "Parts");
  await page.waitForFunction(() => document.querySelector('[data-place="second.void_height"]')?.value === "4 mm", null, { timeout: 10_000 });
  assert.equal(await page.locator("#messages").textContent(), "");
  assert.deepEqual(complaints, []);
  await close();
});

test("long work can be stopped, and a report is one file that holds the answer", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  // Two cells that differ in nearly everything: their changes are many.
  await page.locator("[data-demo=size]").click();
  await chapter(page, "part");
  await page.locator("#contributions button", { hasText: "stop" }).click();
  await page.waitForFunction(() => document.querySelector("#contributions").textContent.includes("Stopped"));
  await page.locator("[data-demo=part]").click();
  await chapter(page, "files");
  await press(page, "files", "Write a report");
  const saved = page.locator("[data-do=report]");
  await saved.waitFor({ timeout: 60_000 });
  const [download] = await Promise.all([page.waitForEvent("download"), saved.click()]);
  const report = await readFile(await download.path(), "utf8");
  assert.match(report, /^<!doctype html>/i);
  assert.match(report, /Marram A/);
  assert.doesNotMatch(report, /<script|https?:\/\/[^ ]*\.(js|css)/);
  assert.deepEqual(complaints, []);
  await close();
});
