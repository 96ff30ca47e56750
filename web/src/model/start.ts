/**
 * Starts workers that hold a model: the small one that answers the first screen, or the whole one, which is fetched once that
 * answer is on the screen. The workers' code is carried inside the page, so that one can start at any time without the network.
 */
import { first, whole, type Kept } from "virtual:models";
import type { ToModel } from "./serve";

/** A start whose bytes are read once and kept: every worker starts from the same. */
function starts({ bytes, Worker }: Kept): { ready: () => Promise<ArrayBuffer>; start: () => Promise<Worker> } {
  let kept: Promise<ArrayBuffer> | undefined;
  const ready = (): Promise<ArrayBuffer> => {
    const reading = (kept ??= bytes());
    // What could not be had is asked for again by whoever needs it next.
    reading.catch(() => kept === reading && (kept = undefined));
    return reading;
  };
  const start = async (): Promise<Worker> => {
    const model = (await ready()).slice(0);
    const worker = new Worker({ name: "model" });
    worker.postMessage({ bytes: model } satisfies ToModel, [model]);
    return worker;
  };
  return { ready, start };
}

const large = starts(whole);
// The single file carries one model for both.
const small = first === whole ? large : starts(first);

export const startFirst = small.start;
export const startWhole = large.start;

/** Reads the whole model, so that all of the page works without the network from then on. */
export const prepareWhole = (): void => void large.ready().catch(() => undefined);
