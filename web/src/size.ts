/** Sizes of cans as they are written. */
import type { Sheet } from "./model/contract";

/** "46 × 80", "46x80 mm", "1.8 in × 2.6 in": both sides as entries, or `null` where they cannot be told apart. */
export function sidesFrom(size: string): { diameter: string; height: string } | null {
  const [, width = "", unit = "", tall = "", other = ""] = /^\s*[⌀ø]?\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|in|m)?\s*[×xX*/]\s*(\d+(?:[.,]\d+)?)\s*(mm|cm|in|m)?\s*$/.exec(size) ?? [];
  if (!width || !tall) return null;
  const last = other || unit || "mm";
  return { diameter: `${width} ${unit || last}`, height: `${tall} ${last}` };
}

/** The can of a size: whole millimetres are its name, which the model knows the outer dimensions of; anything else was measured. */
export function canOf(size: string): Pick<Sheet["can"], "size" | "diameter" | "height"> | null {
  const sides = sidesFrom(size);
  if (!sides) return null;
  const whole = [sides.diameter, sides.height].map((side) => /^(\d+) mm$/.exec(side)?.[1]);
  const from = "stated" as const;
  return whole.every(Boolean) ? { size: whole.join(" × ") } : { diameter: { value: sides.diameter, from }, height: { value: sides.height, from } };
}
