/**
 * Starts workers that hold a model: the small one that answers the first screen, or the whole one, which is fetched once that
 * answer is on the screen. The workers' code is carried inside the page, so that one can start at any time without the network.
 */
import { first, whole, type Kept } from "virtual:models";
import Worker from "./model.worker?worker&inline";
import { greeted } from "./greeted";
import type { Started } from "./serve";

/** A start whose bytes are read once and kept: every worker starts from the same. */
function starts({ bytes, packed }: Kept): () => Promise<Worker> {
  let kept: Promise<ArrayBuffer> | undefined;
  const ready = (): Promise<ArrayBuffer> => {
    const reading = (kept ??= bytes());
    // What could not be had is asked for again by whoever needs it next.
    reading.catch(() => kept === reading && (kept = undefined));
    return reading;
  };
  return async () => {
    // It starts while its model is on the way.
    const worker = new Worker({ name: "model" });
    try {
      const model = (await ready()).slice(0);
      const { failed } = await greeted<Started>(worker, { bytes: model, packed }, model);
      if (failed !== undefined) throw new Error(failed);
      return worker;
    } catch (error) {
      worker.terminate();
      throw error;
    }
  };
}

export const startWhole = starts(whole);
// The single file carries one model for both.
export const startFirst = first === whole ? startWhole : starts(first);
