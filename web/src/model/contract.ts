/** The JSON that crosses the border, the same as the files and the command line's `--json`. One file, no logic. */

/** One number as people read it and as programs do; `text` is already rounded by its uncertainty. */
export interface Figure {
  /** In `unit`, unrounded. */
  value: number;
  /** Standard uncertainty in `unit`; absent where nothing uncertain reaches the figure. */
  u?: number;
  unit: string;
  /** For example "572 ± 12 Wh/L". */
  text: string;
}

/** A figure with a name, as a table row. */
export interface Row {
  /** Stable name, for example "roll.cathode_length". */
  id: string;
  label: string;
  figure: Figure;
  /** What is meant, on which basis, or what was assumed; plain words. */
  note?: string;
}

export interface Table {
  title: string;
  rows: Row[];
}

export type Origin = "measured" | "stated" | "assumed" | "default";

/** One entry of the design sheet, whether written by the user or filled in. */
export interface Input {
  /** Where it stands in the sheet, for example "can.wall" or "parts[1].mass" or "cathode.mix[0].share". */
  path: string;
  /** Section heading on the page, for example "Can". */
  section: string;
  label: string;
  /** As the user typed it, or the default in the same notation. */
  text: string;
  /** The unit the trade uses for it; "" for a plain number. */
  unit: string;
  origin: Origin;
  remark?: string;
  /** Source of a default. */
  source?: string;
}

export type Group = "anode" | "cathode" | "separator" | "electrolyte" | "enclosure" | "space";

export interface LedgerLine {
  group: Group;
  line: string;
  how: "computed" | "weighed";
  /** Absent for spaces. */
  mass?: Figure;
  volume: Figure;
  note?: string;
}

export interface Ledger {
  lines: LedgerLine[];
  /** One line per group, then the cell. */
  totals: { group: Group | "cell"; mass: Figure; volume: Figure }[];
  /** Sum of all volumes less the envelope; rounding only. */
  volume_closure: Figure;
  /** Computed mass less weighed mass, where the sheet has a weighed cell. */
  mass_residual?: Figure;
}

export interface Curve {
  /** Ah taken out since full charge. */
  capacity: number[];
  /** Open-circuit V. */
  voltage: number[];
  cathode: number[];
  anode: number[];
  /** Words on where charge and discharge ended. */
  ends: string[];
}

/** A filled rectangle of the half section, mm: radius from the axis, height from the outside of the bottom. */
export interface Block {
  what: string;
  /** Picks the fill: colour and pattern. */
  look: "steel" | "copper" | "aluminium" | "nickel" | "anode" | "cathode" | "roll" | "separator" | "polymer" | "space";
  r: [number, number];
  z: [number, number];
}

export interface Section {
  diameter: number;
  height: number;
  blocks: Block[];
}

/** The roll across the axis. Every arc is one pass of one ply at constant radius. */
export interface Roll {
  /** Radii, mm: inside of the can, core hole, mean outer edge of the roll. */
  bore: number;
  core: number;
  outer: number;
  plies: { name: string; look: Block["look"]; thickness: number; foil?: { look: Block["look"]; thickness: number } }[];
  /** [ply index, mid-line radius mm, from turn, to turn]; 1.25 turns = 450 degrees. */
  arcs: [number, number, number, number][];
  turns: number;
}

/** Answer to "estimate". */
export interface Estimate {
  roulade: string;
  cell: string;
  /** One sentence, then what it leans on, in plain words. */
  answer: Sentence;
  headline: Row[];
  tables: Table[];
  ledger: Ledger;
  curve: Curve | null;
  section: Section;
  roll: Roll;
  inputs: Input[];
  /** Plain words: charge ended early, idle faces, unusual values. */
  remarks: string[];
  cautions: Caution[];
}

export interface Caution {
  text: string;
  source: string;
}

/** Text in runs, so that numbers can be set apart; joined, the runs are the sentence. */
export interface Sentence {
  runs: { text: string; strong?: boolean }[];
  text: string;
  /** What the answer leans on most, as the labels of inputs with their share of the variance. */
  leans: { path: string; label: string; share: number }[];
  /** For example "7 of 46 entries are assumed." */
  assumed: string;
}

export interface Change {
  id: string;
  label: string;
  first: Figure;
  second: Figure;
  change: Figure;
  percent: Figure | null;
}

export interface Reclaim {
  /** "none of it", "as designed", "all of it". */
  label: string;
  /** Share of the freed height that becomes coated width. */
  share: number;
  /** Ah, Wh, Wh/L, Wh/kg: the first cell, the first cell with the parts of the second, the change. */
  rows: Change[];
}

/** Answer to "compare". */
export interface Comparison {
  roulade: string;
  answer: Sentence;
  /** What left and what came in its place; null where no part differs. */
  freed: {
    left: string[];
    came: string[];
    /** Parts that both cells have, but not alike. */
    changed: string[];
    height: Figure;
    volume: Figure;
    solid_volume: Figure;
    mass: Figure;
    /** Axial place of what left, in the first cell, mm from the outside of the bottom. */
    z: [number, number] | null;
  } | null;
  reclaim: Reclaim[];
  /** The whole difference, all changes together. */
  figures: Change[];
  inputs: { path: string; section: string; label: string; first: string; second: string }[];
  ledger: { group: Group; line: string; mass: Change | null; volume: Change | null }[];
  first: Estimate;
  second: Estimate;
}

/** One thing wrong with a sheet; the words are written once, in the model. */
export interface Problem {
  /** Path in the sheet, "" for the whole of it; in a comparison begins with "first." or "second.". */
  place: string;
  found: string;
  expected: string;
  /** The whole message. */
  text: string;
}

export type Answer<T> = { ok: T } | { problems: Problem[] };

/** An entry of a sheet: the quantity alone, or with where it comes from. */
export type Entry = string | { value: string; from?: Exclude<Origin, "default">; remark?: string };

export interface Mixed {
  material: string;
  share?: Entry;
}

export interface Electrode {
  foil?: { material?: string; thickness?: Entry };
  mix?: Mixed[];
  loading?: Entry;
  thickness?: Entry;
  porosity?: Entry;
  first_cycle_efficiency?: Entry;
  bare_edge?: Entry;
  fold_height?: Entry;
}

/** One cell. Everything but the can's size and the two mixes may be left out. */
export interface Sheet {
  /** Version of the format. */
  roulade_sheet: 1;
  cell: string;
  remark?: string;
  /** Name of the cell whose sheet this one was made from; "without" sets it. */
  made_from?: string;
  can: { diameter: Entry; height: Entry; wall?: Entry; bottom?: Entry; material?: string; mass?: Entry };
  parts?: {
    name: string;
    place: "below roll" | "above roll" | "beside roll" | "in core";
    height?: Entry;
    stand_off?: Entry;
    material?: string;
    mass?: Entry;
    volume?: Entry;
    filling?: Entry;
    remark?: string;
  }[];
  head_space?: Entry;
  winding?: {
    core_diameter?: Entry;
    radial_gap?: Entry;
    slack?: Entry;
    core_turns?: Entry;
    anode_lead?: Entry;
    anode_tail?: Entry;
    outer_turns?: Entry;
    tape_thickness?: Entry;
    tape_turns?: Entry;
    cathode_length?: Entry;
    anode_length?: Entry;
  };
  cathode: Electrode & { width?: Entry };
  anode: Electrode & { overhang?: Entry; n_to_p?: Entry };
  separator?: { thickness?: Entry; porosity?: Entry; margin?: Entry; material?: string; ceramic?: string; ceramic_thickness?: Entry; ceramic_porosity?: Entry };
  electrolyte?: { density?: Entry; excess?: Entry; mass?: Entry };
  voltage?: { upper?: Entry; lower?: Entry; nominal?: Entry };
  cell_mass?: Entry;
  materials?: {
    name: string;
    role?: "cathode" | "anode" | "binder" | "conductive" | "metal" | "polymer" | "ceramic";
    density?: Entry;
    capacity?: Entry;
    first_cycle_efficiency?: Entry;
    curve?: [number, number][];
    remark?: string;
  }[];
  /** Quantities that move together: coefficients below the diagonal, a row for each path after the first. */
  correlated?: { paths: string[]; coefficients: number[][] };
}

/** Answer to "without": the comparison, and the new sheet. */
export type Taken = Comparison & { sheet: Sheet };

/** A figure of a material with its source. */
export interface Sourced {
  text: string;
  source: string;
}

/** Answer to "materials": a list of these. */
export interface Material {
  name: string;
  aliases: string[];
  role: "cathode" | "anode" | "binder" | "conductive" | "metal" | "polymer" | "ceramic" | "electrolyte";
  density: Sourced;
  capacity: Sourced | null;
  first_cycle_efficiency: Sourced | null;
  half: { window: [number, number]; ends: [number, number]; scale: string; grade: "A" | "B" | "C"; source: string; check: string } | null;
  stand_in: string | null;
}

/** What may be asked of the model. */
export type Question =
  | { estimate: Sheet }
  | { compare: { first: Sheet; second: Sheet } }
  /** Take a part out of one sheet and compare with the sheet as it was. */
  | { without: { sheet: Sheet; part: string; instead?: NonNullable<Sheet["parts"]>[number]; reclaim?: number } }
  | { materials: Record<string, never> };
