/** The answer: there without typing, the model's own words, for every starting point and in both builds. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { builds, changes, chapter, demo, model, open, sentence, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const said = async (first, second) => {
  const { ok, problems } = JSON.parse(second ? (await model()).compare(await demo(first), await demo(second)) : (await model()).estimate(await demo(first)));
  assert.equal(problems, undefined);
  return ok.answer;
};

for (const [build, at] of Object.entries(builds)) {
  test(`${build}: the first load answers, per litre and per kilogram, each with its uncertainty`, async () => {
    const { page, complaints, close } = await visit(stand.browser, at(stand.address));
    const text = await sentence(page);
    assert.equal(text, (await said("marram-a", "marram-b")).text);
    assert.match(text, /[+−]\d[\d.]* ± \d[\d.]* Wh\/L/);
    assert.match(text, /[+−]\d[\d.]* ± \d[\d.]* Wh\/kg/);
    assert.deepEqual(complaints, []);
    await close();
  });
}

const points = { part: ["marram-a", "marram-b"], size: ["marram-b", "marram-small"], one: ["marram-small"] };
for (const [point, [first, second]] of Object.entries(points)) {
  test(`the invented cells “${point}” show the model's answer`, async () => {
    const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
    const button = page.locator(`[data-demo=${point}]`);
    if (point !== "part") await changes(page, () => button.click());
    const { text, sensitivity, assumed } = await said(first, second);
    assert.equal(await sentence(page), text);
    const under = await page.locator(".comes-from").textContent();
    for (const { label } of sensitivity) assert.ok(under.includes(label), label);
    assert.ok(under.includes(assumed));
    assert.deepEqual(complaints, []);
    await close();
  });
}

test("what the uncertainty of the answer comes from is one step away", async () => {
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address));
  const address = page.url();
  for (const [cell, side] of [["Marram A", "first"], ["Marram B", "second"]]) {
    await page.locator(".lean", { hasText: `(${cell})` }).first().click();
    await page.waitForFunction((start) => document.activeElement.dataset.place?.startsWith(start), `${side}.cathode.`);
  }
  assert.equal(page.url(), address, "the address keeps the state");
  await close();
});

test("a part that is left out: the model's copy stands beside the first cell", async () => {
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await chapter(page, "part");
  await page.locator("#without-part").selectOption("lower collector plate");
  const text = await changes(page, () => page.locator("#without button").click());
  const { ok } = JSON.parse((await model()).without(JSON.stringify({ sheet: JSON.parse(await demo("marram-a")), part: "lower collector plate" })));
  assert.equal(text, ok.answer.text);
  assert.equal(await page.locator('[data-place="second.cell"]').inputValue(), ok.sheet.cell);
  await close();
});

test("the share of the freed height that becomes coating is the model's to read, and a wrong one is answered beside it", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await chapter(page, "part");
  await page.locator("#without-part").selectOption("lower collector plate");
  const share = page.getByLabel("share that becomes coating");
  const before = await sentence(page);
  for (const wrong of ["85 mm", "120 %", "most of it"]) {
    await share.fill(wrong);
    await share.press("Enter");
    await page.waitForFunction((text) => document.querySelector("#without-problem")?.textContent.includes(text), wrong === "120 %" ? "between 0 and 1" : wrong);
    assert.equal(await share.getAttribute("aria-invalid"), "true");
    assert.equal(await share.getAttribute("aria-describedby"), "without-problem");
    assert.equal(await share.inputValue(), wrong);
    assert.equal(await sentence(page), before, "nothing was changed");
  }
  await share.fill("85 %");
  const text = await changes(page, () => share.press("Enter"));
  const asked = { sheet: JSON.parse(await demo("marram-a")), part: "lower collector plate", reclaim: 0.85 };
  const { ok } = JSON.parse((await model("whole")).without(JSON.stringify(asked)));
  assert.equal(text, ok.answer.text);
  assert.equal(await page.locator("#without-problem").count(), 0);
  // Both ends stand beside it.
  assert.deepEqual((await page.locator("#reclaim thead th").allTextContents()).slice(0, 3), ["none of it", "as designed", "all of it"]);
  assert.deepEqual(complaints, []);
  await close();
});

test("what the model calls an entry is what the page calls it", async () => {
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address));
  const known = new Map(JSON.parse((await model("whole")).quantities()).ok.map(({ path, label }) => [path, label]));
  await page.evaluate(() => document.querySelectorAll("[data-fold]").forEach((one) => (one.open = true)));
  await page.waitForFunction(() => document.querySelector("[data-section=Can] select.add option[value='can.mass']"));
  const offered = await page.locator("#sheet tbody[data-section] select.add option").evaluateAll((all) => all.filter(({ value }) => value).map(({ value, textContent }) => [value, textContent]));
  assert.ok(offered.length > 15);
  for (const [path, label] of offered) {
    if (!known.has(path)) assert.match(path, /\.(material|ceramic)$/);
    else assert.ok(label === known.get(path) || label.endsWith(`: ${known.get(path)}`), `${path}: ${label}`);
  }
  await close();
});
