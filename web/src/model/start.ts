/** Starts the model's worker: a file beside the page, or, in the single file, a worker carried inside it. */
import { bytes } from "virtual:model-bytes";
import type { ToModel } from "./worker";

/** Read once and kept, so that a model that broke can be started again without the network. */
let kept: Promise<ArrayBuffer> | undefined;

export async function start(): Promise<Worker> {
  kept ??= bytes();
  const model = (await kept).slice(0);
  const { default: ModelWorker } = __SINGLE__ ? await import("./worker?worker&inline") : await import("./worker?worker");
  const worker = new ModelWorker({ name: "model" });
  worker.postMessage({ bytes: model } satisfies ToModel, [model]);
  return worker;
}
