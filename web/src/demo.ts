/** The invented cells of demo/, for those who ask for them, and the cell that a blank page begins with. */
import instruments from "../../demo/instruments.csv?raw";
import readings from "../../demo/bench.csv?raw";
import marramA from "../../demo/marram-a.json?raw";
import marramB from "../../demo/marram-b.json?raw";
import small from "../../demo/marram-small.json?raw";
import type { Sheet } from "./model/contract";
import { canOf } from "./size";

/** An invented bench sheet, and the uncertainty of its instruments. */
export const BENCH = { readings, instruments };

export interface Demo {
  id: string;
  words: string;
  cells: () => { first: Sheet; second: Sheet | null };
}

/** Files of this project, each of which a test reads. */
const sheetOf = (text: string): Sheet => JSON.parse(text) as Sheet;

export const DEMOS: Demo[] = [
  { id: "part", words: "two generations of one cell, with other parts", cells: () => ({ first: sheetOf(marramA), second: sheetOf(marramB) }) },
  { id: "size", words: "the same electrodes in a large can and a small one", cells: () => ({ first: sheetOf(marramB), second: sheetOf(small) }) },
  { id: "one", words: "a small cell alone", cells: () => ({ first: sheetOf(small), second: null }) },
];

/** The four fields of a start. What is known of the cell beside its size and electrodes is a figure with its unit. */
export interface Start {
  size: string;
  cathode: string;
  anode: string;
}

export const USUAL_START: Start = { size: "21 × 70 mm", cathode: "NMC811", anode: "graphite" };

/** Cans that are commonly made: common practice, no source. */
export const SIZES = ["14 × 50 mm", "18 × 65 mm", "20 × 70 mm", "21 × 70 mm", "26 × 65 mm", "32 × 70 mm", "40 × 135 mm", "46 × 80 mm", "46 × 95 mm", "46 × 120 mm"];

/** A cell of which only these are known; the model has words and a range for everything else. */
export function begun({ size, cathode, anode }: Start): Sheet {
  return {
    roulade_sheet: 1,
    cell: `${cathode} on ${anode}, ${size}`,
    can: canOf(size) ?? {},
    cathode: { mix: [{ material: cathode }] },
    anode: { mix: [{ material: anode }] },
  };
}
