/** The starting points: questions in plain words, each with filled-in, invented cells. */
import instruments from "../../demo/instruments.csv?raw";
import readings from "../../demo/bench.csv?raw";
import marramA from "../../demo/marram-a.json?raw";
import marramB from "../../demo/marram-b.json?raw";
import small from "../../demo/marram-small.json?raw";
import type { Sheet } from "./model/contract";
import { sheetFromText } from "./read";

/** An invented bench sheet, and what its instruments are worth. */
export const BENCH = { readings, instruments };

export interface Point {
  id: string;
  question: string;
  about: string;
  cells: () => { first: Sheet; second: Sheet | null };
}

export const POINTS: Point[] = [
  {
    id: "part",
    question: "What does a part cost in energy?",
    about: "Two generations of one cell; the later one has no plate under the roll.",
    cells: () => ({ first: sheetFromText(marramA), second: sheetFromText(marramB) }),
  },
  {
    id: "size",
    question: "How does the can size matter?",
    about: "The same electrodes in a large can and in a small one.",
    cells: () => ({ first: sheetFromText(marramB), second: sheetFromText(small) }),
  },
  {
    id: "one",
    question: "What is in one cell?",
    about: "A small cell alone: every gram, every millimetre.",
    cells: () => ({ first: sheetFromText(small), second: null }),
  },
];
