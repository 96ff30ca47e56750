/** The state in the link: `#1.` and then JSON, deflated, as base64url. The model reads it; an older version it upgrades. */
import type { Changes, Prices, Sheet } from "./model/contract";
import { MOST_BYTES } from "./read";
import { type BenchSheet, NO_BENCH, type Sizes, USUAL_SIZES, type Work, workOn } from "./state";

/** All of the work that is worth keeping, and nothing of what is shown. */
export interface Linked {
  version: 1;
  first: Sheet;
  second?: Sheet;
  changes?: Changes;
  prices?: Prices;
  claim?: string;
  bench?: Partial<BenchSheet>;
  /** A measured discharge, CSV text. */
  discharge?: string;
  sizes?: Sizes;
}

const VERSION = 1;

/** Readings longer than this stay out of the link, which some programs cut short. */
export const LONGEST_IN_LINK = 20_000;

/** The work as it stands, in the form of links and files. */
export function linkedOf({ first, second, changes, prices, claim, bench, discharge, sizes }: Work): Linked {
  return {
    version: 1,
    first,
    ...(second && { second }),
    ...(changes && { changes }),
    ...(prices && { prices }),
    ...(claim && { claim }),
    ...(bench.readings && { bench }),
    ...(discharge && { discharge }),
    ...(JSON.stringify(sizes) !== JSON.stringify(USUAL_SIZES) && { sizes }),
  };
}

export const workFrom = ({ first, second, changes, prices, claim, bench, discharge, sizes }: Linked): Work => ({
  ...workOn({ first, second: second ?? null }),
  changes: changes ?? null, prices: prices ?? null, claim: claim ?? "", bench: { ...NO_BENCH, ...bench }, discharge: discharge ?? "", sizes: sizes ?? USUAL_SIZES,
});

function toText(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

function toBytes(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (letter) => letter.charCodeAt(0));
}

async function toHash(linked: Linked): Promise<string> {
  const packed = new Blob([JSON.stringify(linked)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  return `#${VERSION}.${toText(new Uint8Array(await new Response(packed).arrayBuffer()))}`;
}

/** Unpacks with a limit, since a short link can unpack to a very long text. */
async function unpack(text: string): Promise<string> {
  const reader = new Blob([toBytes(text)]).stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let written = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return written + decoder.decode();
    written += decoder.decode(value, { stream: true });
    if (written.length > MOST_BYTES) {
      await reader.cancel();
      throw new Error("holds more than 1 MB");
    }
  }
}

/** The link to the work as it stands. */
export async function addressOf(work: Work): Promise<string> {
  const { bench, ...others } = linkedOf(work);
  const short = bench && (bench.readings?.length ?? 0) + (bench.instruments?.length ?? 0) <= LONGEST_IN_LINK;
  return location.href.replace(/#.*$/, "") + (await toHash({ ...others, ...(short && { bench }) }));
}

/** Whether the part after `#` is a state at all; anything else is a place on the page. */
export const isState = (hash: string): boolean => /^#\d+\./.test(hash);

/**
 * The text that a link holds, for the model to read: what is wrong with it is judged there, as in a file. Throws an `Error` whose
 * message says, in words, why there is none.
 */
export async function textOf(hash: string): Promise<string> {
  const [, digits = "", text = ""] = /^#(\d+)\.(.*)$/.exec(hash) ?? [];
  const version = Number(digits);
  if (version > VERSION) throw new Error(`was made by a newer page (version ${version}; this page reads up to ${VERSION})`);
  try {
    return await unpack(text);
  } catch (error) {
    throw new Error(`is damaged or cut short (${error instanceof Error && error.message ? error.message : "cannot be unpacked"})`);
  }
}
