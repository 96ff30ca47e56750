/** A linear scale from data to px, with round ticks. */
import { scaleLinear } from "d3-scale";
import { area, line } from "d3-shape";

export interface Scale {
  (value: number): number;
  from: number;
  to: number;
  /** The data at a place, px. */
  invert: (px: number) => number;
  ticks: number[];
  /** A tick as text, with as many decimals as the step has. */
  words: (tick: number) => string;
}

/** The ends are moved outwards to ticks, of which there are about `count`. */
export function scale(low: number, high: number, from: number, to: number, count: number): Scale {
  const made = scaleLinear([low, high > low ? high : low + 1], [from, to]).nice(count);
  const ticks = made.ticks(count);
  const step = Math.abs((ticks[1] ?? 1) - (ticks[0] ?? 0)) || 1;
  const decimals = Math.max(0, -Math.floor(Math.log10(step) + 1e-9));
  return Object.assign((value: number): number => made(value), { from, to, ticks, invert: (px: number) => made.invert(px), words: (tick: number) => tick.toFixed(decimals).replace("-", "−") });
}

export type Point = readonly [number, number];

/** A line through points as an SVG path. */
export const through = (points: readonly Point[]): string => line<Point>().digits(2)([...points]) ?? "";

/** The band between two lines over the same points: [x, lower y, upper y]. */
export const between = (points: readonly (readonly [number, number, number])[]): string =>
  area<readonly [number, number, number]>().x(([x]) => x).y0(([, low]) => low).y1(([, , high]) => high).digits(2)([...points]) ?? "";
