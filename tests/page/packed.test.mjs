/** What was packed with LZMA comes out as it went in, whatever it was; what is damaged is refused. The packing is a library's. */
import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { pathToFileURL } from "node:url";
import { test } from "node:test";

const web = new URL("../../web/", import.meta.url);
const installed = createRequire(new URL("package.json", web));
const load = async (name) => import(pathToFileURL(installed.resolve(name)).href);
const [{ transformWithOxc }, { compress }] = [await load("vite"), await load("lzma1")];
const source = await readFile(new URL("src/model/unpack.ts", web), "utf8");
const { code } = await transformWithOxc(source, "unpack.ts");
const { unpack } = await import(`data:text/javascript,${encodeURIComponent(code)}`);

/** The same numbers at every run: a linear congruence, below `under`. */
function luck(seed) {
  let state = seed;
  return (under) => {
    state = (Math.imul(state, 1_103_515_245) + 12_345) >>> 0;
    return Math.floor((state / 2 ** 32) * under);
  };
}

test("bytes of every kind come out as they went in", () => {
  for (let seed = 0; seed < 400; seed++) {
    const draw = luck(seed);
    // From nothing to some thousand bytes, of two values or of 256, with stretches that come again near and far.
    const bytes = Uint8Array.from({ length: draw(2) * draw(40) + draw(2) * draw(9_000) }, ((kinds) => () => draw(kinds))(1 + draw(256)));
    for (let again = draw(9); again > 0; again--) bytes.copyWithin(draw(bytes.length + 1), draw(bytes.length + 1), draw(bytes.length + 1));
    assert.deepEqual(unpack(compress(bytes, 1 + draw(9))), bytes, `seed ${seed}`);
  }
});

test("a module comes out as it went in", async () => {
  const bytes = new Uint8Array(await readFile(new URL("model/first/roulade_wasm_bg.wasm", web)));
  assert.ok(Buffer.from(unpack(compress(bytes, 9))).equals(bytes));
});

test("what ends too early is refused, and what is changed never hangs", () => {
  const draw = luck(7);
  const bytes = Uint8Array.from({ length: 3_000 }, (_, at) => (at % 5 ? draw(256) : 7));
  const packed = compress(bytes, 9);
  for (const length of [20, 1_000, packed.length - 40]) assert.throws(() => unpack(packed.slice(0, length)), /ends too early|damaged/);
  let refused = 0;
  for (let turn = 0; turn < 200; turn++) {
    const damaged = packed.slice();
    // The last bytes only fill the coder up.
    damaged[20 + draw(packed.length - 40)] ^= 1 << draw(8);
    try {
      assert.notDeepEqual(unpack(damaged), bytes);
    } catch (error) {
      if (error instanceof assert.AssertionError) throw error;
      refused++;
    }
  }
  assert.notEqual(refused, 0, "none was refused");
});
