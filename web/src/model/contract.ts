/** The JSON that crosses the border, the same as the files and the command line's `--json`. One file, no logic. */

/** One number as people read it and as programs do; `text` is already rounded by its uncertainty. */
export interface Figure {
  /** In `unit`, unrounded. */
  value: number;
  /** Standard uncertainty in `unit`; absent where nothing uncertain reaches the figure. */
  u?: number;
  /** Ends of the 95 % interval in `unit`: 1.96 standard uncertainties either way, or as drawn; absent with `u`. */
  low?: number;
  high?: number;
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

/** Mass of one element in a cell; the last row, id "unresolved", is what no formula resolves. */
export interface ElementRow {
  /** Its symbol. */
  id: string;
  label: string;
  /** In g. */
  mass: Figure;
  /** In g/kWh, over the open-circuit energy. */
  per_energy: Figure;
}

export interface Elements {
  rows: ElementRow[];
  /** All rows together. */
  total: Figure;
  /** All rows less the mass of the ledger; rounding only. */
  closure: Figure;
  /** On which basis, in words. */
  note: string;
}

/** A cathode active material that the sheet gives by the mole fractions of its metals. */
export interface Composition {
  material: string;
  /** For example "LiNi0.83Co0.11Mn0.06O2". */
  formula: string;
  /** The nearest material of the table. */
  nearest: string;
  /** Ids "molar_mass", "theoretical_capacity", "density", "distance". */
  rows: Row[];
}

export interface Curve {
  /** Ah taken out since full charge. */
  capacity: number[];
  /** Open-circuit V. */
  voltage: number[];
  cathode: number[];
  anode: number[];
  /** Ah taken out since full charge, under load; empty where the load is too heavy for a full cell. */
  loaded_capacity: number[];
  /** V under load, over `loaded_capacity`. */
  loaded_voltage: number[];
  /** Words on where charge and discharge ended. */
  ends: string[];
}

/** One element of the way of the current. */
export interface PathLine {
  line: string;
  /** mΩ. */
  resistance: Figure;
  /** W at the stated rate. */
  heat: Figure;
  /** % of the whole resistance. */
  share: Figure;
  /** Of its metal at the stated temperature, where one metal makes it. */
  resistivity?: Figure;
}

/** The way of the current from terminal to terminal. */
export interface PathTable {
  current: Figure;
  temperature: Figure;
  /** One after another: they add. */
  lines: PathLine[];
  /** All metals, then the cell. */
  totals: PathLine[];
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
  elements: Elements;
  /** Absent where the sheet gives no composition. */
  compositions?: Composition[];
  path: PathTable;
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
  /** Ah, Wh, Wh/L, Wh/kg, mΩ of the metals: the first cell, the first cell with the parts of the second, the change. */
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
  /** Elements of both cells; the last row, id "unresolved", is what no formula resolves. */
  elements: { id: string; label: string; mass: Change; per_energy: Change }[];
  /** Elements that either cell has, then all metals and the cell. */
  path: { line: string; resistance: Change; heat: Change }[];
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
  initial_coulombic_efficiency?: Entry;
  uncoated_margin?: Entry;
  fold_height?: Entry;
}

/** How one foil is connected. */
export interface Lead {
  feed?: "edge" | "tabs";
  /** From the core outwards; `at` is the share of the foil's length. */
  tabs?: { at?: Entry; width?: Entry; thickness?: Entry; length?: Entry; material?: string; welded?: "across" | "edge" }[];
  joint?: Entry;
  /** Name of the part that gathers the edge. */
  plate?: string;
  spots?: Entry;
  spot_radius?: Entry;
  ring_radius?: Entry;
  ring?: Entry;
  centre_weld_radius?: Entry;
}

/** How the current leaves the foils and reaches the terminals. */
export interface CurrentPath {
  c_rate?: Entry;
  temperature?: Entry;
  areal_resistance?: Entry;
  electrochemical?: Entry;
  cap_assembly?: Entry;
  negative_at?: "top" | "bottom";
  cathode?: Lead;
  anode?: Lead;
}

/** One cell. Everything but the can's size and the two mixes may be left out. */
export interface Sheet {
  /** Version of the format. */
  roulade_sheet: 1;
  cell: string;
  remark?: string;
  /** Name of the cell whose sheet this one was made from; "without" sets it. */
  made_from?: string;
  /** The state in which the measured entries were read; as built where left out. */
  readings_state?: string;
  can: { /** The size by its name, "46 × 80", in the place of both dimensions. */ size?: string; diameter?: Entry; height?: Entry; wall?: Entry; bottom?: Entry; material?: string; mass?: Entry };
  parts?: {
    name: string;
    place: "below roll" | "above roll" | "beside roll" | "in core";
    height?: Entry;
    axial_clearance?: Entry;
    material?: string;
    mass?: Entry;
    volume?: Entry;
    solid_fraction?: Entry;
    remark?: string;
  }[];
  void_height?: Entry;
  winding?: {
    core_diameter?: Entry;
    radial_clearance?: Entry;
    slack?: Entry;
    core_turns?: Entry;
    anode_overhang_start?: Entry;
    anode_overhang_end?: Entry;
    outer_turns?: Entry;
    tape_thickness?: Entry;
    tape_turns?: Entry;
    cathode_length?: Entry;
    anode_length?: Entry;
  };
  cathode: Electrode & { width?: Entry };
  anode: Electrode & { overhang?: Entry; silicon?: Entry; silicon_oxide?: Entry; n_to_p?: Entry; swelling?: Entry; expansion_into_pores?: Entry };
  prelithiation?: { source: string; areal_capacity: Entry; utilisation?: Entry };
  opened?: {
    cathode_spring_back?: Entry; anode_spring_back?: Entry; swelling?: Entry; film?: Entry; residue?: Entry; evaporated?: Entry;
  };
  separator?: { thickness?: Entry; porosity?: Entry; margin?: Entry; material?: string; ceramic?: string; ceramic_thickness?: Entry; ceramic_porosity?: Entry };
  electrolyte?: { density?: Entry; excess?: Entry; mass?: Entry; salt?: Entry };
  voltage?: { charge_cut_off?: Entry; discharge_cut_off?: Entry; nominal?: Entry };
  current_path?: CurrentPath;
  cell_mass?: Entry;
  materials?: {
    name: string;
    role?: "cathode" | "anode" | "binder" | "conductive" | "metal" | "polymer" | "ceramic";
    /** Mole fractions; lithium per formula unit. */
    metals?: { nickel?: Entry; cobalt?: Entry; manganese?: Entry; aluminium?: Entry; lithium?: Entry };
    formula?: string;
    density?: Entry;
    capacity?: Entry;
    initial_coulombic_efficiency?: Entry;
    resistivity?: Entry;
    expansion?: Entry;
    curve?: [number, number][];
    window?: [number, number];
    potential?: Entry;
    extension?: Entry;
    remark?: string;
  }[];
  /** Quantities that move together: coefficients below the diagonal, a row for each path after the first. */
  correlated?: { paths: string[]; coefficients: number[][]; held?: string[]; held_u?: number[] };
}

/** Answer to "without": the comparison, and the new sheet. */
export type Taken = Comparison & { sheet: Sheet };

/** A figure as drawn at random, and to first order. */
export interface DrawnFigure {
  id: string;
  label: string;
  /** "hardware": what the second cell's hardware alone buys, as designed. */
  of: "first" | "second" | "change" | "hardware";
  drawn: Figure;
  /** The interval as it is read: "604 .. 657 Wh/L". */
  interval: string;
  /** Standard errors of mean, u, low and high, in the figure's unit. */
  errors: [number, number, number, number];
  first_order: Figure;
  first_order_interval: string;
  /** Share of the trials, and the value they lie below, in the figure's unit; empty where all gave the same. */
  quantiles: [number, number][];
  /** Whether the two intervals agree; "open" where there were too few draws to tell. */
  verdict: "agrees" | "differs" | "open";
  /** In words where they do not agree. */
  remark?: string;
  tolerance: number;
  /** Lower and upper end of the draws less that of first order. */
  apart: [number, number];
}

/** Answer to "sampled": { sheet, second?, figures?: ids, draws?, seed? }. */
export interface Sampled {
  roulade: string;
  cells: string[];
  answer: Sentence;
  draws: number;
  seed: number;
  /** Share of the draws in which an entry is no longer what it may be. */
  impossible: number;
  /** Shares of the draws in which the cell does not hold together, by place. */
  apart: { place: string; share: number }[];
  figures: DrawnFigure[];
  remarks: string[];
}

/** Answer to "leaning": { sheet, second?, figure?: id, draws?, seed? }. */
export interface Leaning {
  roulade: string;
  cells: string[];
  id: string;
  label: string;
  of: "first" | "change";
  figure: Figure;
  /** Shares of the variance to first order, the largest first; negative ones only where inputs are correlated. */
  shares: { path: string; label: string; text: string; share: number }[];
  /** Sobol's indices, each with its standard error, where draws were asked for. */
  indices?: { rows: { paths: string[]; labels: string[]; first: [number, number]; total: [number, number] }[]; asked: number; without: number };
  remarks: string[];
}

/** A figure of a material with its source. */
export interface Sourced {
  text: string;
  source: string;
}

/** Answer to "quantities": a list of these. */
export interface Quantity {
  /** List indices left out: "parts[].height". */
  path: string;
  section: string;
  label: string;
  unit: string;
  /** In words that follow "is": "greater than zero". */
  bound: string;
  default: string | null;
  source: string | null;
  /** Where it lies in wound cells at large, where that is more than the default says. */
  plausible: string | null;
  plausible_source: string | null;
}

/** Answer to "readable": a list of these. */
export interface Readable {
  /** As a bench sheet writes it; a part's is "parts[].height". */
  key: string;
  group: string;
  unit: string;
  /** The input that it reads directly; "" for none. */
  input: string;
  typical: string;
  instrument: string;
  note: string;
}

/** A half-cell curve of the table. */
export interface HalfCell {
  window: [number, number];
  ends: [number, number];
  scale: string;
  grade: "A" | "B" | "C";
  source: string;
  check: string;
  /** Standard uncertainty of its potential. */
  error: Sourced;
  /** The metal that its potentials are against. */
  against: "lithium" | "sodium";
  /** Material whose shape it has, and what is added to it, V. */
  shape_of: string | null;
  raised: number;
  /** Where it goes on past its window. */
  continued: string;
}

/** Answer to "materials": a list of these. */
export interface Material {
  name: string;
  aliases: string[];
  role: "cathode" | "anode" | "binder" | "conductive" | "metal" | "polymer" | "ceramic" | "electrolyte";
  /** Its source says what a mixture's formula stands for; empty for a substance. */
  formula: Sourced | null;
  density: Sourced;
  capacity: Sourced | null;
  initial_coulombic_efficiency: Sourced | null;
  /** Of a metal at 20 °C, and its temperature coefficient there. */
  resistivity: Sourced | null;
  per_kelvin: Sourced | null;
  /** Volume that a host of the anode gains, from free of lithium to full. */
  expansion: Sourced | null;
  half: HalfCell | null;
}

/** One change of a sheet. Items of a list are called by their names: "parts[lid].mass". */
export type Edit =
  | { set: string; to: unknown }
  | { clear: string }
  | { remove: string }
  | { add: string; item: unknown; at?: number; after?: string }
  | { rename: string; to: string }
  | { scale: string; by: number }
  | { resize: { diameter: string; height: string; hold?: Hold } };

/** Answer to "edit": the new sheet, the way back, and what is wrong with it as a cell. */
export interface EditAnswer {
  sheet: Sheet;
  inverse: Edit[];
  problems: Problem[];
}

/** What may be asked of the model. */
export type Question =
  | { estimate: Sheet }
  /** The text of a sheet, for the model to read. */
  | { text: string }
  | { compare: { first: Sheet; second: Sheet } }
  /** Take a part out of one sheet and compare with the sheet as it was. */
  | { without: { sheet: Sheet; part: string; instead?: NonNullable<Sheet["parts"]>[number]; /** A share: a number, or a text such as "85 %". */ reclaim?: number | string } }
  /** The same recipe in a can of another size. */
  | { resize: { sheet: Sheet; diameter: string; height: string; hold?: Hold } }
  /** A sheet with some entries changed. */
  | { edit: { sheet: Sheet; edits: Edit[] } }
  | { materials: Record<string, never> }
  /** What a bench can read. */
  | { readable: Record<string, never> }
  | { quantities: Record<string, never> };

/** A stretch of one quantity, both ends with their unit. */
export interface Span {
  from: string;
  to: string;
  steps: number;
}

/** What a recipe holds otherwise than its sheet when it goes into another can. */
export interface Hold {
  /** Wall, bottom, core, radial clearance, heights of parts: "grows", or "stays". */
  hardware?: string;
  /** A thickness, or "with the diameter". */
  wall?: string;
  bottom?: string;
  core_diameter?: string;
  radial_clearance?: string;
  void_height?: string;
  /** Masses and volumes of parts: "with the bore", or "as they are". */
  parts?: string;
}

export interface MapQuestion {
  sheet: Sheet;
  diameter: Span;
  height: Span;
  hold?: Hold;
  figures?: string[];
}

export interface SweepQuestion {
  sheet: Sheet;
  along: (Span & { key: string })[];
  hold?: Hold;
  figures?: string[];
}

export interface GridAxis {
  key: string;
  label: string;
  unit: string;
  values: number[];
}

export interface GridFigure {
  id: string;
  label: string;
  unit: string;
  note: string;
  /** The first axis runs fastest; `null` where there is no cell. */
  values: (number | null)[];
  least: number | null;
  greatest: number | null;
  /** Lines of equal value, in the units of the axes. */
  contours?: { level: number; lines: [number, number][][] }[];
}

/** One size of can with its figures. */
export interface Size {
  label: string;
  designation: string;
  /** mm */
  diameter: number;
  /** mm */
  height: number;
  /** In the order of the grid's figures. */
  figures: (Figure | null)[];
  /** Why there is no such cell. */
  why?: string;
}

/** Answer to "map" and to "sweep". */
export interface Grid {
  roulade: string;
  cell: string;
  axes: GridAxis[];
  figures: GridFigure[];
  absent?: { id: string; why: string }[];
  cells: number;
  blank?: { cells: number; place: string; found: string; expected: string }[];
  /** `key` is that of `Hold`, where it can be held otherwise. */
  held?: { key?: keyof Hold; what: string; text: string; asked: boolean }[];
  own?: Size;
  common?: Size[];
  remarks: string[];
}

/** Entries that move together, by the name of the change. */
export interface Changes {
  remark?: string;
  changes: { name: string; keys: string[] }[];
}

/** Prices by the name of a material or of a part. */
export interface Prices {
  remark?: string;
  currency?: string;
  per_kg?: Record<string, number>;
  per_part?: Record<string, number>;
}

export interface WorthQuestion {
  first: Sheet;
  second: Sheet;
  changes?: Changes;
  prices?: Prices;
  draws?: number;
  seed?: number;
}

/** A figure that may be of any unit, a currency too. */
export interface Amount {
  value: number;
  u?: number;
  /** Holds it with a probability of 95 %. */
  interval?: [number, number];
  unit: string;
  text: string;
}

export interface WorthTable {
  id: string;
  label: string;
  unit: string;
  first: Amount;
  second: Amount;
  /** The sum of all worths. */
  whole: Amount;
  rows: { change: string; worth: Amount; first_in: Amount | null; last_in: Amount | null; standard_error?: number }[];
  /** The strongest interactions. */
  pairs: { a: string; b: string; more: Amount; text: string }[];
}

/** Answer to "worth". */
export interface WorthAnswer {
  roulade: string;
  first: string;
  second: string;
  answer: Sentence;
  changes: { name: string; moves: { key: string; first: string; second: string }[] }[];
  figures: WorthTable[];
  method: { exact: boolean; corners: number; cannot_be: number; shown: { made: string[]; why: string }[]; unbalanced: number; draws: number; answered: number; seed: number };
  prices?: { currency: string; unpriced: string[]; unused: string[] };
  /** The changes as they may be edited and given back. */
  grouping: Changes;
  remarks: string[];
}

export type Verdict = "supported" | "likely" | "open" | "unlikely" | "contradicted";

export interface ClaimQuestion {
  /** A line of text; several figures between commas, semicolons or line breaks. */
  claim: string;
  sheet: Sheet;
  /** The cell it compares with. */
  other?: Sheet;
  draws?: number;
  seed?: number;
}

/** 0 to 1, and as it is read. */
export interface Chance {
  value: number;
  text: string;
}

/** Answer to "claim" where there are several figures. */
export interface ClaimsAnswer {
  roulade: string;
  cell: string;
  size: string | null;
  verdict: Verdict;
  answer: Sentence;
  consistency: {
    agreement: "untested" | "agree" | "strained" | "disagree";
    text: string;
    strains: string[];
    rows: { text: string; gives: Figure; declared: string; off: number; deviations: number }[];
  };
  chance: Chance;
  figures: { claim: string; figure: string; label: string; expected: Figure; chance: Chance; verdict: Verdict; given: Figure; given_chance: Chance; given_verdict: Verdict; effective: number; how: string }[];
  implied: { id: string; label: string; before: Figure; after: Figure }[];
  weakest: string;
  nearest: Nearest | null;
  draws: number;
  held: number;
  remarks: string[];
  cautions: Caution[];
}

/** The most probable cell at the edge of a claim. */
export interface Nearest {
  beta: number;
  text: string;
  rows: { path: string; label: string; prior: string; needed: string; deviations: number }[];
}

/** Answer to "claim" where there is one figure. */
export interface ClaimAnswer {
  roulade: string;
  cell: string;
  other: string | null;
  verdict: Verdict;
  answer: Sentence;
  claim: {
    text: string;
    figure: string;
    label: string;
    relation: string;
    /** Whether it is a change over the other cell. */
    over: boolean;
    value: number;
    low: number | null;
    high: number | null;
    unit: string;
    basis: string;
    basis_text: string;
    rate: number | null;
    window: [number | null, number | null] | null;
    temperature: number | null;
    standing: "minimum" | "typical" | null;
  };
  figure: Figure;
  chance: Chance;
  /** For a normal distribution of the first-order uncertainty. */
  normal: Chance;
  thresholds: [number, number];
  rounding: { decides: boolean; text: string; readings: { text: string; low: number | null; high: number | null; chance: Chance; verdict: Verdict; main: boolean }[] };
  bases: { basis: string; text: string; figure: Figure; chance: Chance; verdict: Verdict; main: boolean }[];
  conventions: { name: string; text: string; figure: Figure; chance: Chance; verdict: Verdict }[];
  conventions_text: string;
  nearest: Nearest | null;
  alone_to: "hold" | "fail";
  alone: {
    path: string;
    label: string;
    cell: string | null;
    known: string;
    plausible: string | null;
    source: string | null;
    needed: Figure | null;
    place: "known" | "plausible" | "beyond" | "never";
    place_text: string;
    implies?: string;
  }[];
  settle: { path: string; key: string; label: string; cell: string | null; how: string; opens: boolean; now: string; reading: string; takes: number; leaves: string; settles: Chance; together: Chance }[];
  strip: { mean: number; deviation: number; quantiles: [number, number][]; from: number; step: number; counts: number[]; draws: number; held: number };
  remarks: string[];
  cautions: Caution[];
}

export interface ReconcileQuestion {
  sheet: Sheet;
  /** CSV text. */
  readings: string;
  /** CSV text or JSON text. */
  instruments?: string;
  cell?: string;
  loss?: "normal" | "huber" | "student";
  /** Quantities in which specimens may be of two kinds. */
  populations?: string[];
}

/** Answer to "reconcile". */
export interface Reconciliation {
  roulade: string;
  cell: string;
  answer: Sentence;
  verdict: "agree" | "contradicted" | "unfinished";
  fit: { converged: boolean; ending: string; steps: number; loss: string; chi_square: number; degrees: number; reduced: number | null; probability: number | null; singular: number[] };
  figures: { id: string; label: string; before: Figure; after: Figure }[];
  parameters: {
    path: string;
    section: string;
    label: string;
    text: string;
    origin: Origin;
    before: Figure;
    after: Figure;
    /** In standard uncertainties from before. */
    moved: number;
    /** Share of its variance that the readings took off. */
    read: number;
    determined: boolean;
    stopped?: "lower" | "upper";
    freed?: boolean;
  }[];
  readings: {
    line: number;
    cell?: string;
    specimen: string;
    key: string;
    label: string;
    text: string;
    reading: Figure;
    fate: "used" | "unfit" | "unreadable" | "other" | "read";
    why?: string;
    worth?: "stated" | "instrument" | "typical";
    predicted?: Figure;
    difference?: Figure;
    residual?: number;
    z?: number;
    counted?: number;
    weight?: number;
    doubted?: boolean;
    population?: string;
    other_variant?: boolean;
    instrument?: string;
    remark?: string;
    date?: string;
  }[];
  doubts: { line: number; label: string; z: number; probability: number; limit: number; or: number[]; text: string }[];
  /** Up to three readings that are furthest off of those not in doubt. */
  furthest: { line: number; label: string; z: number; probability: number; chance: number; text: string }[];
  correction: string;
  scatter: { key: string; label: string; specimens: { specimen: string; population?: string; mean: Figure; readings: number }[]; between?: Figure; at_most?: Figure; text: string }[];
  populations: { key: string; label: string; labelled: boolean; groups: [[string, string[]], [string, string[]]]; difference: Figure; probability?: number; verdict: string; text: string }[];
  instruments: { instrument: string; readings: number; zero?: Figure; scale?: Figure }[];
  undetermined: string[];
  sheet: Sheet;
  problems: Problem[];
  remarks: string[];
  cautions: Caution[];
}

export interface NextQuestion {
  sheet: Sheet;
  /** Where the difference between two cells is asked for. */
  second?: Sheet;
  figure: string;
  readings?: string;
  instruments?: string;
}

export interface NextChoice {
  cell: string;
  key: string;
  at?: string;
  label: string;
  instrument_u: Figure;
  instrument: string;
  worth: "instrument" | "typical";
  predicted: number;
  removed: number;
  after: Figure;
}

/** Answer to "next". */
export interface NextAnswer {
  roulade: string;
  cells: string[];
  answer: Sentence;
  figure: string;
  label: string;
  now: Figure;
  alone: NextChoice[];
  in_turn: NextChoice[];
  remarks: string[];
}

export interface SampledQuestion {
  sheet: Sheet;
  second?: Sheet;
  figures?: string[];
  draws?: number;
  seed?: number;
}

export interface LeaningQuestion {
  sheet: Sheet;
  second?: Sheet;
  figure?: string;
  /** For Sobol's indices; without, shares of first order alone. */
  draws?: number;
  seed?: number;
}

export interface ReportQuestion {
  first: Sheet;
  second?: Sheet;
  claim?: string;
  /** A bench sheet, and what its instruments are worth. */
  readings?: string;
  instruments?: string;
  /** Printed as it stands. */
  date: string;
}

/** What takes a while, by the name of the question: what is asked, and what is answered. */
export interface Long {
  map: { asked: MapQuestion; answer: Grid };
  sweep: { asked: SweepQuestion; answer: Grid };
  worth: { asked: WorthQuestion; answer: WorthAnswer };
  claim: { asked: ClaimQuestion; answer: ClaimAnswer | ClaimsAnswer };
  reconcile: { asked: ReconcileQuestion; answer: Reconciliation };
  next: { asked: NextQuestion; answer: NextAnswer };
  sampled: { asked: SampledQuestion; answer: Sampled };
  /** One HTML file. */
  report: { asked: ReportQuestion; answer: { html: string } };
  leaning: { asked: LeaningQuestion; answer: Leaning };
  /** A sweep for those who learn, beside that of the cells on the page. */
  lesson: { asked: SweepQuestion; answer: Grid };
}

export type LongKind = keyof Long;
export type Asked<K extends LongKind> = Long[K]["asked"];
export type LongQuestion = { [K in LongKind]: { kind: K; asked: Long[K] extends { asked: infer A } ? A : never } }[LongKind];
export type LongAnswer<K extends LongKind> = Long[K] extends { answer: infer A } ? A : never;
