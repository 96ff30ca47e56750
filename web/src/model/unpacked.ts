/** What was packed with LZMA, unpacked by a worker that ends with it. */
import Worker from "./model.worker?worker&inline";
import { greeted } from "./greeted";

export function unpacked(packed: ArrayBuffer): Promise<ArrayBuffer> {
  const worker = new Worker({ name: "unpacking" });
  return greeted<ArrayBuffer>(worker, { unpack: packed }, packed).finally(() => worker.terminate());
}
