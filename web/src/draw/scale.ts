/** A linear scale from data to px, with round ticks. */
import { stepFor } from "../number";

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
  const end = high > low ? high : low + 1;
  const step = stepFor(end - low, count);
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  // Rounding must not add a tick beyond an end that is one.
  const first = Math.floor(low / step + 1e-9);
  const ticks = Array.from({ length: Math.ceil(end / step - 1e-9) - first + 1 }, (_, i) => (first + i) * step);
  const [least = low, most = end] = [ticks[0], ticks.at(-1)];
  const place = (value: number): number => from + ((value - least) / (most - least)) * (to - from);
  return Object.assign(place, { from, to, ticks, words: (tick: number) => tick.toFixed(decimals).replace("-", "−") });
}

export type Point = readonly [number, number];

const hundredth = (px: number): number => Math.round(px * 100) / 100;

/** A line through points as an SVG path; closed where it is one point, which a round end then shows. */
export const through = (points: readonly Point[]): string =>
  points.length > 0 ? `M${points.map((at) => at.map(hundredth).join()).join("L")}${points.length === 1 ? "Z" : ""}` : "";
