/** From a file to its text; the model reads that. */

/** Files above this are refused: a sheet is a few kilobytes. */
export const MOST_BYTES = 1_000_000;

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
