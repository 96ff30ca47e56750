/** Everything the page shows, as one plain object. */
import type { Part, Side } from "./entry";
import { idle, type Studies } from "./model/jobs";
import type { Changes, Comparison, Estimate, Hold, Prices, Problem, Readable, Sheet } from "./model/contract";

/** The last good answer and the sheets that it answers. */
export type Result =
  | { kind: "one"; first: Estimate; asked: { first: Sheet; second: null } }
  | { kind: "two"; comparison: Comparison; first: Estimate; second: Estimate; asked: { first: Sheet; second: Sheet } };

export interface Removed {
  part: Part;
  at: number;
}

export type Filter = "all" | "differs" | "assumed";

/** Readings from a bench, and what is asked of them. */
export interface BenchSheet {
  /** CSV text. */
  readings: string;
  instruments: string;
  /** The cell whose sheet they are held against. */
  side: Side;
  loss: "normal" | "huber" | "student";
  /** Names of quantities, with commas. */
  populations: string;
  /** The figure that more readings are to settle, and whether it is its difference between the cells. */
  target: string;
  between: boolean;
}

export const NO_BENCH: BenchSheet = { readings: "", instruments: "", side: "first", loss: "normal", populations: "", target: "volumetric", between: false };

/** What the map of sizes is drawn over. */
export interface Sizes {
  /** One axis or two: the key of an input, and the stretch of it. */
  along: { key: string; from: string; to: string }[];
  figure: string;
  /** What is held otherwise than the sheet has it; an empty text stands for one that is yet to be written. */
  hold: Hold;
}

/** The four questions that a visit begins with. */
export type Task = "part" | "size" | "claim" | "readings";

/** What the reader chose to see; none of it changes a figure. */
export interface Shown {
  /** The question that was chosen, whose chapter is open. */
  task: Task | null;
  /** Chapters that are open, and those of them that are in sight. */
  chapters: Set<string>;
  inSight: Set<string>;
  /** Words that entries are looked up by. */
  search: string;
  /** Sections of the sheet that are unfolded. */
  sections: Set<string>;
  /** Where each plot is being read, by the plot's name: a step along it. */
  cursor: Record<string, number>;
  /** The exploration that is open, and what the reader foresaw of each. */
  lesson: string;
  foreseen: Record<string, string>;
  /** What each exploration's levers are set to. */
  levers: Record<string, string>;
  /** The grid of readings instead of their text. */
  grid: boolean;
  filter: Filter;
  /** Entries shown although the sheet and the model leave them out, by path. */
  added: string[];
  sort: { by: string; down: boolean } | null;
  electrodes: boolean;
  /** The place of the map that is looked at, as steps along each axis. */
  place: number[] | null;
  /** The share of the freed height that is to become coated width, as it was written, and what is wrong with it. */
  reclaim: string;
  reclaimProblem: string;
  /** The figure that is shared among the changes. */
  merit: string;
  /** The figure whose uncertainty is shared out. */
  sensitivity: string;
  roll: { side: Side; x: number; y: number; across: number } | null;
  /** Tables behind pictures that are open. */
  open: Set<string>;
  narrow: boolean;
  /** The size that the section is scaled to while a hand moves an edge of it. */
  held: { diameter: number; height: number } | null;
  /** The same for the layers of a turn, mm. */
  across: number | null;
  /** While a coating is moved, the other electrode follows so that the N/P ratio holds. */
  balanced: boolean;
}

export interface State {
  first: Sheet;
  second: Sheet | null;
  result: Result | null;
  /** What was found wrong with the sheets as they stand; then `result` is older than they are. */
  problems: Problem[];
  /** Parts taken out, the latest last, so that they can be put back. */
  removed: Record<Side, Removed[]>;
  /** A default that is being looked at in its field, not yet the user's. */
  draft: { id: string; text: string } | null;
  /** Texts that were typed and that the sheets do not have yet, by place. */
  waiting: Record<string, string>;
  /** The invented cells, as long as no other cell was loaded. */
  demo: string | null;
  /** A figure that is known of the cell, as it was written, and what became of it. */
  known: { text: string; note: string };
  materials: string[];
  /** What a bench can read, once it was asked for. */
  readable: Readable[];
  /** Active materials of either electrode. */
  hosts: Record<"cathode" | "anode", string[]>;
  /** The model has been asked and has not answered. */
  busy: boolean;
  /** How the changes between the cells are grouped, where by hand. */
  changes: Changes | null;
  prices: Prices | null;
  /** Declared figures, as they were said. */
  claim: string;
  bench: BenchSheet;
  /** A measured discharge, CSV text: Ah and V. */
  discharge: string;
  sizes: Sizes;
  /** Long work and its answers. */
  studies: Studies;
  /** Words about files and links. */
  messages: string[];
  said: string;
  shown: Shown;
}

/** All common cans lie between. */
export const CAN_SIZES = [
  { key: "can.diameter", from: "14 mm", to: "50 mm" },
  { key: "can.height", from: "50 mm", to: "125 mm" },
];

export const USUAL_SIZES: Sizes = { along: CAN_SIZES, figure: "volumetric", hold: {} };

export function begin(first: Sheet, second: Sheet | null): State {
  return {
    first,
    second,
    result: null,
    problems: [],
    removed: { first: [], second: [] },
    draft: null,
    waiting: {},
    demo: null,
    known: { text: "", note: "" },
    materials: [],
    readable: [],
    hosts: { cathode: [], anode: [] },
    busy: true,
    changes: null,
    prices: null,
    claim: "",
    bench: NO_BENCH,
    discharge: "",
    sizes: USUAL_SIZES,
    studies: { map: idle(), sweep: idle(), attribute: idle(), claim: idle(), reconcile: idle(), next: idle(), sampled: idle(), sensitivity: idle(), report: idle(), lesson: idle() },
    messages: [],
    said: "",
    shown: { task: null, chapters: new Set(["glossary"]), inSight: new Set(), search: "", sections: new Set(), cursor: {}, lesson: "size", foreseen: {}, levers: {}, grid: false, filter: "all", added: [], sort: null, place: null, reclaim: "100 %", reclaimProblem: "", merit: "volumetric", sensitivity: "volumetric", electrodes: false, roll: null, open: new Set(), narrow: false, held: null, across: null, balanced: true },
  };
}

export const isStale = (state: State): boolean => state.result !== null && state.problems.length > 0;

export const sheetOf = (state: State, side: Side): Sheet | null => (side === "first" ? state.first : state.second);

export const estimateOf = (state: State, side: Side): Estimate | null => {
  if (!state.result) return null;
  if (side === "first") return state.result.first;
  return state.result.kind === "two" ? state.result.second : null;
};

export const sidesOf = (state: State): Side[] => (state.second ? ["first", "second"] : ["first"]);

/** The question that the sheets as they stand put to the model. */
export const questionOf = ({ first, second }: State): { compare: { first: Sheet; second: Sheet } } | { estimate: Sheet } => (second ? { compare: { first, second } } : { estimate: first });

/** Which cell's sheet a problem is about, and where in it. */
export function placeOf(problem: Problem): { side: Side; path: string } {
  const [, side, path] = /^(first|second)(?:\.|$)(.*)$/.exec(problem.place) ?? [];
  return side ? { side: side as Side, path: path ?? "" } : { side: "first", path: problem.place };
}

/** What undo brings back, what a link and this browser keep. */
export type Work = Pick<State, "first" | "second" | "changes" | "prices" | "claim" | "bench" | "discharge" | "sizes" | "demo" | "known" | "removed">;

export const workOf = ({ first, second, changes, prices, claim, bench, discharge, sizes, demo, known, removed }: State): Work => ({ first, second, changes, prices, claim, bench, discharge, sizes, demo, known, removed });

/** Work on nothing but these cells: nothing of the work before stays. */
export const workOn = (cells: { first: Sheet; second: Sheet | null }): Work => ({
  ...cells, changes: null, prices: null, claim: "", bench: NO_BENCH, discharge: "", sizes: USUAL_SIZES, demo: null, known: { text: "", note: "" }, removed: { first: [], second: [] },
});
