/** Entries: typed, refused in words, mended, kept in the link. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { builds, changes, chapter, entry, fold, open, ready, saved, sentence, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const visited = (options) => visit(stand.browser, builds["normal build"](stand.address), options);

for (const [build, at] of Object.entries(builds)) {
  test(`${build}: an edit gives new figures and a new link, and the link gives them back`, async () => {
    const { page, complaints, close } = await visit(stand.browser, at(stand.address));
    const address = page.url();
    const figure = page.locator("[data-foremost=volumetric] .change");
    const before = await figure.textContent();
    const text = await changes(page, () => entry(page, "second.cathode.loading").fill("24.1 ± 0.3 mg/cm²"));
    assert.notEqual(await figure.textContent(), before);
    await page.waitForURL((url) => url.href !== address);
    assert.match(page.url(), /#1\.[\w-]+$/);

    await page.reload();
    await ready(page);
    await page.waitForFunction((wanted) => document.querySelector(".sentence").textContent.trim() === wanted, text);
    assert.equal(await entry(page, "second.cathode.loading").inputValue(), "24.1 ± 0.3 mg/cm²");
    assert.deepEqual(complaints, []);
    await close();
  });
}

test("a wrong entry is answered beside it, and the last good answer stays, marked", async () => {
  const { page, complaints, close } = await visited();
  const good = await sentence(page);
  const field = entry(page, "first.cathode.loading");
  const was = await field.inputValue();
  await field.fill("twenty grams");
  await page.locator("#stale").waitFor();
  assert.equal(await field.getAttribute("aria-invalid"), "true");
  const words = page.locator(`[id="${await field.getAttribute("aria-describedby")}"]`);
  assert.match(await words.textContent(), /twenty grams.*mg\/cm²/s);
  assert.equal(await sentence(page), good);
  assert.match(await page.locator("#stale").textContent(), /Stale/);
  assert.equal(await field.inputValue(), "twenty grams");
  assert.equal(await page.locator("[data-do=follow]").count(), 0, "no other entry is asked to give way to a text");

  // A second mistake: both are told, and neither text is lost.
  await entry(page, "second.can.height").fill("-3 mm");
  await page.waitForFunction(() => document.querySelectorAll("[aria-invalid=true]").length === 2);
  assert.equal(await field.inputValue(), "twenty grams");
  assert.equal(await sentence(page), good);

  await entry(page, "second.can.height").fill("92.0 ± 0.05 mm");
  await field.fill(was);
  await page.locator("#stale").waitFor({ state: "detached" });
  assert.equal(await page.locator("[aria-invalid=true]").count(), 0);
  assert.equal(await sentence(page), good);
  assert.deepEqual(complaints, []);
  await close();
});

test("a part taken out frees its height; put back, the answer is the old one", async () => {
  const { page, close } = await visited();
  const good = await sentence(page);
  await fold(page, "Parts");
  const part = page.locator('[data-place="first.parts[1].name"]');
  assert.equal(await part.inputValue(), "lower collector plate");
  assert.notEqual(await changes(page, () => page.locator('[data-out="first.1"]').click()), good);
  assert.equal(await page.locator('[data-place="first.parts[1].name"]').inputValue(), "upper collector plate");
  assert.equal(await changes(page, () => page.locator("[data-back=first]").click()), good);
  assert.equal(await part.inputValue(), "lower collector plate");
  await close();
});

test("a figure of the table of materials becomes the sheet's own", async () => {
  const { page, close } = await visited();
  await fold(page, "Materials");
  await page.locator("[data-do=materials]").click();
  await fold(page, "Materials");
  const field = entry(page, "second.materials[NMC532].capacity");
  assert.equal(await field.inputValue(), "");
  assert.match(await field.getAttribute("placeholder"), /mAh\/g$/);
  await changes(page, () => field.fill("190 ± 2 mAh/g"));
  assert.equal(await field.inputValue(), "190 ± 2 mAh/g");
  await changes(page, () => field.fill("195 ± 2 mAh/g"));
  await chapter(page, "files");
  const { text } = await saved(page, page.locator("[data-save=second]"));
  assert.deepEqual(JSON.parse(text).materials, [{ name: "NMC532", capacity: "195 ± 2 mAh/g" }]);

  await field.fill("195 ± 2 mm");
  await page.waitForFunction(() => document.querySelector('[data-place="second.materials[NMC532].capacity"]').ariaInvalid === "true");
  await field.fill("");
  await page.locator("#stale").waitFor({ state: "detached" });
  assert.equal(JSON.parse((await saved(page, page.locator("[data-save=second]"))).text).materials, undefined);
  await close();
});

test("the share that is left out of a mix says so", async () => {
  const { page, close } = await visited();
  await fold(page, "Cathode");
  const field = entry(page, "first.cathode.mix[0].share");
  assert.equal(await field.getAttribute("placeholder"), "the rest");
  await field.focus();
  assert.equal(await field.inputValue(), "");
  await close();
});

test("the keyboard alone: an entry is reached and changed, a starting point chosen", async () => {
  const { page, close } = await visited();
  const tabTo = async (selector) => {
    for (let i = 0; i < 60; i++) {
      await page.keyboard.press("Tab");
      if (await page.evaluate((wanted) => document.activeElement.matches(wanted), selector)) return;
    }
    assert.fail(`60 steps do not lead to ${selector}`);
  };
  await tabTo("[data-demo=one]");
  await changes(page, () => page.keyboard.press("Enter"));
  await tabTo('[data-place="first.can.height"]');
  await changes(page, async () => {
    await page.keyboard.press("ControlOrMeta+a");
    await page.keyboard.type("71 mm");
  });
  assert.equal(await page.evaluate(() => document.activeElement.value), "71 mm");
  await close();
});

test("a size by its name leaves its outer dimensions open; a side that is written takes the name's place", async () => {
  const { page, complaints, close } = await visited({ bare: true });
  const diameter = entry(page, "first.can.diameter");
  assert.equal(await diameter.inputValue(), "");
  assert.match(await diameter.getAttribute("placeholder"), /^21\.\d+ ± 0\.\d+ mm$/);
  await changes(page, () => diameter.fill("26 mm"));
  assert.equal(await entry(page, "first.can.height").inputValue(), "70 mm");
  assert.equal(await page.locator("#start-size").inputValue(), "26 × 70 mm");
  await changes(page, () => page.locator("#start-size").fill("32.15 × 70.2 mm").then(() => page.keyboard.press("Tab")));
  assert.equal(await diameter.inputValue(), "32.15 mm");
  await changes(page, () => page.locator("#start-size").fill("46 × 80").then(() => page.keyboard.press("Tab")));
  assert.equal(await diameter.inputValue(), "");
  assert.equal(await page.locator("#start-size").inputValue(), "46 × 80 mm");
  assert.deepEqual(complaints, []);
  await close();
});
