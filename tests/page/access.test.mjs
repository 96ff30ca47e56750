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
