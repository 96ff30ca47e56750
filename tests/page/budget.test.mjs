/** What a visitor downloads, compressed as servers do it, stays within its budget: first what the first answer waits for, then all. */
import assert from "node:assert/strict";
import { readdir, readFile } from "node:fs/promises";
import { test } from "node:test";
import { gzipSync } from "node:zlib";
import { dist } from "./harness.mjs";

const kilobytes = (bytes) => gzipSync(bytes, { level: 9 }).length / 1000;

const files = (await readdir(dist, { recursive: true, withFileTypes: true }))
  .filter((entry) => entry.isFile() && !entry.path.startsWith(`${dist}single`))
  .map((entry) => `${entry.path}/${entry.name}`);
const sizes = new Map(await Promise.all(files.map(async (file) => [file, kilobytes(await readFile(file))])));
const models = [...sizes].filter(([file]) => file.endsWith(".model")).sort(([, a], [, b]) => a - b);
const late = models.at(-1)?.[0];

/** Thousand bytes: one megabit takes a second for every 125. */
const budget = {
  "scripts before the first answer": [42, (file) => file.endsWith(".js") && !/later[^/]*\.js$/.test(file)],
  "all scripts": [76, (file) => file.endsWith(".js")],
  "the small model": [230, (file) => file === models[0]?.[0]],
  "the whole model": [660, (file) => file === late],
  "all before the first answer": [294, (file) => file !== late && !/later[^/]*\.js$/.test(file)],
};

for (const [what, [most, counts]] of Object.entries(budget)) {
  test(`${what}: within its budget`, (t) => {
    assert.equal(models.length, 2, "two models");
    const counted = [...sizes].filter(([file]) => counts(file));
    assert.notEqual(counted.length, 0, "no file was built");
    const sum = counted.reduce((all, [, size]) => all + size, 0);
    const words = `${what}: ${sum.toFixed(1)} of ${most} kB compressed`;
    t.diagnostic(words);
    assert.ok(sum <= most, words);
  });
}

test("the single file: within its budget", async (t) => {
  const most = 1_075;
  const size = (await readFile(`${dist}single/roulade.html`)).length / 1000;
  const words = `the single file: ${size.toFixed(0)} of ${most} kB`;
  t.diagnostic(words);
  assert.ok(size <= most, words);
});
