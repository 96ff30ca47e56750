/** What was packed with LZMA, unpacked by a worker that ends with it. */
import Unpacking from "./unpack.worker?worker&inline";

export function unpacked(packed: ArrayBuffer): Promise<ArrayBuffer> {
  const worker = new Unpacking({ name: "unpacking" });
  return new Promise<ArrayBuffer>((resolve, reject) => {
    worker.addEventListener("message", ({ data }: MessageEvent<ArrayBuffer>) => resolve(data));
    worker.addEventListener("error", (event) => {
      event.preventDefault();
      reject(new Error(event.message || "the worker could not be started"));
    });
    worker.postMessage(packed, [packed]);
  }).finally(() => worker.terminate());
}
