/** Both builds start quietly, ask for each file once and for nothing afterwards. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { builds, changes, chapter, entry, open, sentence, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

for (const [build, at] of Object.entries(builds)) {
  test(`${build}: starts without a complaint and carries a policy`, async () => {
    const { page, complaints, close } = await visit(stand.browser, at(stand.address));
    const policy = await page.locator("meta[http-equiv=Content-Security-Policy]").getAttribute("content");
    assert.match(policy, /^default-src 'none'; script-src .*'wasm-unsafe-eval'/);
    assert.doesNotMatch(policy, /'unsafe-(inline|eval)'|https?:|\*/);
    assert.deepEqual(complaints, []);
    await close();
  });

  test(`${build}: nothing is asked for after the start`, async () => {
    const { page, complaints, requests, close } = await visit(stand.browser, at(stand.address));
    const started = [...requests];
    assert.deepEqual(started, [...new Set(started)], "each file once");
    for (const address of started) assert.match(address, /^(http:\/\/127\.0\.0\.1:|file:|blob:|data:)/);

    // Whatever a page has to open is opened, and every control gets the focus once.
    await page.evaluate(() => {
      for (const details of document.querySelectorAll("details")) details.open = true;
      for (const control of document.querySelectorAll("a, button, input, select, textarea, summary")) control.focus();
    });
    await page.waitForTimeout(500);
    // A worker that starts is read from the page itself.
    assert.deepEqual(requests.slice(started.length).filter((address) => !address.startsWith("blob:")), []);
    assert.deepEqual(complaints, []);
    await close();
  });
}

test("normal build: the first answer does not wait for the whole model, which is there before it is wanted", async () => {
  const context = await stand.browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  const models = [];
  let release;
  const held = new Promise((resolve) => (release = resolve));
  await page.route("**/*.model", async (route) => {
    models.push(route.request().url());
    if (models.length === 2) await held;
    await route.continue();
  });
  await page.goto(stand.address);
  // The answer is on the screen while the second model has not come yet.
  await page.waitForFunction(() => /Wh\/kg/.test(document.querySelector(".sentence")?.textContent));
  while (models.length < 2) await page.waitForTimeout(10);
  const loaded = page.waitForEvent("requestfinished", (request) => request.url() === models[1]);
  release();
  await loaded;
  // From here on nothing needs the network, long work included.
  await context.setOffline(true);
  await chapter(page, "size");
  await page.waitForSelector("#sizes-picture .contour", { timeout: 20_000 });
  assert.equal(new Set(models).size, 2);
  assert.equal(models.length, 2);
  await context.close();
});

test("normal build: what is typed before the whole model is there is shown, and made once it is", async () => {
  const context = await stand.browser.newContext({ viewport: { width: 1280, height: 900 } });
  const page = await context.newPage();
  let [models, release] = [0];
  const held = new Promise((resolve) => (release = resolve));
  await page.route("**/*.model", async (route) => {
    if (++models === 2) await held;
    await route.continue();
  });
  await page.goto(stand.address);
  await page.waitForFunction(() => /Wh\/kg/.test(document.querySelector(".sentence")?.textContent));
  const before = await sentence(page);
  const field = entry(page, "first.cathode.loading");
  await field.fill("24.1 ± 0.3 mg/cm²");
  await page.waitForTimeout(200);
  assert.equal(await field.inputValue(), "24.1 ± 0.3 mg/cm²");
  assert.equal(await sentence(page), before);
  await changes(page, release);
  assert.equal(await field.inputValue(), "24.1 ± 0.3 mg/cm²");
  assert.equal(models, 2);
  await context.close();
});

test("single file: its policy refuses every connection", async () => {
  const { page, complaints, close } = await visit(stand.browser, `${stand.address}single/roulade.html`);
  assert.deepEqual(complaints, [], "it also starts from a server");
  const outcome = await page.evaluate(
    () =>
      new Promise((resolve) => {
        addEventListener("securitypolicyviolation", (event) => resolve(`refused by ${event.effectiveDirective}`));
        fetch(location.href).then(() => resolve("connected"));
      }),
  );
  assert.equal(outcome, "refused by connect-src");
  await close();
});

test("single file: one file, holding the model once", async () => {
  const { requests, page, close } = await visit(stand.browser, builds["single file"]());
  assert.equal(requests.filter((address) => !/^(blob|data):/.test(address)).length, 1);
  // Nothing else in it is so long and of one piece.
  assert.equal((await page.content()).match(/[A-Za-z0-9+/]{500000,}/g)?.length, 1);
  await close();
});
