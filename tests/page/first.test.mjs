/** The first screen: it is right before the model has answered, and stays where it is as answers come. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { model, open, ready } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const known = new Map(JSON.parse((await model("whole")).quantities()).ok.map((one) => [one.path, one]));

/** The page at `hash` with both models held back until `release` is called for the next. */
async function slow(viewport, hash) {
  const context = await stand.browser.newContext({ viewport });
  const page = await context.newPage();
  const waiting = [];
  await page.route("**/*.model", (route) => new Promise((resolve) => waiting.push(() => resolve(route.continue()))));
  await page.addInitScript(() => {
    window.shifts = [];
    new PerformanceObserver((list) => window.shifts.push(...list.getEntries().map(({ value }) => value))).observe({ type: "layout-shift", buffered: true });
  });
  await page.goto(stand.address + hash);
  const release = async () => {
    while (waiting.length === 0) await page.waitForTimeout(10);
    waiting.shift()();
  };
  return { page, release, close: () => context.close() };
}

const labels = (page) =>
  page.locator("#sheet table.essential tbody tr").evaluateAll((rows) =>
    rows.map((row) => [row.querySelector("[data-place]").dataset.place.replace("first.", ""), row.querySelector("th").firstElementChild ? [...row.querySelector("th").childNodes].filter(({ nodeType }) => nodeType === 3).map(({ data }) => data).join("").trim() : row.querySelector("th").textContent.trim()]),
  );

const answered = (page) => page.waitForFunction(() => document.querySelector("#answer .foremost"));

for (const [width, height] of [[1280, 900], [360, 740]])
  for (const hash of ["", "#demo"])
    test(`${width} px${hash && ", the invented cells"}: entries have the model's names at once, and nothing moves as answers come`, async (t) => {
      const { page, release, close } = await slow({ width, height }, hash);
      await page.locator("#sheet table.essential tbody tr").first().waitFor();
      const atOnce = await labels(page);
      assert.ok(atOnce.length >= 12);
      for (const [path, label] of atOnce.filter(([path]) => !path.endsWith(".host"))) assert.equal(label.replace(/^(cathode|anode|separator): /, ""), known.get(path).label, path);
      await release();
      await answered(page);
      assert.deepEqual(await labels(page), atOnce);
      await release();
      await ready(page);
      await page.waitForTimeout(500);
      assert.deepEqual(await labels(page), atOnce);
      const shift = (await page.evaluate(() => window.shifts)).reduce((sum, one) => sum + one, 0);
      t.diagnostic(`${width} px${hash}: shifted by ${shift.toFixed(3)}`);
      assert.ok(shift < 0.1, `shifted by ${shift}`);
      await close();
    });

test("a slider runs over what the model calls plausible", async () => {
  const { page, release, close } = await slow({ width: 1280, height: 900 }, "");
  await release();
  await release();
  await answered(page);
  const sliders = await page.locator("[data-slide]").evaluateAll((all) => all.map(({ dataset, min, max }) => [dataset.slide.replace("first.", ""), Number(min), Number(max)]));
  assert.ok(sliders.length >= 8);
  const said = sliders.filter(([path]) => known.get(path).plausible);
  assert.ok(said.length >= 5);
  for (const [path, ...range] of said) assert.deepEqual(range, known.get(path).plausible.split(" .. ").map(parseFloat), path);
  await close();
});
