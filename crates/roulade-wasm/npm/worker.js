/** The whole model in a worker: questions come in as messages, answers, progress and problems go out. */
import { Problems, load } from "./index.js";

const LONG = new Set(["claim", "sensitivity", "map", "next", "reconcile", "report", "sampled", "sweep", "attribute"]);
const TELL_EVERY_MS = 50;
const loading = load();
// What fails to load is told with the first question.
loading.catch(() => {});

self.addEventListener("message", async ({ data: { id, name, questions } }) => {
  try {
    const model = await loading;
    let told = performance.now();
    const tell = (done, of) => {
      const now = performance.now();
      if (now - told < TELL_EVERY_MS) return;
      told = now;
      self.postMessage({ id, done, of });
    };
    self.postMessage({ id, ok: LONG.has(name) ? model[name](...questions, tell) : model[name](...questions) });
  } catch (error) {
    self.postMessage(error instanceof Problems ? { id, problems: error.problems } : { id, broken: String(error?.message ?? error) });
  }
});
