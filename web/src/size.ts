/** Sizes of cans as they are written. */
import type { Sheet } from "./model/contract";

/** "46 × 80", "46x80 mm", "1.8 in × 2.6 in", "21700": both sides as entries, or `null` where they cannot be told apart. */
export function sidesFrom(size: string): { diameter: string; height: string } | null {
  const [, thick = "", high = ""] = /^\s*(\d\d)(\d\d\d?)\s*$/.exec(size) ?? [];
  // The last of five digits is a tenth of a millimetre where the can is then taller than wide: "21700" is 70 mm tall, "46120" is 120.
  const side = /^\d\d0$/.test(high) && Number(high) / 10 > Number(thick) ? high.slice(0, 2) : high;
  if (Number(side) > Number(thick)) return { diameter: `${thick} mm`, height: `${side} mm` };
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
