/** What was packed with LZMA, unpacked by a worker that ends with it. */
import Worker from "./model.worker?worker&inline";
import type { ToModel } from "./serve";

export function unpacked(packed: ArrayBuffer): Promise<ArrayBuffer> {
  const worker = new Worker({ name: "unpacking" });
  return new Promise<ArrayBuffer>((resolve, reject) => {
    worker.addEventListener("message", ({ data }: MessageEvent<ArrayBuffer>) => resolve(data));
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      reject(new Error(event.message || "the worker could not be started"));
    });
    worker.postMessage({ unpack: packed } satisfies ToModel, [packed]);
  }).finally(() => worker.terminate());
}
