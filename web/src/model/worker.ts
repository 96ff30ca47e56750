/** The model's room: takes its bytes once, then answers questions in the order in which they come. */
import init, { claim, compare, estimate, leaning, map, materials, next, reconcile, report, resize, sampled, sweep, without, worth } from "../../model/roulade_wasm.js";
import type { LongKind, LongQuestion, Question } from "./contract";

export type ToModel = { bytes: ArrayBuffer } | { id: number; question: Question } | { id: number; long: LongQuestion };
/** `text` is the model's answer as JSON; `broken` says why there is none; `share` of long work is done. */
export type FromModel = { id: number; text: string } | { id: number; broken: string } | { id: number; share: number };

const TELL_EVERY_MS = 50;

let ready: Promise<unknown> = Promise.reject(new Error("asked before it was started"));
ready.catch(() => undefined);

/** Questions that take a while; each has a function of its name in the model. */
const long: Record<LongKind, (question: string, tell: (done: number, of: number) => void) => string> = { claim, leaning, map, next, reconcile, report, sampled, sweep, worth };

function answer(question: Question): string {
  if ("estimate" in question) return estimate(JSON.stringify(question.estimate));
  if ("compare" in question) return compare(JSON.stringify(question.compare.first), JSON.stringify(question.compare.second));
  if ("without" in question) return without(JSON.stringify(question.without));
  if ("resize" in question) return resize(JSON.stringify(question.resize));
  return materials();
}

function answerLong(id: number, { kind, asked }: LongQuestion): string {
  let told = performance.now();
  return long[kind](JSON.stringify(asked), (done, of) => {
    const now = performance.now();
    if (now - told < TELL_EVERY_MS) return;
    told = now;
    reply({ id, share: done / of });
  });
}

function reply(message: FromModel): void {
  self.postMessage(message);
}

self.addEventListener("message", async ({ data }: MessageEvent<ToModel>) => {
  if ("bytes" in data) {
    ready = init({ module_or_path: data.bytes });
    ready.catch(() => undefined);
    return;
  }
  try {
    await ready;
    reply({ id: data.id, text: "long" in data ? answerLong(data.id, data.long) : answer(data.question) });
  } catch (error) {
    reply({ id: data.id, broken: error instanceof Error ? error.message : String(error) });
  }
});
