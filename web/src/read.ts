/** From text to a sheet. Only what the page itself needs is checked here; the model judges the rest. */
import type { Sheet } from "./model/contract";

/** Files above this are refused: a sheet is a few kilobytes. */
export const MOST_BYTES = 1_000_000;

type Told = Record<string, unknown>;

export const isTold = (value: unknown): value is Told => typeof value === "object" && value !== null && !Array.isArray(value);
const isListOf = (value: unknown, name: string): boolean =>
  value === undefined || (Array.isArray(value) && value.every((one) => isTold(one) && typeof one[name] === "string"));

/** Throws an `Error` whose message says, in words, why this is not a sheet. */
export function sheetFrom(told: unknown): Sheet {
  const version = isTold(told) ? (told["roulade_sheet"] ?? 1) : 1;
  if (version === 1 && (!isTold(told) || !["can", "cathode", "anode"].some((name) => name in told))) throw new Error("is JSON, but not a design sheet: it has no “can”, “cathode” or “anode”");
  if (!isTold(told) || version !== 1) throw new Error(`is a sheet of version ${JSON.stringify(version)}; this page reads version 1`);
  const cell = told["cell"] ?? "unnamed";
  if (typeof cell !== "string") throw new Error("has something else than a name at “cell”");
  for (const name of ["can", "cathode", "anode"]) {
    if (!isTold(told[name])) throw new Error(`has no “${name}”, or something else than its entries stands there`);
  }
  for (const name of ["winding", "separator", "electrolyte", "voltage", "current_path"]) {
    if (told[name] !== undefined && !isTold(told[name])) throw new Error(`has something else than entries at “${name}”`);
  }
  if (!isListOf(told["parts"], "name")) throw new Error("“parts” is not a list of parts with names");
  if (!isListOf(told["materials"], "name")) throw new Error("“materials” is not a list of materials with names");
  for (const name of ["cathode", "anode"]) {
    if (!isListOf((told[name] as Told)["mix"], "material")) throw new Error(`“${name}.mix” is not a list of materials`);
  }
  return { ...told, roulade_sheet: 1, cell } as unknown as Sheet;
}

export function sheetFromText(text: string): Sheet {
  let told: unknown;
  try {
    told = JSON.parse(text);
  } catch (error) {
    throw new Error(`is not JSON (${error instanceof Error ? error.message : "unreadable"})`);
  }
  return sheetFrom(told);
}

/** UTF-8, or what its first bytes say; what is neither is taken as the usual encoding of spreadsheets. */
function decoded(bytes: Uint8Array): string {
  const [a, b] = bytes;
  if (a === 0xff && b === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  if (a === 0xfe && b === 0xff) return new TextDecoder("utf-16be").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}

export async function textFromFile(file: File): Promise<string> {
  if (file.size > MOST_BYTES) throw new Error(`is too large (${(file.size / 1e6).toFixed(1)} MB); the limit is 1 MB`);
  return decoded(new Uint8Array(await file.arrayBuffer()));
}
