/** What of the compressor is used; its own types come as source, which was not written for settings as strict as ours. */
export function compress(bytes: Uint8Array, mode: 1 | 2 | 3 | 4 | 5 | 6 | 7 | 8 | 9): Uint8Array;
