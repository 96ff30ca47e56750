/** Starts a worker that holds the model. Its code is carried inside the page, so that a worker can start at any time without the network. */
import { bytes } from "virtual:model-bytes";
import type { ToModel } from "./worker";
import ModelWorker from "./worker?worker&inline";

/** Read once and kept: every worker starts from the same bytes. */
let kept: Promise<ArrayBuffer> | undefined;

export async function start(): Promise<Worker> {
  kept ??= bytes();
  const model = (await kept).slice(0);
  const worker = new ModelWorker({ name: "model" });
  worker.postMessage({ bytes: model } satisfies ToModel, [model]);
  return worker;
}
