/** Declared figures as they are pasted from a data sheet: "46 × 80, 26 Ah, 355 g, 300 Wh/kg, 750 Wh/L". The model weighs them; a size among them is the size of a fresh sheet. */
import { sized } from "./edits";
import type { Edit, Sheet } from "./model/contract";
import { canOf, sidesFrom } from "./size";

/** The size among them, by its name in whole millimetres, once it is written to its end: something follows it, or the text is `whole`. */
export function sizeFrom(text: string, whole: boolean): string | null {
  const pieces = text.split(/[;\n,]/);
  const size = pieces.find((piece, i) => (whole || i < pieces.length - 1) && sidesFrom(piece));
  return (size && canOf(size)?.size) || null;
}

/** Puts a fresh sheet, whose name is still that of its start, into a can that is called so; any other stays as it is. */
export function inSize(sheet: Sheet, size: string): Edit[] {
  const start = /^(.+ on .+), [^,]*×[^,]*$/.exec(sheet.cell ?? "");
  return !start || sheet.can.size === size ? [] : [{ set: "cell", to: `${start[1]}, ${size} mm` }, ...sized(size)];
}
