/** The state in the link: `#1.` and then JSON, deflated, as base64url. Old links are upgraded step by step. */
import type { Changes, Prices, Sheet } from "./model/contract";
import { isTold, MOST_BYTES, sheetFrom } from "./read";
import { NO_BENCH, type BenchSheet, type Sizes } from "./state";

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
  return linkedFrom(told);
}

/** Checks every field of a state; throws an `Error` that says which one is not what it must be. */
export function linkedFrom(told: unknown): Linked {
  if (!isTold(told)) throw new Error("holds no state of the page");
  const { first, second, changes, prices, claim, bench, discharge, sizes } = told;
  const checked = <T>(value: unknown, is: (value: unknown) => boolean, what: string): T | undefined => {
    if (value !== undefined && !is(value)) throw new Error(`holds ${what} in another form than this page writes`);
    return value as T | undefined;
  };
  const isText = (value: unknown): boolean => typeof value === "string";
  const linked: Record<string, unknown> = {
    second: second === undefined ? undefined : sheetFrom(second),
    changes: checked<Changes>(changes, isChanges, "a grouping of changes"),
    prices: checked<Prices>(prices, isPrices, "prices"),
    claim: checked<string>(claim, isText, "a declared figure"),
    bench: checked<Partial<BenchSheet>>(bench, isBench, "readings"),
    discharge: checked<string>(discharge, isText, "a measured discharge"),
    sizes: checked<Sizes>(sizes, isSizes, "form factors"),
  };
  const written = Object.fromEntries(Object.entries(linked).filter(([, value]) => value !== undefined));
  return { version: 1, first: sheetFrom(first), ...written };
}

const isListOf = (told: unknown, is: (one: unknown) => boolean): boolean => Array.isArray(told) && told.every(is);
const areTexts = (told: unknown): boolean => isTold(told) && Object.values(told).every((one) => typeof one === "string");
const areNumbers = (told: unknown): boolean => told === undefined || (isTold(told) && Object.values(told).every((one) => typeof one === "number"));

const isChanges = (told: unknown): boolean =>
  isTold(told) && isListOf(told["changes"], (one) => isTold(one) && typeof one["name"] === "string" && isListOf(one["keys"], (key) => typeof key === "string"));

const isPrices = (told: unknown): boolean =>
  isTold(told) && (told["currency"] === undefined || typeof told["currency"] === "string") && areNumbers(told["per_kg"]) && areNumbers(told["per_part"]);

const CHOICES: Partial<Record<keyof BenchSheet, readonly unknown[]>> = { side: ["first", "second"], loss: ["normal", "huber", "student"] };

const isBench = (told: unknown): boolean =>
  isTold(told) &&
  Object.entries(told).every(([name, value]) => {
    const usual = (NO_BENCH as unknown as Record<string, unknown>)[name];
    return usual !== undefined && typeof value === typeof usual && (CHOICES[name as keyof BenchSheet]?.includes(value) ?? true);
  });

function isSizes(told: unknown): told is Sizes {
  if (!isTold(told)) return false;
  const { along, figure, hold } = told;
  const isAxis = (axis: unknown): boolean => areTexts(axis) && ["key", "from", "to"].every((end) => end in (axis as object));
  return Array.isArray(along) && (along.length === 1 || along.length === 2) && along.every(isAxis) && typeof figure === "string" && areTexts(hold);
}
