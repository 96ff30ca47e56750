/** The JSON that crosses the border, the same as the files and the command line's `--json`: the page's names for the types
 *  that are written from the model's ([`types`](./types.ts)), and what may be asked over the border. No logic. */
import type {
  AnyClaimAnswer,
  CompareAnswer,
  Diagnostic,
  EstimateAnswer,
  HoldEntries,
  SensitivityAnswer,
  SensitivityQuestion,
  MapAnswer,
  MapQuestion,
  NextAnswer,
  NextQuestion,
  Part,
  ReconcileAnswer,
  ReconcileQuestion,
  ReportQuestion,
  SampledAnswer,
  SampledQuestion,
  Sheet,
  SheetChange,
  SweepQuestion,
  AttributeAnswer,
  AttributeQuestion,
  ClaimQuestion,
} from "./types";

export type {
  Amount,
  AxisRow as GridAxis,
  Block,
  Caution,
  Chance,
  Changes,
  ChoiceRow as NextChoice,
  ClaimAnswer,
  ClaimQuestion,
  ClaimsAnswer,
  CompareAnswer as Comparison,
  CompositionAnswer as Composition,
  CurrentCollection as Lead,
  CurrentPath,
  CurveDrawing as Curve,
  Diagnostic as Problem,
  DrawnFigure,
  EditAnswer,
  ElementLedger as Elements,
  ElementRow,
  Entry,
  EstimateAnswer as Estimate,
  Figure,
  FigureChange as Change,
  GridFigure,
  Group,
  HalfRow as HalfCell,
  HoldEntries as Hold,
  InputRow as Input,
  SensitivityAnswer as Sensitivity,
  SensitivityQuestion,
  Ledger,
  LedgerLine,
  Listed as Readable,
  MapAnswer as Grid,
  MapQuestion,
  MaterialRow as Material,
  Mixed,
  NearestAnswer as Nearest,
  NextAnswer,
  NextQuestion,
  Origin,
  PathLine,
  PathTable,
  Prices,
  QuantityRow as Quantity,
  Reclaim,
  ReconcileAnswer as Reconciliation,
  ReconcileQuestion,
  ReportQuestion,
  RollDrawing as Roll,
  Row,
  SampledAnswer as Sampled,
  SampledQuestion,
  Section,
  Sentence,
  Sheet,
  SheetChange as Edit,
  SizeRow as Size,
  Sourced,
  Span,
  SweepQuestion,
  Table,
  Verdict,
  AttributeAnswer,
  AttributeQuestion,
  ContributionTable,
} from "./types";

/** Answer to "without": the comparison, and the new sheet. */
export type Taken = CompareAnswer & { sheet: Sheet };

/** Sheets that are to be changed, and answered as they are then. */
export interface ChangeQuestion {
  first: Sheet;
  second?: Sheet;
  edits: { first?: SheetChange[]; second?: SheetChange[] };
}

/** The sheets as they are then, and what is answered about them. */
export interface Changed {
  first: Sheet;
  second?: Sheet;
  answer: Answer<EstimateAnswer | CompareAnswer>;
}

export type Answer<T> = { ok: T } | { problems: Diagnostic[] };

/** What is asked over the border and answered at once. */
export type Question =
  | { estimate: Sheet }
  /** The text of a sheet, for the model to read: a sheet whose entries may be wrong. */
  | { sheet: string }
  /** The text of a link or of what this browser kept. */
  | { work: string }
  | { compare: { first: Sheet; second: Sheet } }
  /** Take a part out of one sheet and compare with the sheet as it was. */
  | { without: { sheet: Sheet; part: string; instead?: Part; /** A share: a number, or a text such as "85 %". */ reclaim?: number | string } }
  /** The same electrodes in a can of another size. */
  | { resize: { sheet: Sheet; diameter: string; height: string; hold?: HoldEntries } }
  | { change: ChangeQuestion }
  | { materials: Record<string, never> }
  /** An empty bench sheet for a cell: its answer is CSV text. */
  | { template: Sheet }
  /** What a bench can read. */
  | { readable: Record<string, never> }
  | { quantities: Record<string, never> };

/** What takes a while, by the name of the question: what is asked, and what is answered. */
export interface Long {
  map: { asked: MapQuestion; answer: MapAnswer };
  sweep: { asked: SweepQuestion; answer: MapAnswer };
  attribute: { asked: AttributeQuestion; answer: AttributeAnswer };
  claim: { asked: ClaimQuestion; answer: AnyClaimAnswer };
  reconcile: { asked: ReconcileQuestion; answer: ReconcileAnswer };
  next: { asked: NextQuestion; answer: NextAnswer };
  sampled: { asked: SampledQuestion; answer: SampledAnswer };
  /** One HTML file. */
  report: { asked: ReportQuestion; answer: { html: string } };
  sensitivity: { asked: SensitivityQuestion; answer: SensitivityAnswer };
  /** A sweep for those who learn, beside that of the cells on the page. */
  lesson: { asked: SweepQuestion; answer: MapAnswer };
}

export type LongKind = keyof Long;
export type Asked<K extends LongKind> = Long[K]["asked"];
export type LongQuestion = { [K in LongKind]: { kind: K; asked: Long[K] extends { asked: infer A } ? A : never } }[LongKind];
export type LongAnswer<K extends LongKind> = Long[K] extends { answer: infer A } ? A : never;
