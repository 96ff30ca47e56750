/** Each user's path, from the bare address to the answer in at most six actions, and back again by undo. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { builds, open, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const MOST = 6;

/** A visit that counts what its user does. */
async function walk(build = "normal build") {
  const { page, complaints, close } = await visit(stand.browser, builds[build](stand.address), { bare: true });
  let actions = 0;
  const act = async (action) => {
    actions++;
    await action();
  };
  const figure = (id) => page.locator(`[data-foremost=${id}] td`).last().textContent();
  return {
    page, act, figure,
    async end() {
      assert.ok(actions <= MOST, `${actions} actions`);
      assert.deepEqual(complaints, []);
      await close();
    },
  };
}

const number = (text) => Number(/[+−]?\d[\d.]*/.exec(text)[0].replace("−", "-"));

test("a first look: an answer stands at once, about the reader's own cell and about no other", async () => {
  const { page, figure, end } = await walk();
  assert.match(await figure("volumetric"), /± .*Wh\/L/);
  assert.equal(await page.locator(".lean").count(), 3);
  assert.equal(await page.getByText("Marram").count(), 0);
  await end();
});

test("four fields: another size gives another answer, a known capacity is there to be checked, and undo gives the first again", async () => {
  const { page, act, figure, end } = await walk();
  const before = await figure("capacity");
  await act(() => page.locator("#start-size").fill("46 × 80 mm").then(() => page.keyboard.press("Tab")));
  await page.waitForFunction((text) => document.querySelector("[data-foremost=capacity] td:last-child").textContent !== text, before);
  assert.ok(number(await figure("capacity")) > 4 * number(before));
  const typed = await figure("capacity");
  await page.locator("#start-size").fill("46120");
  await page.keyboard.press("Tab");
  await page.waitForFunction((text) => document.querySelector("[data-foremost=capacity] td:last-child").textContent !== text, typed);
  assert.equal(await page.locator("[data-place='first.cell']").inputValue(), "NMC811 on graphite, 46 × 120 mm", "digits that are run together are a size too");
  await page.locator("[data-do=undo]").click();
  await page.waitForFunction((text) => document.querySelector("[data-foremost=capacity] td:last-child").textContent === text, typed);
  await act(() => page.locator("#start-known").fill("26 Ah").then(() => page.keyboard.press("Tab")));
  await page.locator("#known-note").waitFor();
  await page.waitForFunction(() => document.querySelector("#claim-text")?.value === "about 26 Ah of the cell");
  for (let i = 0; i < 2; i++) await act(() => page.locator("[data-do=undo]").click());
  await page.waitForFunction((text) => document.querySelector("[data-foremost=capacity] td:last-child").textContent === text, before);
  await end();
});

test("the engineer: what does removing a part buy?", async () => {
  const { page, act, figure, end } = await walk();
  await act(() => page.locator("[data-task=part]").click());
  await act(() => page.locator("#without .link").click());
  await page.locator("#without-part").waitFor();
  await act(() => page.locator("#without-part").selectOption("lower collector plate"));
  await act(() => page.getByLabel("share that becomes coating").fill("85 %").then(() => page.keyboard.press("Enter")));
  await page.waitForFunction(() => /without/.test(document.querySelector("[data-place='second.cell']")?.value));
  assert.ok(number(await figure("volumetric")) > 0);
  await page.locator("#reclaim tbody tr").nth(3).waitFor();
  await act(() => page.locator("[data-do=undo]").click());
  await page.waitForFunction(() => document.querySelector("[data-place='second.cell']").value === "Marram B");
  await end();
});

test("the student: which size, which electrode?", async () => {
  const { page, act, end } = await walk("single file");
  await act(() => page.locator("[data-task=size]").click());
  await page.locator("#sizes-picture .contour").first().waitFor({ timeout: 20_000 });
  const readout = page.locator("#sizes .readout").first();
  const before = await readout.textContent();
  await act(() => page.locator("#sizes-picture svg.map").focus().then(() => page.keyboard.press("ArrowRight")));
  await page.waitForFunction((text) => document.querySelector("#sizes .readout").textContent !== text, before);
  assert.match(await readout.textContent(), /mm.*Wh\/L/);
  await act(() => page.locator("#chapter-lesson > summary").click());
  await act(() => page.locator("#lesson input[type=radio]").nth(1).click());
  await page.locator("#lesson-picture svg.plot").waitFor({ timeout: 20_000 });
  // The gain levels off, as the lesson says: read at a quarter, a half and at the end.
  const values = await page.locator("#lesson-picture svg.plot").evaluate(async (svg) => {
    const read = [];
    for (const key of ["Home", "End"]) {
      svg.dispatchEvent(new KeyboardEvent("keydown", { key, bubbles: true }));
      await new Promise((resolve) => setTimeout(resolve, 100));
      read.push(svg.getAttribute("aria-valuetext"));
    }
    return read;
  });
  assert.match(values[0], /14 mm: .* \d+.* Wh\/L/);
  assert.match(values[1], /60 mm: .* \d+.* Wh\/L/);
  await end();
});

test("the analyst: can this claim be true?", async () => {
  const { page, act, end } = await walk();
  await act(() => page.locator("[data-task=claim]").click());
  await act(() => page.locator("#claim-text").fill("at least 1500 Wh/L of the cell"));
  await page.locator("#claim .finding.contradicted").waitFor({ timeout: 30_000 });
  assert.equal(await page.locator("#claim").getByText("Marram").count(), 0, "not judged against the demo");
  await act(() => page.locator("[data-do=undo]").click());
  await page.waitForFunction(() => document.querySelector("#claim-text").value === "");
  await end();
});

test("the analyst pastes a data sheet: whether it agrees with itself comes first, then each figure given the others, at no press of a button", async () => {
  const { page, act, end } = await walk();
  await act(() => page.locator("[data-task=claim]").click());
  await act(() => page.locator("#claim-text").fill("46 × 80, 26 Ah, 355 g, 300 Wh/kg, 2000 Wh/L"));
  await page.locator("#declared tbody tr").nth(3).waitFor({ timeout: 30_000 });
  assert.match(await page.locator("#claim .finding.contradicted").textContent(), /The declared figures do not agree with one another: 26 Ah × 3\.\d+/);
  assert.match(await page.locator("#consistency tbody tr").nth(0).textContent(), /26 Ah × .* ÷ 355 g.*300 Wh\/kg/s);
  assert.match(await page.locator("#declared tbody tr").nth(3).textContent(), /2000 Wh\/L.*contradicted/s);
  assert.ok((await page.locator("#nearest tbody tr").count()) >= 3);
  assert.equal(await page.locator("#start-size").inputValue(), "46 × 80 mm");
  await act(() => page.locator("[data-do=undo]").click());
  await page.waitForFunction(() => document.querySelector("#start-size").value !== "46 × 80 mm");
  await end();
});

test("the practitioner: what do my readings say?", async () => {
  const { page, act, end } = await walk();
  await act(() => page.locator("[data-task=readings]").click());
  await act(() => page.locator("#bench .link").click());
  await page.locator("#bench-picture").waitFor({ timeout: 30_000 });
  assert.match(await page.locator("#bench h3 + ul").first().textContent(), /anode width/);
  await act(() => page.locator("[data-do=accept]").click());
  await page.waitForFunction(() => document.querySelector(".said").textContent.includes("reconciled"));
  await act(() => page.locator("[data-do=undo]").click());
  await page.waitForFunction(() => document.querySelector(".said").textContent.includes("Undone"));
  assert.equal(await page.locator("[data-place='first.cell']").inputValue(), "Marram A");
  await end();
});

test("twenty terms of the field are found by a search of the page's text, and each leads to where it is at work", async () => {
  const { page, end } = await walk();
  const terms = "energy density, specific energy, jelly roll, current collector, areal loading, N/P ratio, form factor, internal resistance, C-rate, open-circuit voltage, irreversible capacity, tear-down, tabless, crimp, gasket, Monte Carlo, sensitivity, outlier, least squares, Pareto".split(", ");
  await page.locator(".glossary").waitFor();
  const text = (await page.locator("body").innerText()).toLowerCase();
  assert.deepEqual(terms.filter((term) => !text.includes(term.toLowerCase())), []);
  await page.getByRole("button", { name: "see where Monte Carlo is at work" }).click();
  await page.waitForFunction(() => document.querySelector("#chapter-sure").open && document.activeElement.closest("#chapter-sure"));
  await end();
});
