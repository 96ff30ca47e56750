/** A worker's first message: what it was started for, or why it could not be had. */
import type { ToModel } from "./serve";

/** Unpacking and compiling take a slow phone some seconds; a worker that has said nothing for so long has died or hangs. */
const PATIENCE_MS = 20_000;

/** Hands a new worker the bytes that it starts with. */
export function greeted<T>(worker: Worker, message: ToModel, bytes: ArrayBuffer): Promise<T> {
  const listening = new AbortController();
  const { signal } = listening;
  return new Promise<T>((resolve, reject) => {
    worker.addEventListener("message", ({ data }: MessageEvent<T>) => resolve(data), { signal });
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      reject(new Error(event.message || "the worker could not be started"));
    }, { signal });
    const silent = setTimeout(() => reject(new Error("the worker did not start")), PATIENCE_MS);
    signal.addEventListener("abort", () => clearTimeout(silent));
    worker.postMessage(message, [bytes]);
  }).finally(() => listening.abort());
}
