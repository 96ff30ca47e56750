/** The npm package as whoever installs it finds it: packed, installed offline where nothing else is, and used. */
import assert from "node:assert/strict";
import { execFileSync } from "node:child_process";
import { mkdtemp, readFile, rm, writeFile } from "node:fs/promises";
import { existsSync } from "node:fs";
import { createServer } from "node:http";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after, before, test } from "node:test";
import { fileURLToPath } from "node:url";

const top = fileURLToPath(new URL("../../", import.meta.url));
const laid = join(top, "target/npm/roulade-model");
const chromium = process.env.CHROMIUM ?? "/usr/bin/chromium";
let folder;

const run = (program, words) => execFileSync(program, words, { cwd: folder, encoding: "utf8", stdio: ["ignore", "pipe", "pipe"] });
/** The fenced blocks of a kind in the package's README. */
const blocks = async (kind) => [...(await readFile(join(laid, "README.md"), "utf8")).matchAll(new RegExp("```" + kind + "\\n([^]*?)```", "g"))].map(([, block]) => block);

before(async () => {
  folder = await mkdtemp(join(tmpdir(), "roulade-npm-"));
  await writeFile(join(folder, "package.json"), '{ "name": "somebody", "private": true, "type": "module" }');
  const packed = JSON.parse(run("npm", ["pack", laid, "--json"]))[0];
  run("npm", ["install", "--offline", "--no-audit", "--no-fund", `./${packed.filename}`]);
});
after(() => rm(folder, { recursive: true, force: true }));

test("the example of its README prints what stands below it", async () => {
  const [[example], [printed]] = [await blocks("js"), await blocks("text")];
  await writeFile(join(folder, "example.mjs"), example);
  const out = run("node", ["example.mjs"]);
  if (process.env.UPDATE) {
    const readme = join(top, "crates/roulade-wasm/npm/README.md");
    await writeFile(readme, (await readFile(readme, "utf8")).replace(/```text\n[^]*?```/, () => "```text\n" + out + "```"));
  } else assert.equal(out, printed, "UPDATE=1 node --test tests/npm/package.test.mjs");
});

test("it says what the command line says, and the small model what the whole one says", async () => {
  await writeFile(join(folder, "both.mjs"), `
    import { load, Problems } from "roulade-model";
    import { readFileSync } from "node:fs";
    const [a, b] = process.argv.slice(2).map((file) => readFileSync(file, "utf8"));
    const [whole, small] = [await load(), await load({ first: true })];
    const told = [];
    const share = (done, of) => told.push(done / of);
    const sampled = whole.sampled({ sheet: JSON.parse(a), draws: 5000 }, share);
    let refused;
    try { small.estimate("{}"); } catch (error) { refused = error instanceof Problems && error.problems.length; }
    const same = JSON.stringify(whole.compare(a, b)) === JSON.stringify(small.compare(JSON.parse(a), JSON.parse(b)));
    console.log(JSON.stringify({ cell: whole.estimate(a).cell, same, refused, told: told.at(-1), draws: sampled.draws, attribute: "attribute" in small }));
  `);
  const sheets = ["marram-a", "marram-b"].map((name) => join(top, "demo", `${name}.json`));
  const said = JSON.parse(run("node", ["both.mjs", ...sheets]));
  assert.deepEqual({ ...said, refused: said.refused > 0 }, { cell: "Marram A", same: true, refused: true, told: 1, draws: 5000, attribute: false });
});

test("its worker answers in a browser, tells of progress and of problems, and can be ended", { skip: !existsSync(chromium) && "no Chromium" }, async () => {
  const kinds = { js: "text/javascript", wasm: "application/wasm", html: "text/html" };
  const server = createServer(async (request, answer) => {
    const name = new URL(request.url, "http://here").pathname;
    const body = name === "/" ? "<!doctype html><title>a page</title>" : await readFile(join(folder, "node_modules/roulade-model", name)).catch(() => null);
    answer.writeHead(body === null ? 404 : 200, { "content-type": kinds[name === "/" ? "html" : name.split(".").at(-1)] ?? "text/plain" }).end(body ?? "");
  });
  await new Promise((listening) => server.listen(0, "127.0.0.1", listening));
  const { chromium: starter } = createRequire(join(top, "web/package.json"))("playwright-core");
  const browser = await starter.launch({ executablePath: chromium, args: ["--no-sandbox", "--disable-dev-shm-usage", "--disable-gpu"] });
  try {
    const page = await browser.newPage();
    await page.goto(`http://127.0.0.1:${server.address().port}/`);
    const sheet = await readFile(join(top, "demo/marram-a.json"), "utf8");
    const said = await page.evaluate(async (text) => {
      const { Problems, inWorker } = await import("/index.js");
      const model = inWorker();
      const told = [];
      const sampled = await model.sampled({ sheet: JSON.parse(text), draws: 40000 }, (done, of) => told.push(done / of));
      const refused = await model.estimate("{}").catch((error) => error instanceof Problems && error.problems.length > 0);
      const cell = (await model.estimate(text)).cell;
      const late = model.sampled({ sheet: JSON.parse(text), draws: 200000 });
      model.end();
      const ended = await late.catch((error) => error.message);
      return { draws: sampled.draws, progress: told.length > 0 && told.every((share) => share > 0 && share <= 1), refused, cell, ended };
    }, sheet);
    assert.deepEqual(said, { draws: 40000, progress: true, refused: true, cell: "Marram A", ended: "the worker was ended" });
  } finally {
    await browser.close();
    server.close();
  }
});

test("its types hold a use of it, and refuse a misuse", async () => {
  const tsc = (file) => execFileSync("node", [join(top, "web/node_modules/typescript/bin/tsc"), "--noEmit", "--strict", "--module", "nodenext", "--target", "es2023", "--lib", "es2023,dom", "--types", "", file], { cwd: folder, encoding: "utf8" });
  const use = (question) => `
    import { inWorker, load, type Comparison, type Sheet } from "roulade-model";
    const sheet: Sheet = { can: { diameter: "21 mm", height: "70 mm" }, cathode: { mix: [] }, anode: { mix: [] } };
    export async function ask(): Promise<string> {
      const [here, there] = [await load(), inWorker()];
      const both: Comparison = here.compare(sheet, "{}");
      return (await there.estimate(sheet)).cell + both.figures.length + here.${question}.answer.text;
    }
  `;
  await writeFile(join(folder, "use.ts"), use("estimate(sheet)"));
  tsc("use.ts");
  await writeFile(join(folder, "misuse.ts"), use("estimate(21)"));
  assert.throws(() => tsc("misuse.ts"), ({ stdout }) => /misuse\.ts.*TS2345/.test(stdout));
});
