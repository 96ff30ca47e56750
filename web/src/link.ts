/** The state in the link: `#1.` and then JSON, deflated, as base64url. Old links are upgraded step by step. */
import type { Changes, Prices, Sheet } from "./model/contract";
import { isTold, MOST_BYTES, sheetFrom } from "./read";
import type { BenchSheet, Sizes } from "./state";

export interface Linked {
  version: 1;
  first: Sheet;
  second?: Sheet;
  changes?: Changes;
  prices?: Prices;
  claim?: string;
  bench?: Partial<BenchSheet>;
  sizes?: Sizes;
}

const VERSION = 1;

/** From the version it stands at to the next. Version 1 is the first, so there is nothing to do yet. */
const upgraders: Record<number, (told: unknown) => unknown> = {};

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
  const decoder = new TextDecoder();
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

/** Throws an `Error` whose message says, in words, why the link cannot be read. */
export async function fromHash(hash: string): Promise<Linked> {
  const [, digits = "", text = ""] = /^#(\d+)\.(.*)$/.exec(hash) ?? [];
  const version = Number(digits);
  if (version > VERSION) throw new Error(`was made by a newer page (version ${version}; this page reads up to ${VERSION})`);
  let told: unknown;
  try {
    told = JSON.parse(await unpack(text));
  } catch (error) {
    throw new Error(`is damaged or cut short (${error instanceof Error && error.message ? error.message : "cannot be unpacked"})`);
  }
  for (let at = version; at < VERSION; at++) {
    const upgrade = upgraders[at];
    if (!upgrade) throw new Error(`has version ${at}, which never was`);
    told = upgrade(told);
  }
  const { first, second, changes, prices, claim, bench, sizes } = (told ?? {}) as Record<string, unknown>;
  return {
    version: 1,
    first: sheetFrom(first),
    ...(second !== undefined && { second: sheetFrom(second) }),
    // The model judges what stands in these; here only that they are of the right kind.
    ...(isTold(changes) && { changes: changes as unknown as Changes }),
    ...(isTold(prices) && { prices: prices as Prices }),
    ...(typeof claim === "string" && { claim }),
    ...(isTold(bench) && { bench: bench as Partial<BenchSheet> }),
    ...(isSizes(sizes) && { sizes }),
  };
}

const areTexts = (told: unknown): boolean => isTold(told) && Object.values(told).every((one) => typeof one === "string");

function isSizes(told: unknown): told is Sizes {
  if (!isTold(told)) return false;
  const { along, figure, hold } = told;
  const isAxis = (axis: unknown): boolean => areTexts(axis) && ["key", "from", "to"].every((end) => end in (axis as object));
  return Array.isArray(along) && (along.length === 1 || along.length === 2) && along.every(isAxis) && typeof figure === "string" && areTexts(hold);
}
