/** Types of the model's questions and answers stand in `contract.d.ts`, and are handed on here. */
import type {
  ClaimAnswer, ClaimQuestion, ClaimsAnswer, Comparison, Edit, EditAnswer, Estimate, Grid, Sensitivity, SensitivityQuestion, MapQuestion, Material,
  NextAnswer, NextQuestion, Problem, Quantity, Readable, Reconciliation, ReconcileQuestion, ReportQuestion, Sampled, SampledQuestion, Sheet,
  SweepQuestion, Taken, AttributeAnswer, AttributeQuestion,
} from "./contract.js";

export type * from "./contract.js";

/** What is wrong with a question: every problem at once, each with its place. */
export class Problems extends Error {
  readonly problems: Problem[];
  constructor(problems: Problem[]);
}

/** A sheet or a question as an object, or as its JSON text. */
export type Written<T> = T | string;
/** Told how many pieces of long work are done, and of how many. */
export type Tell = (done: number, of: number) => void;

/** What the small model answers. */
export interface Small {
  /** Figures of one cell, with their uncertainties. */
  estimate(sheet: Written<Sheet>): Estimate;
  /** Two cells side by side. */
  compare(first: Written<Sheet>, second: Written<Sheet>): Comparison;
}

/** What the whole model answers. */
export interface Model extends Small {
  /** What removing a part gains. */
  without(question: Written<{ sheet: Sheet; part: string; reclaim?: string | number }>): Taken;
  /** A sheet with some entries changed. */
  edit(question: Written<{ sheet: Sheet; edits: Edit[] }>): EditAnswer;
  /** The table of materials. */
  materials(): Material[];
  /** Every quantity of a sheet. */
  quantities(): Quantity[];
  /** The sheet in a can of another size. */
  resize(question: Written<{ sheet: Sheet; diameter: string; height: string }>): Sheet;
  /** An empty bench sheet (CSV) for the cell of a sheet, the most informative reading first. */
  template(sheet: Written<Sheet>): string;
  /** Every quantity that a tear-down can read. */
  readable(): Readable[];
  /** Whether declared figures are supported, open or contradicted. */
  claim(question: Written<ClaimQuestion>, tell?: Tell): ClaimAnswer | ClaimsAnswer;
  /** Contributions to the variance of a figure. */
  sensitivity(question: Written<SensitivityQuestion>, tell?: Tell): Sensitivity;
  /** The same electrodes in other cans. */
  map(question: Written<MapQuestion>, tell?: Tell): Grid;
  /** The most informative next measurement. */
  next(question: Written<NextQuestion>, tell?: Tell): NextAnswer;
  /** A design fitted to readings. */
  reconcile(question: Written<ReconcileQuestion>, tell?: Tell): Reconciliation;
  /** The answer and all that it rests on as one HTML page. */
  report(question: Written<ReportQuestion>, tell?: Tell): string;
  /** Uncertainty by Monte Carlo. */
  sampled(question: Written<SampledQuestion>, tell?: Tell): Sampled;
  /** Figures over one input or two. */
  sweep(question: Written<SweepQuestion>, tell?: Tell): Grid;
  /** Contribution of each change between two cells. */
  attribute(question: Written<AttributeQuestion>, tell?: Tell): AttributeAnswer;
}

/** The same from a worker: every answer is a promise. */
export type Remote = {
  [K in keyof Model]: Model[K] extends (...asked: infer A) => infer R ? (...asked: A) => Promise<R> : never;
} & { /** Stops the worker and all that it was asked. */ end(): void };

/** Loads the small model into this thread. */
export function load(options: { first: true; from?: BufferSource }): Promise<Small>;
/** Loads the whole model into this thread. */
export function load(options?: { first?: false; from?: BufferSource }): Promise<Model>;
/** Starts a worker that holds the whole model. */
export function inWorker(): Remote;
