/** The state in the link: `#1.` and then JSON, deflated, as base64url. The model reads it; an older version it upgrades. */
import type { Changes, Prices, Sheet } from "./model/contract";
import { MOST_BYTES } from "./read";
import type { BenchSheet, Sizes } from "./state";

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

function toText(bytes: Uint8Array): string {
  let text = "";
  for (const byte of bytes) text += String.fromCharCode(byte);
  return btoa(text).replaceAll("+", "-").replaceAll("/", "_").replaceAll("=", "");
}

function toBytes(text: string): Uint8Array<ArrayBuffer> {
  return Uint8Array.from(atob(text.replaceAll("-", "+").replaceAll("_", "/")), (letter) => letter.charCodeAt(0));
}

export async function toHash(linked: Linked): Promise<string> {
  const packed = new Blob([JSON.stringify(linked)]).stream().pipeThrough(new CompressionStream("deflate-raw"));
  return `#${VERSION}.${toText(new Uint8Array(await new Response(packed).arrayBuffer()))}`;
}

/** Unpacks with a limit, since a short link can unpack to a very long text. */
async function unpack(text: string): Promise<string> {
  const reader = new Blob([toBytes(text)]).stream().pipeThrough(new DecompressionStream("deflate-raw")).getReader();
  const decoder = new TextDecoder("utf-8", { fatal: true });
  let told = "";
  for (;;) {
    const { done, value } = await reader.read();
    if (done) return told + decoder.decode();
    told += decoder.decode(value, { stream: true });
    if (told.length > MOST_BYTES) {
      await reader.cancel();
      throw new Error("holds more than 1 MB");
    }
  }
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
