/** Nothing is lost: undo and redo, the back button, reloads, workers that die or hang, links that are not what they seem. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { deflateRawSync } from "node:zlib";
import { builds, changes, chapter, demo, entry, open, sentence, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const visited = (hash = "", options) => visit(stand.browser, builds["normal build"](stand.address) + hash, options);
const link = (state) => `#1.${deflateRawSync(JSON.stringify(state)).toString("base64url")}`;
const parsed = async (name) => JSON.parse(await demo(name));

test("what is typed is undone as one step, done again, and undone by the keyboard", async () => {
  const { page, complaints, close } = await visited();
  const good = await sentence(page);
  const field = entry(page, "first.cathode.loading");
  const was = await field.inputValue();
  await field.fill("");
  await field.pressSequentially("21 ± 0.2 mg/cm²");
  // Each keystroke may be answered; the last answer stays.
  let changed;
  do {
    changed = await sentence(page);
    await page.waitForTimeout(400);
  } while (changed === good || changed !== (await sentence(page)));
  await field.blur();
  await page.locator("[data-do=undo]").click();
  await page.waitForFunction((text) => document.querySelector(".sentence").textContent.trim() === text, good);
  assert.equal(await field.inputValue(), was);
  await page.locator("[data-do=redo]").click();
  await page.waitForFunction((text) => document.querySelector(".sentence").textContent.trim() === text, changed);
  await page.locator("body").press("ControlOrMeta+z");
  await page.waitForFunction((text) => document.querySelector(".sentence").textContent.trim() === text, good);
  assert.deepEqual(complaints, []);
  await close();
});

test("the back button leads to the cells before, with what was typed in them, and forward again", async () => {
  const { page, close } = await visited();
  const typed = await changes(page, () => entry(page, "first.cathode.loading").fill("21 mg/cm²"));
  await changes(page, () => page.locator("[data-demo=one]").click());
  assert.equal(await entry(page, "first.cell").inputValue(), "Marram small");
  await page.goBack();
  await page.waitForFunction((text) => document.querySelector(".sentence").textContent.trim() === text, typed);
  assert.equal(await entry(page, "first.cathode.loading").inputValue(), "21 mg/cm²");
  await page.goForward();
  await page.waitForFunction(() => document.querySelector("[data-place='first.cell']").value === "Marram small");
  await close();
});

test("what is typed, right or wrong, is there after a reload that follows at once; another tab can go on with it", async () => {
  const { page, close } = await visited();
  await entry(page, "first.cathode.loading").fill("twenty grams");
  await page.reload();
  await page.locator("#stale, .waiting").first().waitFor();
  assert.equal(await entry(page, "first.cathode.loading").inputValue(), "twenty grams");
  const other = await page.context().newPage();
  await other.goto(stand.address);
  await other.locator("[data-do=go-on]").click();
  await other.waitForFunction(() => document.querySelector("[data-place='first.cathode.loading']").value === "twenty grams");
  await close();
});

for (const [what, action] of [["dies", () => self.close()], ["hangs", () => setTimeout(() => { for (;;); }, 0)]]) {
  test(`a worker that ${what} is replaced, and the work goes on`, async () => {
    const { page, close } = await visited();
    const field = entry(page, "second.cathode.loading");
    // A change is answered by the whole model: from here on it is there.
    await changes(page, () => field.fill("21 ± 0.3 mg/cm²"));
    for (const worker of page.workers()) await Promise.race([worker.evaluate(action), new Promise((resolve) => setTimeout(resolve, 300))]);
    await page.waitForTimeout(200);
    await changes(page, () => field.fill("20 ± 0.3 mg/cm²"));
    assert.equal(await page.locator("[aria-busy=true]").count(), 0);
    await close();
  });
}

for (const name of ["model", "unpacking"]) {
  test(`a worker that dies as it starts is replaced: ${name}`, async () => {
    const context = await stand.browser.newContext();
    await context.addInitScript((name) => {
      let alive = false;
      const { Worker, setTimeout } = window;
      window.Worker = class extends Worker {
        constructor(address, options) {
          super(address, options);
          if (options.name !== name || alive) return;
          alive = true;
          this.terminate();
        }
      };
      // The page's patience with what starts is longer than a test's.
      window.setTimeout = (action, delay, ...given) => setTimeout(action, delay > 10_000 ? delay / 20 : delay, ...given);
    }, name);
    const page = await context.newPage();
    await page.goto(`${stand.address}#demo`);
    await page.locator("[data-demo=one]").waitFor();
    await page.waitForFunction(() => /± .* Wh\/L/.test(document.querySelector(".sentence")?.textContent ?? ""));
    await changes(page, () => entry(page, "first.cathode.loading").fill("21 mg/cm²"));
    await context.close();
  });
}

test("a second link keeps nothing of the first", async () => {
  const small = await parsed("marram-small");
  const { page, close } = await visited(link({ version: 1, first: small, claim: "at least 5 Wh/L", bench: { readings: "quantity;value\ncapacity;3\n" }, discharge: "0;4" }));
  await chapter(page, "claim");
  assert.equal(await page.locator("#claim-text").inputValue(), "at least 5 Wh/L");
  await page.evaluate((hash) => (location.hash = hash), link({ version: 1, first: { ...small, cell: "the second link" } }));
  await page.waitForFunction(() => document.querySelector("[data-place='first.cell']").value === "the second link");
  assert.equal(await page.locator("#claim-text").inputValue(), "");
  await chapter(page, "readings");
  assert.equal(await page.locator("#bench-readings").inputValue(), "");
  await close();
});

/** What a crafted link holds beside a good sheet, and the place that the message names. */
const crafted = {
  "readings that are a number": [{ bench: { readings: 7 } }, "bench.readings"],
  "readings that are a list": [{ bench: { readings: ["a"] } }, "bench.readings"],
  "a loss function that is none": [{ bench: { loss: "x" } }, "bench.loss"],
  "prices that are texts": [{ prices: { per_kg: { NMC811: "7" } } }, "prices.per_kg.NMC811"],
  "changes without keys": [{ changes: { changes: [{ name: "x" }] } }, "changes.changes[0].keys"],
  "a claim that is an object": [{ claim: { value: 1 } }, "claim"],
  "parts that are no list": [{ first: { can: {}, cathode: {}, anode: {}, parts: 7 } }, "first.parts"],
  "a sheet that is a text": [{ first: "sheet" }, "first"],
  "a key of its own": [{ readings: "x" }, "readings"],
};
for (const [what, [more, place]] of Object.entries(crafted)) {
  test(`a link with ${what} is refused in words, and the page goes on`, async () => {
    const { page, complaints, close } = await visited(link({ version: 1, first: await parsed("marram-small"), ...more }));
    await page.locator(".message").waitFor();
    assert.ok((await page.locator(".message").textContent()).includes(`The link cannot be read: ${place}: found`), await page.locator(".message").textContent());
    assert.match(await sentence(page), /± .* Wh\/L/);
    assert.deepEqual(complaints, []);
    await close();
  });
}

for (const [what, twice] of Object.entries({
  "in its sheet": (text) => text.replace('"height":', '"height":"80 mm","height":'),
  "beside its sheet": (text) => text.replace('"version":1', '"version":1,"claim":"5 Ah","claim":"6 Ah"'),
})) {
  test(`a link with a key that stands twice ${what} is refused`, async () => {
    const text = JSON.stringify({ version: 1, first: { ...(await parsed("marram-small")), cell: "twice" } });
    assert.notEqual(twice(text), text);
    const { page, complaints, close } = await visited(`#1.${deflateRawSync(twice(text)).toString("base64url")}`);
    await page.locator(".message").waitFor();
    assert.match(await page.locator(".message").textContent(), /second time/);
    assert.notEqual(await entry(page, "first.cell").inputValue(), "twice");
    assert.deepEqual(complaints, []);
    await close();
  });
}

test("a sheet without version and name is taken; a key that stands twice is refused", async () => {
  const { page, close } = await visited();
  await chapter(page, "files");
  const load = (text) => page.locator("[data-file=first]").setInputFiles({ name: "cell.json", mimeType: "application/json", buffer: Buffer.from(text) });
  const text = '{"can": {"diameter": "21 mm", "height": "70 mm"}, "cathode": {"mix": [{"material": "NMC811"}]}, "anode": {"mix": [{"material": "graphite"}]}}';
  await changes(page, () => load(text));
  assert.equal(await entry(page, "first.can.height").inputValue(), "70 mm");
  await chapter(page, "files");
  await load(text.replace('"height": "70 mm"', '"height": "70 mm", "height": "80 mm"'));
  await page.locator(".message").waitFor();
  assert.match(await page.locator(".message").textContent(), /second time/);
  assert.equal(await entry(page, "first.can.height").inputValue(), "70 mm");
  await close();
});

test("a name with marks of direction turns nothing round", async () => {
  const { page, close } = await visited(link({ version: 1, first: { ...(await parsed("marram-small")), cell: "\u202eabc" }, second: { ...(await parsed("marram-small")), cell: "\u2067def" } }));
  for (const text of await page.locator("table .first, table .second").evaluateAll((all) => all.filter((one) => /[\u202e\u2067]/.test(one.textContent)).map((one) => one.querySelector("bdi")?.textContent))) assert.ok(text);
  await close();
});

test("no WebAssembly, no scripts: the page says so", async () => {
  const context = await stand.browser.newContext();
  const page = await context.newPage();
  await page.addInitScript(() => delete window.WebAssembly);
  await page.goto(stand.address);
  assert.match(await page.locator(".lacking").textContent(), /WebAssembly/);
  await context.close();
  const still = await stand.browser.newContext({ javaScriptEnabled: false });
  const silent = await still.newPage();
  await silent.goto(stand.address);
  assert.match(await silent.locator("noscript").textContent(), /scripts/);
  await still.close();
});

test("the can's edge follows the hand and the arrow keys, and so do figures; entries have sliders", async () => {
  const { page, close } = await visited();
  const grip = page.locator('[data-grip="second.can.diameter"]');
  const before = await page.locator("[data-foremost=capacity] td").nth(1).textContent();
  await grip.focus();
  await page.keyboard.press("PageUp");
  await page.waitForFunction((text) => document.querySelectorAll("[data-foremost=capacity] td")[1].textContent !== text, before);
  const dialled = await entry(page, "second.can.diameter").inputValue();
  assert.match(dialled, /^41 mm/);
  await grip.scrollIntoViewIfNeeded();
  const box = await grip.boundingBox();
  await page.mouse.move(box.x + box.width / 2, box.y + box.height / 2);
  await page.mouse.down();
  await page.mouse.move(box.x + box.width / 2 + 8, box.y + box.height / 2, { steps: 4 });
  await page.mouse.up();
  await page.waitForFunction((text) => document.querySelector("[data-place='second.can.diameter']").value !== text, dialled);
  await page.locator("[data-do=undo]").click();
  await page.waitForFunction((text) => document.querySelector("[data-place='second.can.diameter']").value === text, dialled);
  const slider = page.locator('[data-slide="first.separator.thickness"]');
  const was = await entry(page, "first.separator.thickness").inputValue();
  await slider.focus();
  await page.keyboard.press("ArrowRight");
  await page.waitForFunction((text) => document.querySelector("[data-place='first.separator.thickness']").value !== text, was);
  assert.match(await entry(page, "first.separator.thickness").inputValue(), / ± .* µm$/);
  await close();
});

test("entries that do not go together say so, and their way out is a button", async () => {
  const { page, close } = await visited();
  await entry(page, "first.can.height").fill("70 mm");
  await page.locator("[data-do=follow]").first().waitFor();
  await page.locator("[data-do=follow]", { hasText: "coated width" }).click();
  await page.locator("#stale").waitFor({ state: "detached" });
  assert.equal(await entry(page, "first.cathode.width").inputValue(), "");
  await close();
});
