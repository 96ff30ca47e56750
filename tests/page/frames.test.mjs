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

test("real frames: counted and timed, without a limit that a busy machine would break", async (t) => {
  const { page, close } = await visit(stand.browser, builds["normal build"](stand.address));
  const told = await page.evaluate(
    async ([place, figure]) => {
      let frames = 0;
      const count = () => {
        frames++;
        requestAnimationFrame(count);
      };
      requestAnimationFrame(count);
      const input = document.querySelector(place);
      const base = input.value;
      input.focus();
      const all = [];
      for (let i = 0; i < 54; i++) {
        await new Promise((resolve) => setTimeout(resolve, 90 + 7 * (i % 5)));
        const row = document.querySelector(figure);
        const [from, start] = [frames, performance.now()];
        const drawn = new Promise((resolve) => {
          const seen = new MutationObserver(() => {
            seen.disconnect();
            resolve({ frames: frames - from, time: performance.now() - start });
          });
          seen.observe(row, { subtree: true, childList: true, characterData: true });
        });
        input.value = i % 2 ? base : base.replace(/^\d+/, (digits) => String(Number(digits) - 1));
        input.dispatchEvent(new InputEvent("input", { bubbles: true }));
        all.push(await drawn);
      }
      return all.slice(4);
    },
    [PLACE, FIGURE],
  );
  const sorted = (of) => told.map(of).sort((a, b) => a - b);
  const [times, frames] = [sorted(({ time }) => time), sorted(({ frames }) => frames)];
  t.diagnostic(`from the keystroke to the frame with the new figures, of ${told.length}: median ${times[25].toFixed(1)} ms, worst ${times.at(-1).toFixed(1)} ms; frames: median ${frames[25]}, worst ${frames.at(-1)}`);
  assert.equal(told.length, 50);
  await close();
});
