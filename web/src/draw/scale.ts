/** A linear scale from data to px, with round ticks. */
import { round125 } from "./ruler";

export interface Scale {
  (value: number): number;
  from: number;
  to: number;
  ticks: number[];
  /** A tick as text, with as many decimals as the step has. */
  words: (tick: number) => string;
}

/** The ends are moved outwards to ticks, of which there are about `count`. */
export function scale(low: number, high: number, from: number, to: number, count: number): Scale {
  const step = round125(((high - low) / count) * 2 || 1);
  const first = Math.floor(low / step + 1e-9);
  const last = Math.max(first + 1, Math.ceil(high / step - 1e-9));
  const ticks = Array.from({ length: last - first + 1 }, (_, i) => (first + i) * step);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  const place = (value: number): number => from + ((value / step - first) / (last - first)) * (to - from);
  return Object.assign(place, { from, to, ticks, words: (tick: number) => tick.toFixed(decimals) });
}

/** A line through points as an SVG path. */
export const through = (points: readonly (readonly [number, number])[]): string =>
  points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${x.toFixed(2)} ${y.toFixed(2)}`).join("");
