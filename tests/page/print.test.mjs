/** On paper: a report of few pages, all of them filled, with nothing to press. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { builds, open, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const MOST_PAGES = 6;

for (const [what, hash] of [["two cells", "#demo"], ["one cell", "#demo-one"]]) {
  test(`${what}: at most ${MOST_PAGES} pages`, async (t) => {
    const { page, close } = await visit(stand.browser, builds["normal build"](stand.address) + hash);
    const pdf = await page.pdf({ format: "A4", preferCSSPageSize: true });
    const pages = pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g)?.length ?? 0;
    t.diagnostic(`${pages} pages`);
    assert.ok(pages >= 1 && pages <= MOST_PAGES, `${pages} pages`);
    await page.emulateMedia({ media: "print" });
    assert.equal(await page.locator("button:visible").count(), 0);
    assert.ok(await page.locator(".printed").first().isVisible());
    await close();
  });
}
