/** A change of one entry is on the screen within two frames. */
import assert from "node:assert/strict";
import { after, before, test } from "node:test";
import { builds, open, visit } from "./harness.mjs";

let stand;
before(async () => (stand = await open()));
after(() => stand?.close());

const PLACE = '[data-place="first.cathode.loading"]';
const FIGURE = "[data-foremost=volumetric] .change";

/**
 * Frames are driven by hand, so that a busy machine cannot make them pass: what the page draws is drawn when `frame` is
 * called. One frame passes while the model works, as on a machine that keeps time, and the next must hold the answer.
 */
test("driven frames: the second after a keystroke shows the new figures", async () => {
  const context = { viewport: { width: 1280, height: 900 } };
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address), context);
  await page.locator(PLACE).focus();
  await page.waitForTimeout(500);
  const round = () => page.evaluate(
    async ([place, figure]) => {
      let waiting = [];
      window.requestAnimationFrame = (draw) => waiting.push(draw);
      window.cancelAnimationFrame = () => undefined;
      const frame = () => waiting.splice(0).forEach((draw) => draw(performance.now()));
      const input = document.querySelector(place);
      const base = input.value;
      const counts = [];
      for (let i = 0; i < 11; i++) {
        const before = document.querySelector(figure).textContent;
        input.value = i % 2 ? base : base.replace(/^\d+/, (digits) => String(Number(digits) - 1));
        input.dispatchEvent(new InputEvent("input", { bubbles: true }));
        frame();
        let frames = 1;
        // The next frame is due once the page has something to draw: the answer, and nothing before it.
        const start = performance.now();
        while (document.querySelector(figure).textContent === before && performance.now() - start < 5000) {
          if (waiting.length > 0) {
            frame();
            frames++;
          } else await new Promise((resolve) => setTimeout(resolve, 1));
        }
        counts.push(document.querySelector(figure).textContent === before ? Infinity : frames);
      }
      return counts;
    },
    [PLACE, FIGURE],
  );
  const median = (counts) => counts.toSorted((a, b) => a - b)[counts.length >> 1];
  // A busy machine may keep the worker waiting for a frame more: such a round says nothing of the page.
  const rounds = [await round()];
  while (median(rounds.at(-1)) > 2 && rounds.length < 4) rounds.push(await round());
  assert.ok(median(rounds.at(-1)) <= 2, `frames: ${rounds.map((counts) => counts.join(", ")).join("; ")}`);
  await close();
});

/**
 * Real frames, from the keystroke until the figures are painted. What the page itself adds to the model's time is asserted in frames,
 * which are longer on a busy machine as all else is; where the model takes less than a frame that is two in the middle and four at worst.
 */
test("real frames: the figures are painted in the frame after the answer", async (t) => {
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address));
  await page.waitForTimeout(500);
  const told = await page.evaluate(
    async ([place, figure]) => {
      const ticks = [];
      const tick = (now) => {
        ticks.push(now);
        requestAnimationFrame(tick);
      };
      requestAnimationFrame(tick);
      // An answer about both cells is the only long text that the page reads.
      let came = null;
      const parse = JSON.parse;
      JSON.parse = (text, ...others) => {
        if (text?.length > 100_000) came = { frames: ticks.length, time: performance.now() };
        return parse(text, ...others);
      };
      const painted = new MessageChannel();
      const input = document.querySelector(place);
      const base = input.value;
      input.focus();
      const all = [];
      for (let i = 0; i < 54; i++) {
        await new Promise((resolve) => setTimeout(resolve, 90 + 7 * (i % 5)));
        const row = document.querySelector(figure);
        came = null;
        const [from, start] = [ticks.length, performance.now()];
        const drawn = new Promise((resolve) => {
          const seen = new MutationObserver(() => {
            seen.disconnect();
            const frames = ticks.length;
            // A message is handled once what this frame changed is painted.
            painted.port1.onmessage = () => resolve({ frames: frames - from, after: frames - came.frames, model: came.time - start, time: performance.now() - start });
            painted.port2.postMessage(null);
          });
          seen.observe(row, { subtree: true, childList: true, characterData: true });
        });
        input.value = i % 2 ? base : base.replace(/^\d+/, (digits) => String(Number(digits) - 1));
        input.dispatchEvent(new InputEvent("input", { bubbles: true }));
        all.push(await drawn);
      }
      JSON.parse = parse;
      return { all: all.slice(4), frame: (ticks.at(-1) - ticks[0]) / (ticks.length - 1) };
    },
    [PLACE, FIGURE],
  );
  const { all, frame } = told;
  const at = (share, of) => all.map(of).sort((a, b) => a - b)[Math.floor(share * (all.length - 1))];
  const [middle, most] = [0.5, 0.95].map((share) => ({
    frames: at(share, ({ frames }) => frames), after: at(share, ({ after }) => after), model: at(share, ({ model }) => model), time: at(share, ({ time }) => time),
  }));
  const words = (one) => `${one.frames} frames, ${one.after} of them after the answer, which took ${one.model.toFixed(1)} ms; painted after ${one.time.toFixed(1)} ms`;
  t.diagnostic(`a frame takes ${frame.toFixed(1)} ms; of ${all.length} keystrokes, median: ${words(middle)}; 95th percentile: ${words(most)}`);
  assert.equal(all.length, 50);
  assert.ok(middle.after <= 1, "the frame after the answer shows it");
  assert.ok(most.after <= 2, "and hardly ever a later one");
  assert.ok(middle.frames <= 1 + Math.ceil(middle.model / frame), "the page adds one frame to the model's time");
  assert.ok(most.frames <= 3 + Math.ceil(most.model / frame), "and three at most");
  await close();
});
