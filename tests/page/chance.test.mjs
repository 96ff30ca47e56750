/** Links by chance: whatever a link holds, the page shows it or says what is wrong with it, is not blank and goes on. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { deflateRawSync } from "node:zlib";
import { builds, demo, open, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const COUNT = Number(process.env.LINKS ?? 60);
const link = (state) => `#1.${deflateRawSync(JSON.stringify(state)).toString("base64url")}`;

/** Chance from a seed (Marsaglia, J. Stat. Softw. 8 (2003) 14: xorshift). */
function luck(seed) {
  let x = seed >>> 0 || 1;
  return (below) => {
    x ^= x << 13;
    x ^= x >>> 17;
    x ^= x << 5;
    return (x >>> 0) % below;
  };
}

const ODD = [null, true, 7, -1, 1e300, "", "x", "5 mm", "1e400 mm", [], {}, [[]], [null], { value: 3 }, { value: "5 mm", from: "nowhere" }, "\u202eabc\u001b[31m", "<b onload=x>", "__proto__"];
const KEYS = ["__proto__", "constructor", "can", "parts", "mix", "value", "bench", "readings", "toString", ""];

/** Every place of a value, as the objects and keys that lead there. */
const places = (value) => (value && typeof value === "object" ? Object.keys(value).flatMap((key) => [[value, key], ...places(value[key])]) : []);

/** Does something to one place: another value, none, another key, twice in its list. */
function damage(state, below) {
  const all = places(state);
  if (!all.length) return;
  const [holder, key] = all[below(all.length)];
  const what = below(5);
  if (what === 0) delete holder[key];
  else if (what === 1 && Array.isArray(holder)) holder.push(structuredClone(holder[key]));
  else if (what === 2 && !Array.isArray(holder)) Object.defineProperty(holder, KEYS[below(KEYS.length)], { value: holder[key], enumerable: true, configurable: true, writable: true });
  else holder[key] = structuredClone(ODD[below(ODD.length)]);
}

test(`${COUNT} links by chance: none blanks the page or makes the browser complain`, async (t) => {
  const [small, large] = [JSON.parse(await demo("marram-small")), JSON.parse(await demo("marram-b"))];
  const whole = {
    version: 1,
    first: small,
    second: large,
    changes: { changes: [{ name: "can", keys: ["can.wall"] }] },
    prices: { currency: "€", per_kg: { copper: 9 }, per_part: { lid: 0.1 } },
    claim: "at least 190 Wh/kg",
    bench: { readings: "quantity;value;unit\ncell mass;70;g\n", side: "first", loss: "huber", between: false },
    discharge: "0;4.1\n3;3.6\n",
    sizes: { along: [{ key: "can.diameter", from: "18 mm", to: "46 mm" }], figure: "volumetric", hold: { wall: "stays" } },
  };
  const { page, complaints, close } = await visit(stand.browser, builds["normal build"](stand.address));
  const below = luck(Number(process.env.SEED ?? 20311));
  let told = 0;
  for (let i = 0; i < COUNT; i++) {
    const state = structuredClone(whole);
    if (below(2)) delete state.second;
    for (let n = below(3); n >= 0; n--) damage(state, below);
    const hash = link(state);
    await page.evaluate((to) => (location.hash = to), hash);
    await page.waitForTimeout(60);
    await page.waitForFunction(() => document.querySelector("[aria-busy=true]") === null, null, { timeout: 10_000 });
    const seen = await page.evaluate(() => ({ heading: document.querySelector("h1")?.textContent, length: document.querySelector("#page").textContent.length, told: document.querySelectorAll(".message").length }));
    const what = JSON.stringify(state).slice(0, 4000);
    assert.ok(seen.heading && seen.length > 500, `blank after ${what}`);
    assert.deepEqual(complaints, [], what);
    if (seen.told) told++;
  }
  assert.ok(told > 0, "some are refused in words");
  // And it still works.
  await page.evaluate((to) => (location.hash = to), link({ version: 1, first: small }));
  await page.waitForFunction(() => /± .* Wh\/L/.test(document.querySelector(".sentence")?.textContent ?? ""), null, { timeout: 10_000 });
  t.diagnostic(`${told} of ${COUNT} refused in words`);
  await close();
});
