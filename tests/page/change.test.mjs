/** Every change of a sheet is the model's: what belongs to an entry goes along, in the order in which it was asked for. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { deflateRawSync } from "node:zlib";
import { builds, changes, chapter, demo, entry, fold, open, saved, sentence, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const link = (state) => `#1.${deflateRawSync(JSON.stringify(state)).toString("base64url")}`;
const PATHS = ["cathode.loading", "cathode.thickness", "parts[gasket].mass"];

/** A sheet as a fit leaves it: three of its quantities move together. */
const fitted = async () => ({ ...JSON.parse(await demo("marram-small")), correlated: { paths: PATHS, coefficients: [[0.6], [0.1, 0.2]] } });
const visited = async (state, options) => visit(stand.browser, builds["normal build"](stand.address) + link({ version: 1, ...state }), options);

/** The sheet of a cell as the page would save it. */
const sheet = async (page, side = "first") => JSON.parse((await saved(page, page.locator(`[data-save=${side}]`))).text);
/** What is undone last is drawn in the next frame, and so is that nothing more can be. */
const undo = async (page) => {
  await page.locator("[data-do=undo]").click();
  await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(() => requestAnimationFrame(resolve))));
};
const redo = (page) => page.locator("[data-do=redo]").click();
/** Waits until the page owes no answer. */
const still = (page) => page.waitForFunction(() => !document.querySelector("[aria-busy=true]"));

test("a fitted sheet: what moves together goes on doing so, and what became exact takes no part", async () => {
  const { page, complaints, close } = await visited({ first: await fitted() });
  await chapter(page, "files");
  await fold(page, "Parts");
  const begun = await sheet(page);

  // An entry beside them changes nothing of it.
  await changes(page, () => entry(page, "first.can.wall").fill("0.28 ± 0.01 mm"));
  assert.deepEqual((await sheet(page)).correlated, begun.correlated);
  await entry(page, "first.can.wall").blur();

  // A part that gets another name takes its coefficients along; the one before it goes.
  await entry(page, "first.parts[3].name").fill("seal");
  await entry(page, "first.parts[3].name").blur();
  await page.locator('[data-out="first.0"]').click();
  await page.waitForFunction(() => document.querySelector('[data-place="first.parts[2].name"]')?.value === "seal");
  assert.deepEqual((await sheet(page)).correlated, { paths: [...PATHS.slice(0, 2), "parts[seal].mass"], coefficients: [[0.6], [0.1, 0.2]] });

  // An exact text leaves them, a wrong one does not; neither leaves the answer without a field to mend it.
  await entry(page, "first.cathode.loading").fill("21.6 gram");
  await page.locator("#stale").waitFor();
  assert.equal((await sheet(page)).correlated.paths.length, 3);
  assert.match(await page.locator('[id^="problem-first-cathode-loading"]').textContent(), /21\.6 gram/);
  await entry(page, "first.cathode.loading").fill("21.6 mg/cm²");
  await page.locator("#stale").waitFor({ state: "detached" });
  await still(page);
  const { correlated, cathode } = await sheet(page);
  assert.deepEqual(correlated, { paths: ["cathode.thickness", "parts[seal].mass"], coefficients: [[0.2]] });
  assert.deepEqual(cathode.loading, { value: "21.6 mg/cm²", from: "measured" }, "its origin stays");
  await entry(page, "first.cathode.loading").blur();

  for (let i = 0; i < 5; i++) await undo(page);
  await page.waitForFunction(() => document.querySelector("[data-do=undo]").disabled);
  assert.deepEqual(await sheet(page), begun);
  for (let i = 0; i < 5; i++) await redo(page);
  assert.deepEqual((await sheet(page)).correlated, correlated);
  assert.deepEqual(complaints, []);
  await close();
});

test("a mix: a component comes, gets its material and its share, and goes", async () => {
  const { page, complaints, close } = await visited({ first: await fitted() });
  await chapter(page, "files");
  await fold(page, "Anode");
  const begun = await sheet(page);
  await page.locator('[data-add-component="first.anode"]').click();
  const material = entry(page, "first.anode.mix[4].material");
  await material.waitFor();
  await page.waitForFunction(() => document.activeElement.dataset.place === "first.anode.mix[4].material");
  // A second one without a name is not there: the first is asked for.
  await page.locator('[data-add-component="first.anode"]').click();
  await material.fill("carbon black");
  await material.blur();
  await page.locator("#stale").waitFor();
  await entry(page, "first.anode.mix[4].share").fill("1.5 %");
  await page.locator("#stale").waitFor({ state: "detached" });
  await page.locator('[data-origin="first.anode.mix[4].share"]').selectOption("measured");
  await page.waitForFunction(() => document.querySelector('[data-origin="first.anode.mix[4].share"]').value === "measured");
  await still(page);
  assert.deepEqual((await sheet(page)).anode.mix.slice(4), [{ material: "carbon black", share: { value: "1.5 %", from: "measured" } }]);
  await page.locator('[data-origin="first.anode.mix[1].share"]').selectOption("stated");
  await page.waitForFunction(() => document.querySelector('[data-origin="first.anode.mix[1].share"]').value === "stated");
  await still(page);
  assert.deepEqual((await sheet(page)).anode.mix[1].share, { ...begun.anode.mix[1].share, from: "stated" });
  await page.getByLabel(/^take out: carbon black, anode/).click();
  await material.waitFor({ state: "detached" });
  assert.equal((await sheet(page)).anode.mix.length, 4);
  while (await page.locator("[data-do=undo]").isEnabled()) await undo(page);
  assert.deepEqual(await sheet(page), begun);
  assert.deepEqual(complaints, []);
  await close();
});

test("a bare share of a new component is in its unit before it was ever answered, and so is one that was left out", async () => {
  const cell = { can: { size: "21 × 70" }, cathode: { mix: [{ material: "NMC811" }] }, anode: { mix: [{ material: "graphite" }] } };
  const { page, complaints, close } = await visited({ first: cell });
  await chapter(page, "files");
  await fold(page, "Anode");
  await page.locator('[data-add-component="first.anode"]').click();
  const share = entry(page, "first.anode.mix[1].share");
  await share.waitFor();
  // Its material has no name yet, so the model has not answered about it.
  await share.fill("2.5");
  await share.blur();
  await still(page);
  await entry(page, "first.anode.mix[1].material").fill("carbon black");
  await entry(page, "first.anode.mix[1].material").blur();
  await still(page);
  await entry(page, "first.anode.mix[0].share").fill("97.5");
  await entry(page, "first.anode.mix[0].share").blur();
  await still(page);
  assert.deepEqual((await sheet(page)).anode.mix.map(({ share }) => share.value ?? share), ["97.5 %", "2.5 %"]);
  assert.deepEqual(complaints, []);
  await close();
});

test("entries of tabs that stand in: all tabs are written, and the entry is the user's", async () => {
  const cell = { can: { size: "32 × 70" }, collection: "tabs", cathode: { mix: [{ material: "NMC811" }] }, anode: { mix: [{ material: "graphite" }] } };
  const { page, complaints, close } = await visited({ first: cell });
  await chapter(page, "files");
  await fold(page, "Current path");
  const tabs = await page.locator('[data-place^="first.current_path.cathode.tabs["][data-place$=".width"]').count();
  assert.ok(tabs > 1, `${tabs} tabs`);
  await entry(page, "first.current_path.cathode.tabs[1].width").fill("9 mm");
  await page.waitForFunction(() => !document.querySelector('[data-place="first.current_path.cathode.tabs[1].width"]').classList.contains("standard"));
  const written = (await sheet(page)).current_path.cathode.tabs;
  assert.equal(written.length, tabs);
  assert.equal(written[1].width, "9 mm");
  assert.deepEqual(complaints, []);
  await close();
});

test("an emptied can is mended where it was emptied", async () => {
  const cell = { can: { diameter: "21.2 mm", height: "70 mm" }, cathode: { mix: [{ material: "NMC811" }] }, anode: { mix: [{ material: "graphite" }] } };
  const { page, complaints, close } = await visited({ first: cell });
  const good = await sentence(page);
  for (const side of ["diameter", "height"]) await entry(page, `first.can.${side}`).fill("");
  await page.locator("#stale").waitFor();
  await entry(page, "first.can.diameter").fill("21.2 mm");
  await entry(page, "first.can.height").fill("70 mm");
  await page.locator("#stale").waitFor({ state: "detached" });
  assert.equal(await sentence(page), good);
  assert.deepEqual(complaints, []);
  await close();
});

/** Keeps every worker of the page busy for a while: answers stay out. */
const stall = async (page, ms) => {
  for (const worker of page.workers()) await worker.evaluate((time) => setTimeout(() => { for (const end = performance.now() + time; performance.now() < end;); }, 0), ms);
};

test("while the model is busy nothing that is done is lost: fields show it, the order stays, undo and redo are exact", async () => {
  const { page, complaints, close } = await visited({ first: await fitted() });
  await chapter(page, "files");
  await chapter(page, "claim");
  await fold(page, "Parts");
  const begun = await sheet(page);
  await stall(page, 1500);
  const thickness = entry(page, "first.cathode.thickness");
  await thickness.press("ControlOrMeta+a");
  await thickness.pressSequentially("65 ± 1");
  await entry(page, "first.separator.thickness").fill("12 ± 0.5 µm");
  await page.locator("#claim-text").fill("at least 5 Wh/L of the cell");
  await page.locator('[data-out="first.0"]').click();
  await page.waitForTimeout(150);
  assert.equal(await thickness.inputValue(), "65 ± 1", "no unit is known to be missing before the answer");
  assert.equal(await entry(page, "first.separator.thickness").inputValue(), "12 ± 0.5 µm");
  await still(page);
  const done = await sheet(page);
  assert.deepEqual([done.cathode.thickness.value, done.separator.thickness.value, done.parts.length], ["65 ± 1", "12 ± 0.5 µm", begun.parts.length - 1]);

  const seen = async () => [await sheet(page), await page.locator("#claim-text").inputValue()];
  const steps = [await seen()];
  for (let i = 0; i < 4; i++) {
    await undo(page);
    await page.waitForTimeout(100);
    steps.unshift(await seen());
  }
  assert.deepEqual(steps.map(([{ cathode, separator, parts }, claim]) => [cathode.thickness.value, separator.thickness.value, claim, parts.length - begun.parts.length]), [
    ["64 ± 1 µm", "11.0 ± 0.5 µm", "", 0],
    ["65 ± 1", "11.0 ± 0.5 µm", "", 0],
    ["65 ± 1", "12 ± 0.5 µm", "", 0],
    ["65 ± 1", "12 ± 0.5 µm", "at least 5 Wh/L of the cell", 0],
    ["65 ± 1", "12 ± 0.5 µm", "at least 5 Wh/L of the cell", -1],
  ]);
  assert.deepEqual(steps[0][0], begun);
  // Undone and done again before either was answered.
  await stall(page, 800);
  await entry(page, "first.can.wall").fill("0.3 mm");
  await page.keyboard.press("Tab");
  await undo(page);
  await redo(page);
  await still(page);
  await page.waitForFunction(() => document.querySelector("[data-place='first.can.wall']").value === "0.3 mm");
  assert.deepEqual(await sheet(page), { ...begun, can: { ...begun.can, wall: { ...begun.can.wall, value: "0.3 mm" } } });
  assert.deepEqual(complaints, []);
  await close();
});

test("a reload before the model has answered loses nothing", async () => {
  const { page, close } = await visited({ first: await fitted() });
  await stall(page, 1500);
  await entry(page, "first.cathode.thickness").fill("sixty");
  await entry(page, "first.separator.thickness").fill("12 ± 0.5 µm");
  await page.reload();
  await page.locator("#stale, .waiting").first().waitFor();
  await still(page);
  assert.equal(await entry(page, "first.cathode.thickness").inputValue(), "sixty");
  assert.equal(await entry(page, "first.separator.thickness").inputValue(), "12 ± 0.5 µm");
  await close();
});

test("a model that stops twice: what was typed stays in its field, and is there after a reload", async () => {
  const { page, close } = await visited({ first: await fitted() });
  const good = await sentence(page);
  // Whoever is asked is silent from now on; models still start, whenever that is.
  await page.evaluate(() => {
    const post = Worker.prototype.postMessage;
    Worker.prototype.postMessage = function (message, carried) {
      if (!("id" in message)) post.call(this, message, carried);
    };
  });
  await entry(page, "first.separator.thickness").fill("9 ± 0.5 µm");
  await page.keyboard.press("Tab");
  await page.locator(".message").waitFor();
  assert.match(await page.locator(".message").first().textContent(), /stopped twice/);
  assert.equal(await entry(page, "first.separator.thickness").inputValue(), "9 ± 0.5 µm");
  assert.equal(await sentence(page), good);
  await page.reload();
  await page.waitForFunction((text) => (document.querySelector(".sentence")?.textContent.trim() ?? text) !== text, good);
  assert.equal(await entry(page, "first.separator.thickness").inputValue(), "9 ± 0.5 µm");
  await close();
});
