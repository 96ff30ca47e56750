/**
 * Starts workers that hold a model: the small one that answers the first screen, or the whole one, which is fetched once that
 * answer is on the screen. The workers' code is carried inside the page, so that one can start at any time without the network.
 */
import { first, whole, type Kept } from "virtual:models";
import type { ToModel } from "./serve";

/** A start whose bytes are read once and kept: every worker starts from the same. */
function starts({ bytes, Worker }: Kept): () => Promise<Worker> {
  let kept: Promise<ArrayBuffer> | undefined;
  const ready = (): Promise<ArrayBuffer> => {
    const reading = (kept ??= bytes());
    // What could not be had is asked for again by whoever needs it next.
    reading.catch(() => kept === reading && (kept = undefined));
    return reading;
  };
  return async () => {
    const model = (await ready()).slice(0);
    const worker = new Worker({ name: "model" });
    worker.postMessage({ bytes: model } satisfies ToModel, [model]);
    return worker;
  };
}

export const startWhole = starts(whole);
// The single file carries one model for both.
export const startFirst = first === whole ? startWhole : starts(first);
