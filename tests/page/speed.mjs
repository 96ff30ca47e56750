/** What the page's model takes, and the native one, of the same questions: milliseconds, each the least of some turns, and their ratio.
 *
 *     cargo xtask page && node tests/page/speed.mjs
 */
import { spawnSync } from "node:child_process";
import { fileURLToPath } from "node:url";
import { demo, model } from "./harness.mjs";
import { readFile } from "node:fs/promises";

const TURNS = 7, TIMES = 3;
const top = fileURLToPath(new URL("../../", import.meta.url));
const wasm = await model();
const [a, b] = [await demo("marram-a"), await demo("marram-b")];
const [first, second] = [JSON.parse(a), JSON.parse(b)];
const text = (name) => readFile(new URL(`../../demo/${name}`, import.meta.url), "utf8");
const spans = { diameter: { from: "18 mm", to: "46 mm", steps: 20 }, height: { from: "65 mm", to: "95 mm", steps: 20 } };
const questions = {
  sampled: { sheet: first, draws: 20_000 },
  claim: { claim: "at least 290 Wh/kg", sheet: second, draws: 5000 },
  attribute: { first, second, draws: 50 },
  map: { sheet: second, ...spans },
  reconcile: { sheet: first, readings: await text("bench.csv"), instruments: await text("instruments.csv"), cell: "Marram A" },
};

/** The least of some runs of the native example, in milliseconds. */
function native(words, input = "") {
  const run = ["run", "--release", "--quiet", "--package", "roulade-answer", "--example", "native", "--", "times", `${TIMES}`, ...words];
  const { status, stderr } = spawnSync("cargo", run, { cwd: top, encoding: "utf8", maxBuffer: 1e8, input });
  if (status) throw new Error(stderr);
  return Number(stderr.trim().split("\n").at(-1));
}

function compiled(ask) {
  let least = Infinity;
  for (let i = 0; i < TIMES; i++) {
    const start = performance.now();
    ask();
    least = Math.min(least, performance.now() - start);
  }
  return least;
}

const ways = Object.entries(questions).map(([verb, question]) => {
  const asked = JSON.stringify(question);
  return [verb, () => native([verb], asked), () => wasm[verb](asked)];
});
ways.unshift(["compare", () => native(["compare", "demo/marram-a.json", "demo/marram-b.json"]), () => wasm.compare(a, b)]);

console.log("question        native ms     WebAssembly ms     ratio");
for (const [name, natively, inside] of ways) {
  let [least, mine] = [Infinity, Infinity];
  // In turns, so that whatever else the machine does slows both alike.
  for (let turn = 0; turn < TURNS; turn++) {
    least = Math.min(least, natively());
    mine = Math.min(mine, compiled(inside));
  }
  console.log(`${name.padEnd(12)}${least.toFixed(2).padStart(13)}${mine.toFixed(2).padStart(19)}${(mine / least).toFixed(2).padStart(10)}`);
}
