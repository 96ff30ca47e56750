/** What a visitor downloads, compressed as servers do it, stays within its budget. */
import assert from "node:assert/strict";
import { readdir, readFile } from "node:fs/promises";
import { test } from "node:test";
import { gzipSync } from "node:zlib";
import { dist } from "./harness.mjs";

/** Thousand bytes: one megabit takes a second for every 125. */
const budget = { ".js": 48, ".wasm": 660, "": 720 };

test("the normal build stays within its budget", async (t) => {
  const files = (await readdir(dist, { recursive: true, withFileTypes: true }))
    .filter((entry) => entry.isFile() && !entry.path.startsWith(`${dist}single`))
    .map((entry) => `${entry.path}/${entry.name}`);
  const sizes = await Promise.all(files.map(async (file) => [file, gzipSync(await readFile(file), { level: 9 }).length]));
  for (const [ending, most] of Object.entries(budget)) {
    const counted = sizes.filter(([file]) => file.endsWith(ending));
    assert.notEqual(counted.length, 0, `no ${ending || "file"} was built`);
    const kilobytes = counted.reduce((sum, [, size]) => sum + size, 0) / 1000;
    const words = `${ending || "everything"}: ${kilobytes.toFixed(1)} of ${most} kB compressed`;
    t.diagnostic(words);
    assert.ok(kilobytes <= most, words);
  }
});
