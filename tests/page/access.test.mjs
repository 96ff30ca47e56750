/** The page can be read by everyone: axe finds nothing, light or dark, wide or narrow, and nothing scrolls sideways. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { barriers, builds, entry, open, ready, unfold, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const sizes = { wide: { width: 1280, height: 900 }, narrow: { width: 360, height: 740 } };

for (const [size, viewport] of Object.entries(sizes)) {
  for (const colorScheme of ["light", "dark"]) {
    test(`${size}, ${colorScheme}: axe finds no barrier, with everything unfolded and an entry that is wrong`, async () => {
      const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address), { viewport, colorScheme });
      assert.deepEqual(await barriers(page), []);
      await entry(page, "first.cathode.loading").fill("heavy");
      await page.locator("#stale").waitFor();
      await unfold(page);
      assert.deepEqual(await barriers(page), []);
      assert.deepEqual(complaints, []);
      await close();
    });
  }
}

for (const [build, at] of Object.entries(builds)) {
  for (const point of ["part", "size", "one"]) {
    test(`${build}, the invented cells “${point}”: nothing reaches beyond a screen of 360 px`, async () => {
      const { page, close } = await visit(stand.browser, at(stand.address), { viewport: sizes.narrow });
      await page.locator(`[data-demo=${point}]`).click();
      await ready(page);
      const width = () => page.evaluate(() => document.documentElement.scrollWidth);
      assert.equal(await width(), 360);
      await unfold(page);
      assert.equal(await width(), 360, "with everything opened");
      await close();
    });
  }
}

test("forced colours: axe finds no barrier", async () => {
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address), { forcedColors: "active" });
  assert.deepEqual(await barriers(page), []);
  assert.deepEqual(complaints, []);
  await close();
});

test("320 px: nothing scrolls sideways, and fields are large enough not to be zoomed into", async () => {
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address), { viewport: { width: 320, height: 640 } });
  await unfold(page);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth), 320);
  const small = await page.locator("#sheet input[type=text]:visible").evaluateAll((all) => all.map((one) => parseFloat(getComputedStyle(one).fontSize)).filter((size) => size < 16));
  assert.deepEqual(small, []);
  await close();
});

test("targets: what can be pressed is 24 px or stands clear of others", async () => {
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address));
  const small = await page.locator("button:visible, select:visible, summary:visible, .contents a").evaluateAll((all) =>
    all.filter((one) => one.getBoundingClientRect().height < 24 && getComputedStyle(one).display !== "inline").map((one) => `${one.outerHTML.slice(0, 80)} ${one.getBoundingClientRect().height}`),
  );
  assert.deepEqual(small, []);
  await close();
});
