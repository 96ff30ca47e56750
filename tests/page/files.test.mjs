/** Sheets, links and tables in and out; nothing that comes from a file is more than text. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { builds, changes, chapter, demo, open, saved, sentence, stored, unfold, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const visited = (hash = "") => visit(stand.browser, builds["normal build"](stand.address) + hash);
const file = (name, text) => ({ name, mimeType: "application/json", buffer: Buffer.from(text) });
const load = async (page, told) => {
  await chapter(page, "files");
  await page.locator("[data-file=first]").setInputFiles(told);
};

test("a sheet that is loaded and saved is the same sheet", async () => {
  const { page, complaints, close } = await visited();
  const sheet = await demo("marram-small");
  await changes(page, () => load(page, file("small.json", sheet)));
  const { name, text } = await saved(page, page.locator("[data-save=first]"));
  assert.equal(name, "Marram-small.json");
  assert.deepEqual(JSON.parse(text), JSON.parse(sheet));
  assert.deepEqual(complaints, []);
  await close();
});

const refused = {
  "not JSON": ["notes.json", "loading 22.5", /notes\.json.*cannot be read: line 1, column 1/],
  "JSON, but not a sheet": ["list.json", "[1, 2]", /list\.json.*cannot be read: .*found a list; expected an object/],
  "of a later format": ["later.json", '{"roulade_sheet": 2}', /version 2/],
  "of 10 MB": ["large.json", " ".repeat(10_000_000), /10\.0 MB.*limit is 1 MB/],
};
for (const [what, [name, text, words]] of Object.entries(refused)) {
  test(`a file that is ${what} is refused in words, and nothing is lost`, async () => {
    const { page, complaints, close } = await visited();
    const good = await sentence(page);
    await load(page, file(name, text));
    await page.locator(".message").waitFor();
    assert.match(await page.locator(".message").textContent(), words);
    assert.equal(await sentence(page), good);
    assert.equal(await page.locator('[data-place="first.cell"]').inputValue(), "Marram A");
    assert.deepEqual(complaints, []);
    await close();
  });
}

test("markup in a file is shown as text", async () => {
  const { page, complaints, close } = await visited();
  const evil = `<img src=x onerror="document.title='run'"><script>document.title='run'</script>`;
  const sheet = JSON.parse(await demo("marram-small"));
  sheet.cell = evil;
  sheet.parts[0].name = evil;
  sheet.can.diameter.remark = evil;
  sheet.can.height = evil;
  await load(page, file(`${evil}.json`, JSON.stringify(sheet)));
  await page.locator("#stale").waitFor();
  sheet.can.height = "70.1 mm";
  await changes(page, () => load(page, file("evil.json", JSON.stringify(sheet))));
  assert.ok((await sentence(page)).includes(evil));
  await unfold(page);
  assert.equal(await page.locator("img, main script").count(), 0);
  assert.doesNotMatch(await page.title(), /run/);
  const { text } = await saved(page, page.locator("#section .tools button").first());
  assert.equal(await page.evaluate((svg) => new DOMParser().parseFromString(svg, "image/svg+xml").querySelectorAll("img, script, parsererror").length, text), 0);
  assert.deepEqual(complaints, []);
  await close();
});

test("a link of version 1 opens", async () => {
  const { page, complaints, close } = await visited((await stored("links/version-1.txt")).trim());
  await page.waitForFunction(() => document.querySelector('[data-place="first.cell"]')?.value === "Brindle small, linked");
  assert.equal(await page.locator('[data-place="first.cathode.loading"]').inputValue(), "22.9 ± 0.3 mg/cm²");
  assert.match(await sentence(page), /^Brindle small, linked/);
  assert.deepEqual(complaints, []);
  await close();
});

const links = { "from a newer page": ["#2.abc", /newer page.*version 2/], "cut short": ["#1.q1bKTq", /damaged or cut short/], "that is no base64": ["#1.%%%", /damaged/] };
for (const [what, [hash, words]] of Object.entries(links)) {
  test(`a link ${what} is refused in words`, async () => {
    const { page, complaints, close } = await visited(hash);
    await page.locator(".message").waitFor();
    assert.match(await page.locator(".message").textContent(), words);
    assert.match(await sentence(page), /± .* Wh\/L/);
    assert.deepEqual(complaints, []);
    await close();
  });
}

/** Rows of a CSV text with quoted fields. */
function rowsOf(text) {
  const rows = [[]];
  for (const [, quoted, plain, end] of text.matchAll(/(?:"((?:[^"]|"")*)"|([^",\r\n]*))(,|\r\n|$)/g)) {
    rows.at(-1).push(quoted === undefined ? plain : quoted.replaceAll('""', '"'));
    if (end === "\r\n") rows.push([]);
    if (end === "") break;
  }
  return rows.filter((row) => row.length > 1);
}

test("the ledger's CSV parses, and its lines add up to the cell", async () => {
  const { page, close } = await visited();
  await chapter(page, "mass");
  const { name, text } = await saved(page, page.locator("#ledger .tools button", { hasText: "CSV" }));
  assert.match(name, /\.csv$/);
  const [heads, ...lines] = rowsOf(text);
  assert.ok(lines.length > 20 && lines.every((line) => line.length === heads.length));
  const sum = (head) => lines.reduce((total, line) => total + Number(line[heads.indexOf(head)]), 0);
  const { first, second } = await page.evaluate(() => {
    const cells = [...document.querySelectorAll("#ledger tfoot .whole td.number")].map((td) => td.textContent.trim());
    return { first: [cells[0], cells[3]], second: [cells[1], cells[4]] };
  });
  for (const [cell, told] of [["Marram A", first], ["Marram B", second]]) {
    for (const [i, quantity] of ["mass, g", "volume, cm³"].entries()) {
      const [, shown, digits = ""] = /^(\d+(?:\.(\d+))?) ± /.exec(told[i]);
      assert.equal(sum(`${cell}: ${quantity}`).toFixed(digits.length), shown, `${cell}: ${quantity}`);
    }
  }
  await close();
});

test("every picture has a caption, a table behind it, and stands alone as SVG", async () => {
  const { page, close } = await visited();
  await unfold(page);
  const pictures = await page.locator("figure").evaluateAll((all) => all.map(({ id }) => id));
  for (const one of ["section", "roll", "curve", "plies", "budget", "closeup", "contributions-picture", "sizes-picture", "place", "tornado"]) assert.ok(pictures.includes(one), one);
  for (const id of pictures) {
    assert.ok((await page.locator(`#${id} figcaption`).textContent()).trim().length > 40, id);
    assert.ok((await page.locator(`#${id} details.behind tbody tr`).count()) >= 2, id);
    const { name, text } = await saved(page, page.locator(`#${id} .tools button`, { hasText: "SVG" }));
    assert.match(name, /\.svg$/);
    const told = await page.evaluate((svg) => {
      const parsed = new DOMParser().parseFromString(svg, "image/svg+xml");
      const all = [...parsed.querySelectorAll("*")];
      const ids = new Set(all.map((one) => one.id).filter(Boolean));
      const values = all.flatMap((one) => [...one.attributes].map(({ value }) => value));
      return {
        root: parsed.documentElement.nodeName,
        errors: parsed.querySelectorAll("parsererror").length,
        drawn: parsed.querySelectorAll("path, rect").length,
        variables: values.filter((value) => value.includes("var(")).length,
        dangling: values.flatMap((value) => [...value.matchAll(/url\(#?"?([^")]+)"?\)/g)].map(([, one]) => one)).filter((one) => !ids.has(one)),
        outside: values.filter((value) => /^(https?:|data:|blob:)/.test(value) && !value.startsWith("http://www.w3.org/")).length,
      };
    }, text);
    assert.ok(told.drawn > 5, id);
    assert.deepEqual({ ...told, drawn: 0 }, { root: "svg", errors: 0, drawn: 0, variables: 0, dangling: [], outside: 0 });
  }
  await close();
});
