/** The number inside an entry as people write it, for hands that move it: "68 ± 1 µm", "0.2 .. 0.4 mm", "1,8 in". What stands around it stays. */

const NUMBER = String.raw`[+−-]?\d+(?:[.,]\d+)?`;
const ALONE = new RegExp(`^\\s*(${NUMBER})\\s*$`);
const RANGE = new RegExp(`^(\\s*)(${NUMBER})(\\s*(?:\\.\\.|–|—|to)\\s*)(${NUMBER})(.*)$`);
const FIRST = new RegExp(`^(\\s*)(${NUMBER})(.*)$`);

const value = (text: string): number => Number(text.replace(",", ".").replace("−", "-"));
const decimals = (text: string): number => text.split(/[.,]/)[1]?.length ?? 0;

export interface Written {
  /** The number, or the middle of a range. */
  value: number;
  unit: string;
  decimals: number;
}

/** What an entry says, or `null` where it begins with no number. */
export function written(text: string): Written | null {
  const range = RANGE.exec(text);
  if (range) {
    const [, , low = "", , high = "", after = ""] = range;
    return { value: (value(low) + value(high)) / 2, unit: unitOf(after), decimals: Math.max(decimals(low), decimals(high)) };
  }
  const [, , first = "", after = ""] = FIRST.exec(text) ?? [];
  return first ? { value: value(first), unit: unitOf(after), decimals: decimals(first) } : null;
}

const unitOf = (after: string): string => after.replace(new RegExp(`^\\s*±\\s*${NUMBER}\\s*%?`), "").trim();

const print = (number: number, places: number): string => {
  const text = number.toFixed(places);
  return Number(text) === 0 ? text.replace("-", "") : text.replace("-", "−");
};

/** The entry moved to another number; its uncertainty, or the width of its range, stays. */
export function movedTo(text: string, to: number, step: number): string {
  const places = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const range = RANGE.exec(text);
  if (range) {
    const [, lead = "", low = "", between = "", high = "", after = ""] = range;
    const half = (value(high) - value(low)) / 2;
    const of = Math.max(places, decimals(low), decimals(high));
    return `${lead}${print(to - half, of)}${between}${print(to + half, of)}${after}`;
  }
  return text.replace(FIRST, (_all, lead: string, _first: string, after: string) => `${lead}${print(to, places)}${after}`);
}

/** A bare number is meant in the field's own unit. */
export const withUnitOf = (text: string, unit: string): string => (unit && ALONE.test(text) ? `${text.trim()} ${unit}` : text);

/** A step of about so many to the whole, 1, 2 or 5 times a power of ten. */
export function stepFor(width: number, steps: number): number {
  const raw = width / steps;
  const power = 10 ** Math.floor(Math.log10(raw));
  return ([1, 2, 5, 10].find((one) => one * power >= raw * 0.7) ?? 10) * power;
}
