/** The model of the page and the native one say the same, to the last bit. */
import assert from "node:assert/strict";
import { spawn, spawnSync } from "node:child_process";
import { readFile } from "node:fs/promises";
import { before, test } from "node:test";
import { fileURLToPath } from "node:url";
import { demo, model } from "./harness.mjs";

const top = fileURLToPath(new URL("../../", import.meta.url));
const sheet = (name) => `demo/${name}.json`;
let wasm;
before(async () => (wasm = await model()));

// Both native programs in one build. By themselves, as the command line is built: in a build of the whole workspace a tool of the
// tests has JSON numbers read otherwise. Hardly optimized, for the bits are the same, and a build for speed takes minutes.
before(() => {
  const words = ["build", "--locked", "--quiet", "--package", "roulade-answer", "--example", "native", "--package", "roulade-tests", "--example", "fuzz"];
  assert.equal(spawnSync("cargo", words, { cwd: top, stdio: "inherit" }).status, 0);
});
const program = (name) => fileURLToPath(new URL(`${process.env.CARGO_TARGET_DIR ?? "target"}/debug/examples/${name}`, new URL("../../", import.meta.url)));

/** What the native example answers to words and to `input`. */
function native(words, input = "") {
  const { status, stdout, stderr } = spawnSync(program("native"), words, { cwd: top, encoding: "utf8", maxBuffer: 1e8, input });
  assert.equal(status, 0, stderr);
  return stdout.replace(/\n$/, "");
}

for (const pair of [["marram-a", "marram-b"], ["marram-b", "marram-small"], ["marram-small", "marram-small"]]) {
  test(`compare ${pair.join(" and ")}: the same text, byte for byte`, async () => {
    const mine = wasm.compare(await demo(pair[0]), await demo(pair[1]));
    assert.ok(mine.startsWith('{"ok":') && mine.length > 50_000);
    assert.ok(mine === native(["compare", ...pair.map(sheet)]), "the texts differ");
  });
}

for (const name of ["marram-a", "marram-b", "marram-small"]) {
  test(`${name}: the small model says what the whole one says, byte for byte`, async () => {
    const [small, text] = [await model("first"), await demo(name)];
    assert.ok(small.estimate(text) === wasm.estimate(text), "the estimates differ");
    assert.ok(small.compare(text, await demo("marram-small")) === wasm.compare(text, await demo("marram-small")), "the comparisons differ");
    const work = JSON.stringify({ version: 1, first: JSON.parse(text), claim: "at least 290 Wh/kg" });
    assert.ok(small.sheet(text) === wasm.sheet(text) && small.work(work) === wasm.work(work), "the sheets differ");
    assert.equal(small.edit ?? small.attribute, undefined, "the small model changes no sheet and does no long work");
  });
}

const questions = {
  sampled: async () => ({ sheet: await parsed("marram-b"), draws: 5000, seed: 3 }),
  "sampled, two cells": async () => ({ sheet: await parsed("marram-a"), second: await parsed("marram-b"), draws: 5000 }),
  claim: async () => ({ claim: "at least 290 Wh/kg", sheet: await parsed("marram-b"), draws: 2000 }),
  "claim, several figures": async () => ({ claims: ["26 Ah", "355 g", "300 Wh/kg", "750 Wh/L"], sheet: { can: { size: "46 × 80" }, cathode: { mix: [{ material: "NMC811" }] }, anode: { mix: [{ material: "graphite" }] } }, draws: 2000 }),
  attribute: async () => ({ first: await parsed("marram-a"), second: await parsed("marram-b"), draws: 50 }),
  map: async () => ({ sheet: await parsed("marram-b"), diameter: { from: "18 mm", to: "46 mm", steps: 10 }, height: { from: "65 mm", to: "95 mm", steps: 8 } }),
  reconcile: async () => ({ sheet: await parsed("marram-a"), readings: await text("bench.csv"), instruments: await text("instruments.csv"), cell: "Marram A" }),
};
const parsed = async (name) => JSON.parse(await demo(name));
const text = (name) => readFile(new URL(`../../demo/${name}`, import.meta.url), "utf8");

for (const [name, ask] of Object.entries(questions)) {
  test(`${name}: the same text, byte for byte`, async () => {
    const question = JSON.stringify(await ask());
    const verb = name.split(",")[0];
    const mine = wasm[verb](question, () => {});
    assert.ok(mine.startsWith('{"ok":') && mine.length > 2000, mine.slice(0, 500));
    assert.ok(mine === native([verb], question), "the texts differ");
  });
}

for (const [name, count] of [["marram-a", 10_000], ["marram-b", 10_000], ["marram-small", 10_000]]) {
  test(`${count} designs around ${name}: the same bits`, async () => {
    const text = await demo(name);
    const mine = wasm.digest(text, count, 7);
    assert.match(mine, /^\{"ok":"[0-9a-f]{16}"\}$/);
    assert.equal(mine, native(["digest", sheet(name), String(count), "7"]));
    assert.notEqual(wasm.digest(text, 20, 7), wasm.digest(text, 20, 8), "another seed, another digest");
  });
}

/** Questions by chance, right and wrong, and what the native model answers: of each target so many, from one seed. */
async function* fuzzed(targets, count, seed) {
  const words = ["--print", String(count), "--seed", String(seed), ...targets];
  const child = spawn(program("fuzz"), words, { cwd: top, stdio: ["ignore", "pipe", "inherit"] });
  let rest = "";
  for await (const piece of child.stdout.setEncoding("utf8")) {
    const lines = (rest + piece).split("\n");
    rest = lines.pop();
    for (const line of lines) yield JSON.parse(line);
  }
  if (child.exitCode === null) await new Promise((resolve) => child.once("exit", resolve));
  assert.equal(child.exitCode, 0);
}

/** So many of each in the suite; `AGREE=100` asks a hundred times as many, `SEED=7` others. */
const times = Number(process.env.AGREE ?? 1);
const seed = Number(process.env.SEED ?? 5);
/** Questions that the page's model has by another name. */
const called = { remove: "without", link: "work" };
for (const [what, targets, count] of [
  ["quick questions", ["estimate", "remove", "edit", "resize", "map", "sweep", "link"], 40],
  ["questions that take longer", ["sensitivity", "claim", "attribute", "reconcile", "next", "report"], 6],
  ["draws", ["sampled"], 24],
]) {
  test(`${what} by chance: the same text, byte for byte`, async (t) => {
    let [asked, answered] = [0, 0];
    for await (const [name, question, theirs] of fuzzed(targets, count * times, seed)) {
      const mine = wasm[called[name] ?? name](question, () => {});
      assert.ok(mine === theirs, `${name}: the texts differ\n${question.slice(0, 5000)}\n${mine.slice(0, 500)}\n${theirs.slice(0, 500)}`);
      asked++;
      if (mine.startsWith('{"ok":')) answered++;
    }
    assert.ok(asked >= targets.length * count && answered > asked / 20, `${answered} of ${asked} answered`);
    t.diagnostic(`${asked} questions, ${answered} of them answered`);
  });
}
