/** The model's room: takes its bytes once, then answers questions in the order in which they come. */
import init, { compare, estimate, materials, without } from "../../model/roulade_wasm.js";
import type { Question } from "./contract";

export type ToModel = { bytes: ArrayBuffer } | { id: number; question: Question };
/** `text` is the model's answer as JSON; `broken` says why there is none. */
export type FromModel = { id: number; text: string } | { id: number; broken: string };

let ready: Promise<unknown> = Promise.reject(new Error("asked before it was started"));
ready.catch(() => undefined);

function answer(question: Question): string {
  if ("estimate" in question) return estimate(JSON.stringify(question.estimate));
  if ("compare" in question) return compare(JSON.stringify(question.compare.first), JSON.stringify(question.compare.second));
  if ("without" in question) return without(JSON.stringify(question.without));
  return materials();
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
    reply({ id: data.id, text: answer(data.question) });
  } catch (error) {
    reply({ id: data.id, broken: error instanceof Error ? error.message : String(error) });
  }
});
