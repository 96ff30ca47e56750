/** The page can be read by everyone: axe finds nothing, light or dark, and a narrow screen never scrolls sideways. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { barriers, builds, open, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

for (const [build, at] of Object.entries(builds)) {
  for (const colorScheme of ["light", "dark"]) {
    test(`${build}, ${colorScheme}: axe finds no barrier`, async () => {
      const { page, complaints, close } = await visit(stand.browser, at(stand.address), { colorScheme });
      assert.deepEqual(await barriers(page), []);
      assert.deepEqual(complaints, []);
      await close();
    });
  }

  test(`${build}: nothing reaches beyond a screen of 360 px`, async () => {
    const { page, close } = await visit(stand.browser, at(stand.address), { viewport: { width: 360, height: 740 } });
    const width = () => page.evaluate(() => document.documentElement.scrollWidth);
    assert.equal(await width(), 360);
    await page.evaluate(() => document.querySelectorAll("details").forEach((details) => (details.open = true)));
    assert.equal(await width(), 360, "with everything opened");
    await close();
  });
}
