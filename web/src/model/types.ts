/** Types of the JSON of all questions and answers. Written from the types of the model by `UPDATE=1 cargo test -p roulade-cli contract`; a test holds it current. */

/** A figure that the grid does not have. */
export interface AbsentRow {
  /** Its name. */
  id: string;
  /** Why not. */
  why: string;
}

/** One input of a sweep. */
export interface Along {
  /** Where it begins, with its unit. */
  from?: string;
  /** Its key in the sheet. */
  key?: string;
  /** How many steps it is walked in. */
  steps?: number;
  /** Where it ends, with its unit. */
  to?: string;
}

/** A figure that may be of any unit, a currency too. */
export interface Amount {
  /** Interval that holds it with a probability of 95 %, in `unit`; absent together with `u`. */
  interval?: [number, number];
  /** Rounded by its uncertainty, with its unit. */
  text: string;
  /** Standard uncertainty in `unit`; absent where nothing uncertain reaches it. */
  u?: number;
  /** Unit of the trade, or a currency. */
  unit: string;
  /** In `unit`, unrounded. */
  value: number;
}

/** The anode: foil with the same coating on both faces. */
export interface Anode {
  /** Share of the host's growth that the pores take up, where the swelling follows from the mix. */
  expansion_into_pores?: Entry;
  /** The foil. */
  foil?: Foil;
  /** Axial height of the folded foil edge outside the separator. */
  fold_height?: Entry;
  /** Share of the first charge that the anode gives back. */
  initial_coulombic_efficiency?: Entry;
  /** Loading of one face. */
  loading?: Entry;
  /** What the dry coating is mixed from. */
  mix: Mixed[];
  /** Reversible areal capacity over that of the cathode; gives the loading where it was not read. */
  n_to_p?: Entry;
  /** Further length at the end that is coated on its inner side alone. */
  one_sided_end?: Entry;
  /** Further length at the start that is coated on its outer side alone. */
  one_sided_start?: Entry;
  /** How far its coating reaches past the cathode's at each edge. */
  overhang?: Entry;
  /** Radius of an active particle. */
  particle_radius?: Entry;
  /** Share of the coating's volume that is pores. */
  porosity?: Entry;
  /** Mass share of the active part that is silicon: so much of each host of the mix is silicon in its place. */
  silicon?: Entry;
  /** The same for silicon monoxide; a reading of the silicon in it counts 1.57 times. */
  silicon_oxide?: Entry;
  /** Diffusion coefficient of lithium in it at 25 °C. */
  solid_diffusion?: Entry;
  /** How much thicker the coating is when its host is full of lithium than free of it; from the mix where left out. */
  swelling?: Entry;
  /** Coating thickness of one face. */
  thickness?: Entry;
  /** Tortuosity of its pores; from the porosity where left out. */
  tortuosity?: Entry;
  /** Exponent α by which the tortuosity follows from the porosity ε, τ = ε^−α. */
  tortuosity_exponent?: Entry;
  /** Length at the end of winding that is bare on both sides. */
  uncoated_end?: Entry;
  /** Foil beyond the coating at the connected edge, as cut. */
  uncoated_margin?: Entry;
  /** Length at the start of winding that is bare on both sides. */
  uncoated_start?: Entry;
}

/** An answer about declared figures: one, or several of one cell. */
export type AnyClaimAnswer = ClaimAnswer | ClaimsAnswer;

/** Answer about the changes between two cells. */
export interface AttributeAnswer {
  /** In a sentence or two. */
  answer: Sentence;
  /** The changes. */
  changes: NamedMoves[];
  /** For each figure the contribution of each change. */
  figures: ContributionTable[];
  /** Name of the first cell. */
  first: string;
  /** The changes as a list that can be edited and given back. */
  grouping: Changes;
  /** How it was found. */
  method: Method;
  /** Where prices were given. */
  prices?: Priced;
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
  /** Name of the second. */
  second: string;
}

/** The contribution of each change between two sheets. */
export interface AttributeQuestion {
  /** What moves together; what is not listed is grouped by part and by recipe. */
  changes?: Changes;
  /** How many pairs of cells are drawn from the uncertainties of both sheets; 200 where left out. */
  draws?: number;
  /** The sheet the changes start from. */
  first?: Sheet;
  /** What things cost. */
  prices?: Prices;
  /** The sheet they lead to. */
  second?: Sheet;
  /** Seed of the draws; 1 where left out. */
  seed?: number;
}

/** An axis. */
export interface AxisRow {
  /** Key of the input. */
  key: string;
  /** What it is called, with its section. */
  label: string;
  /** Unit of its values. */
  unit: string;
  /** Values, both ends included. */
  values: number[];
}

/** The claim on one basis. */
export interface BasisRow {
  /** Which: "cell", "roll", "cell, under load". */
  basis: string;
  /** Chance that the claim holds on it. */
  chance: Chance;
  /** The figure on it. */
  figure: Figure;
  /** Whether it is the claim's own. */
  main: boolean;
  /** In words. */
  text: string;
  /** What becomes of it. */
  verdict: Verdict;
}

/** A figure of the cell before and after. */
export interface BeforeAfter {
  /** By the reconciled sheet, or with all declared figures. */
  after: Figure;
  /** By the sheet alone. */
  before: Figure;
  /** Stable name. */
  id: string;
  /** What it is called. */
  label: string;
}

/** Cells that are blank for one reason. */
export interface BlankRow {
  /** How many. */
  cells: number;
  /** What would be right, as it reads after "expected". */
  expected: string;
  /** What was found there, in the first of them. */
  found: string;
  /** Place in the sheet. */
  place: string;
}

/** A rectangle of the half section. */
export interface Block {
  /** Its look. */
  look: Look;
  /** From and to, mm from the axis. */
  r: [number, number];
  /** What it is. */
  what: string;
  /** From and to, mm from the outside of the bottom. */
  z: [number, number];
}

/** The bare can: its size by name, or its dimensions. */
export interface Can {
  /** Bottom thickness. */
  bottom?: Entry;
  /** Largest outer diameter. */
  diameter?: Entry;
  /** Largest outer height, lid and terminals included. */
  height?: Entry;
  /** The empty can on the balance. */
  mass?: Entry;
  /** Metal of the can: a material of the table. */
  material?: string;
  /** The size's name, diameter × height in whole millimetres: "18 × 65", or "18650". Real cans differ from it by some tenths. */
  size?: string;
  /** Wall thickness. */
  wall?: Entry;
}

/** A cell between the two that cannot be built. */
export interface CannotBe {
  /** Names of the changes made there. */
  made: string[];
  /** Why it cannot be. */
  why: string;
}

/** The cathode: foil with the same coating on both faces. */
export interface Cathode {
  /** The foil. */
  foil?: Foil;
  /** Axial height of the folded foil edge outside the separator. */
  fold_height?: Entry;
  /** Share of the first charge that the cathode can take back. */
  initial_coulombic_efficiency?: Entry;
  /** Loading of one face. */
  loading?: Entry;
  /** What the dry coating is mixed from. */
  mix: Mixed[];
  /** Further length at the end that is coated on its inner side alone. */
  one_sided_end?: Entry;
  /** Further length at the start that is coated on its outer side alone. */
  one_sided_start?: Entry;
  /** Radius of an active particle. */
  particle_radius?: Entry;
  /** Share of the coating's volume that is pores. */
  porosity?: Entry;
  /** Diffusion coefficient of lithium in it at 25 °C. */
  solid_diffusion?: Entry;
  /** Coating thickness of one face. */
  thickness?: Entry;
  /** Tortuosity of its pores; from the porosity where left out. */
  tortuosity?: Entry;
  /** Exponent α by which the tortuosity follows from the porosity ε, τ = ε^−α. */
  tortuosity_exponent?: Entry;
  /** Length at the end of winding that is bare on both sides. */
  uncoated_end?: Entry;
  /** Foil beyond the coating at the connected edge, as cut. */
  uncoated_margin?: Entry;
  /** Length at the start of winding that is bare on both sides. */
  uncoated_start?: Entry;
  /** Coated width; the void height then follows. */
  width?: Entry;
}

/** A caution with its source. */
export interface Caution {
  /** Where it comes from. */
  source: string;
  /** The caution. */
  text: string;
}

export type CautionsAnswer = Caution[];

/** A chance. */
export interface Chance {
  /** In per cent, as it is read. */
  text: string;
  /** 0 to 1. */
  value: number;
}

/** Changes by name. */
export interface Changes {
  /** The changes. */
  changes?: NamedChange[];
  /** Anything worth keeping. */
  remark?: string;
}

/** A reading that could be taken. */
export interface ChoiceRow {
  /** The figure's standard uncertainty afterwards, in the figure's unit. */
  after: Figure;
  /** Under which conditions, where it needs some. */
  at?: string;
  /** Name of the cell. */
  cell: string;
  /** With which instrument. */
  instrument: string;
  /** Standard uncertainty of one reading, as "± 0.1 mm". */
  instrument_u: Figure;
  /** Name of the quantity, as in a bench sheet. */
  key: string;
  /** In plain words. */
  label: string;
  /** What the sheet predicts for it. */
  predicted: number;
  /** Share of the figure's variance that it takes off, 0 to 1. */
  removed: number;
  /** Where its uncertainty comes from: "instrument" or "typical". */
  uncertainty_from: UncertaintySource;
}

/** An input that was chosen. */
export interface Chosen {
  /** "from" or "to", where it stands at that end of its range: more of it would be better still. */
  at_end?: string;
  /** Key of an input, or id of a figure. */
  id: string;
  /** What it is. */
  label: string;
  /** Rounded, with its unit. */
  text: string;
  /** Its unit. */
  unit: string;
  /** Its value, unrounded; `null` for a figure that the cell has not. */
  value: number | null;
}

/** Answer about a claim. */
export interface ClaimAnswer {
  /** Whether `alone` says when the claim would hold ("hold"), or when it would fail ("fail"). */
  alone_to: string;
  /** In words. */
  answer: Sentence;
  /** On each basis. */
  bases: BasisRow[];
  /** What to keep in mind where a cell is opened for a reading. */
  cautions: Caution[];
  /** The cell it is about. */
  cell: string;
  /** Chance that the claim holds, by draws. */
  chance: Chance;
  /** The claim as it was understood. */
  claim: ClaimDetails;
  /** Other conventions under which it may have been declared. */
  conventions: ConventionRow[];
  /** Under which conventions and on which bases the claim would stand otherwise, in a sentence. */
  conventions_text: string;
  /** The figure on the claim's basis. */
  figure: Figure;
  /** How the draws lie. */
  histogram: HistogramAnswer;
  /** Readings that could settle it, the best first. */
  information: InformationRow[];
  /** The most probable cell that just meets the claim; absent where nothing uncertain moves the figure. */
  nearest: NearestAnswer | null;
  /** The same for a normal distribution of the first-order uncertainty. */
  normal: Chance;
  /** The cell it compares with. */
  other: string | null;
  /** What to know of this answer. */
  remarks: string[];
  /** What each input alone would have to be, the nearest first. */
  required: RequiredRow[];
  /** Version of this crate. */
  roulade: string;
  /** What its digits leave open. */
  rounding: Digits;
  /** The chances at which a claim counts as contradicted and as supported. */
  thresholds: [number, number];
  /** What becomes of the claim. */
  verdict: Verdict;
}

/** The claim as it was understood. */
export interface ClaimDetails {
  /** What the figure is taken over. */
  basis: string;
  /** The same in words. */
  basis_text: string;
  /** Id of the figure. */
  figure: string;
  /** Upper end. */
  high: number | null;
  /** What the figure is called. */
  label: string;
  /** Lower end of the interval in which the claim holds, rounding allowed for; absent where there is none. */
  low: number | null;
  /** Whether it is a change over the other cell. */
  over: boolean;
  /** The rate, 1/h, where the claim states one. */
  rate: number | null;
  /** How it stands to the value. */
  relation: Relation;
  /** "minimum" or "typical", where the claim says so. */
  standing: string | null;
  /** The temperature, °C, where the claim states one. */
  temperature: number | null;
  /** In its shortest clear form. */
  text: string;
  /** Unit in which all figures of this answer are shown. */
  unit: string;
  /** The value, in `unit`. */
  value: number;
  /** Lower and upper voltage limit, V, where the claim states one. */
  window: [number | null, number | null] | null;
}

/** The question whether declared figures can be true. */
export interface ClaimQuestion {
  /** The claim: a figure, or several in one text between commas, semicolons or line breaks. */
  claim?: Said;
  /** Several declared figures, each a text or its parts. */
  claims?: Said[];
  /** How many draws. */
  draws?: number;
  /** That of the other cell, where it compares. */
  other?: Sheet;
  /** Where the draws begin. */
  seed?: number;
  /** The sheet of the cell it is about. */
  sheet?: Sheet;
}

/** A declared figure in its parts; [`Claim::read`](super::Claim::read) reads the same from a line of text. */
export interface Claimed {
  /** "cell", "with sleeve", "without sleeve", "nominal size", "inside of the can" or "roll". */
  basis?: string;
  /** What it is charged to, alone: "4.2 V". */
  charged_to?: string;
  /** What it is discharged to, alone: "2.5 V". */
  down_to?: string;
  /** The figure: "per volume", "capacity", or the id of any figure. The value's unit says it where it can. */
  figure?: string;
  /** "the other cell", where it is a change over that. */
  over?: string;
  /** "open circuit", "under load" (at the sheet's rate), or a rate: "0.2 C". */
  rate?: string;
  /** "at least", "at most" or "about". */
  relation?: string;
  /** "minimum" or "typical". */
  standing?: string;
  /** The temperature it is stated for: "25 °C". */
  temperature?: string;
  /** The value with its unit; per cent where it is a share of the other cell's. */
  value?: string;
  /** Voltage limits it is stated for: "2.5 .. 4.2 V". */
  window?: string;
}

/** Answer about several declared figures of one cell. */
export interface ClaimsAnswer {
  /** In words. */
  answer: Sentence;
  /** What to keep in mind where a cell is opened for a reading. */
  cautions: Caution[];
  /** The cell they are about. */
  cell: string;
  /** Share of cells whose figures would lie as far out together. */
  chance: Chance;
  /** Whether they agree with one another. */
  consistency: ConsistencyAnswer;
  /** Trials asked for. */
  draws: number;
  /** Each figure. */
  figures: DeclaredRow[];
  /** Those whose cell held together. */
  held: number;
  /** What they imply. */
  implied: BeforeAfter[];
  /** The most probable cell that just meets that one. */
  nearest: NearestAnswer | null;
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
  /** The size that is declared beside them. */
  size: string | null;
  /** What becomes of all of them together. */
  verdict: Verdict;
  /** The claim that stands weakest. */
  weakest: string;
}

/** How the current of a cell is collected. */
export type Collection = "tabs" | "edges";

/** Answer about two cells. */
export interface CompareAnswer {
  /** In a sentence or two. */
  answer: Sentence;
  /** The same by elements. */
  elements: ElementChange[];
  /** The whole difference. */
  figures: FigureChange[];
  /** The first cell by itself. */
  first: EstimateAnswer;
  /** What left; absent where the hardware is alike or the cans are not. */
  freed: Freed | null;
  /** Inputs that differ. */
  inputs: Differing[];
  /** Both ledgers. */
  ledger: LedgerChange[];
  /** Both ways of the current. */
  path: PathChange[];
  /** What the hardware alone buys: none of the height reclaimed, as designed, all of it. */
  reclaim: Reclaim[];
  /** Version of this crate. */
  roulade: string;
  /** The second. */
  second: EstimateAnswer;
  /** The second sheet, where it was made for this answer. */
  sheet?: Sheet;
}

/** A cathode active material that the sheet gives by the mole fractions of its metals. */
export interface CompositionAnswer {
  /** As a formula. */
  formula: string;
  /** Its name. */
  material: string;
  /** The table's nearest. */
  nearest: string;
  /** Molar mass, theoretical capacity, density, distance. */
  rows: Row[];
}

/** Whether declared figures agree with one another. */
export interface ConsistencyAnswer {
  /** "untested", "agree", "strained" or "disagree". */
  agreement: string;
  /** Each figure that others determine. */
  rows: RelationshipRow[];
  /** Claims without any one of which the others agree best. */
  strains: string[];
  /** In a sentence. */
  text: string;
}

/** The lines of one level. */
export interface Contour {
  /** The level, in the unit of the figure. */
  level: number;
  /** Its lines as pairs in the units of the axes; a closed one ends where it began. */
  lines: (([number, number])[])[];
}

/** The contribution of one change to one figure. */
export interface ContributionRow {
  /** Name of the change. */
  change: string;
  /** Averaged over all orders of the changes. */
  contribution: Amount;
  /** Made before all others; absent where that cell cannot be built. */
  first_in: Amount | null;
  /** Made after all others. */
  last_in: Amount | null;
  /** Standard error in the figure's unit from the orders having been drawn; absent where all were taken. */
  standard_error?: number;
}

/** One figure, shared among the changes. */
export interface ContributionTable {
  /** Of the first cell. */
  first: Amount;
  /** Stable name. */
  id: string;
  /** What it is. */
  label: string;
  /** The strongest interactions. */
  pairs: PairRow[];
  /** For each change, in the order of the changes. */
  rows: ContributionRow[];
  /** Of the second. */
  second: Amount;
  /** Its unit. */
  unit: string;
  /** Second less first: the sum of all contributions. */
  whole: Amount;
}

/** The claim under another convention. */
export interface ConventionRow {
  /** Chance that the claim holds under it. */
  chance: Chance;
  /** The figure under it. */
  figure: Figure;
  /** Which: "rated at 0.2 It". */
  name: string;
  /** What it means. */
  text: string;
  /** What becomes of it. */
  verdict: Verdict;
}

/** Quantities of the sheet that move together: because one reading gave several, say. All others are independent. */
export interface Correlated {
  /** Correlation coefficients, -1 to 1: a row of one for the second path, of two for the third, and so on. */
  coefficients: number[][];
  /** Figures of the cell that were read and made them move together, by their ids: `capacity`, `roll.cathode_length`. Monte Carlo keeps to them where the model is curved. */
  held?: string[];
  /** Standard uncertainty of what was read, one for each of these, in the figure's unit. */
  held_u?: number[];
  /** The quantities, each by its path: `cathode.loading`, `parts[2].height`. */
  paths: string[];
}

/** Whether something counts into both the mass and the volume of a cell. */
export type Counts = "yes" | "no";

/** How one foil is connected. */
export interface CurrentCollection {
  /** Radius of the weld in the middle by which plate or tabs pass the current on. */
  centre_weld_radius?: Entry;
  /** Along one whole edge or by tabs; tabs where the foil has no folded edge. */
  feed?: FeedKind;
  /** Resistance of the pressed and welded edge, or of the tabs' welds on the foil, all together. */
  joint?: Entry;
  /** The part that gathers the edge; a metal part on that side called "... collector ..." where left out. */
  plate?: string;
  /** The same as a share of the can's inner radius. */
  ring?: Entry;
  /** Radius of the ring on which the spots of the edge lie. */
  ring_radius?: Entry;
  /** Radius of one spot. */
  spot_radius?: Entry;
  /** Weld spots of the edge on the plate or the can, or of the tabs on the can or the lid. */
  spots?: Entry;
  /** The tabs, from the core outwards. */
  tabs?: Tab[];
}

/** How the current leaves the foils and reaches the terminals. */
export interface CurrentPath {
  /** Rise of temperature that a continuous discharge is allowed. */
  allowed_rise?: Entry;
  /** From the anode's foil to the can. */
  anode?: CurrentCollection;
  /** Resistance of the coatings and the electrolyte for each cm² that faces the other electrode. */
  areal_resistance?: Entry;
  /** Discharge rate: 1 C empties the cell in an hour. */
  c_rate?: Entry;
  /** From the upper plate, or the cathode's tabs, to the positive terminal. */
  cap_assembly?: Entry;
  /** From the cathode's foil to the lid. */
  cathode?: CurrentCollection;
  /** Charge-transfer resistance of a unit of the particles' surface at 25 °C, where neither figure of the whole is given. */
  charge_transfer?: Entry;
  /** The same for the whole cell, in the place of the areal figure. */
  electrochemical?: Entry;
  /** Heat that leaves each area of the can's outside for each kelvin above that. */
  heat_transfer?: Entry;
  /** Where the current leaves the can: at its top, after the whole wall, or at its bottom. */
  negative_at?: NegativeAt;
  /** Temperature around the cell, and of the cell as a discharge begins. */
  temperature?: Entry;
}

/** Discharge, at open circuit and under load. */
export interface CurveDrawing {
  /** Anode against lithium, V. */
  anode: number[];
  /** Ah since full charge. */
  capacity: number[];
  /** Cathode against lithium, V. */
  cathode: number[];
  /** Where charge and discharge ended, in words. */
  ends: string[];
  /** Ah since full charge, under load; none where the load is too heavy for a full cell. */
  loaded_capacity: number[];
  /** Cell under load, V. */
  loaded_voltage: number[];
  /** Cell, V. */
  voltage: number[];
}

/** A declared figure alone and given all others. */
export interface DeclaredRow {
  /** Chance of the claim from that. */
  chance: Chance;
  /** The claim in its shortest clear form. */
  claim: string;
  /** Effective number of trials behind it. */
  effective: number;
  /** The figure from the sheet alone. */
  expected: Figure;
  /** Id of the figure. */
  figure: string;
  /** The figure given all other declared figures. */
  given: Figure;
  /** Chance of the claim from that. */
  given_chance: Chance;
  /** What becomes of it. */
  given_verdict: Verdict;
  /** How it was found, in words. */
  how: string;
  /** What the figure is called. */
  label: string;
  /** What becomes of it. */
  verdict: Verdict;
}

/** A problem with its wording. */
export interface Diagnostic {
  /** What would be right, as it reads after "expected". */
  expected: string;
  /** What was found there. */
  found: string;
  /** Path in the sheet, or line and column; "input" for all that was given. */
  place: string;
  /** All of it in one line. */
  text: string;
}

/** An input that differs. */
export interface Differing {
  /** In the first sheet; empty where it has none. */
  first: string;
  /** What it is called. */
  label: string;
  /** Its path in the second sheet, or in the first where only that has it. */
  path: string;
  /** In the second. */
  second: string;
  /** Heading. */
  section: string;
}

/** What the digits of the claim leave open. */
export interface Digits {
  /** Whether the verdict is another one by another reading of the digits. */
  decides: boolean;
  /** Each reading. */
  readings: DigitsRow[];
  /** In a sentence. */
  text: string;
}

/** One way to read the digits. */
export interface DigitsRow {
  /** Chance of that. */
  chance: Chance;
  /** Upper end. */
  high: number | null;
  /** Lower end of the interval in which the claim then holds. */
  low: number | null;
  /** Whether this reading decides. */
  main: boolean;
  /** In words. */
  text: string;
  /** What becomes of the claim. */
  verdict: Verdict;
}

/** One figure, drawn and to first order. */
export interface DrawnFigure {
  /** How far they do: lower and upper end of the draws less that of first order. */
  apart: [number, number];
  /** Mean, standard deviation and probabilistically symmetric 95 % interval of the draws. */
  drawn: Figure;
  /** Standard errors of these four, from how the pieces of the draws differ, in the figure's unit: mean, u, low, high. */
  errors: [number, number, number, number];
  /** The best value, its standard uncertainty to first order, and 1.96 of it either way. */
  first_order: Figure;
  /** That interval as it is read. */
  first_order_interval: string;
  /** Stable name. */
  id: string;
  /** That interval as it is read. */
  interval: string;
  /** What it is. */
  label: string;
  /** Which cell it is of. */
  of: WhichCell;
  /** Shares of the draws and the value they lie below, in the figure's unit: the shape of the distribution. Empty where all draws gave the same. */
  quantiles: ([number, number])[];
  /** In words, where they do not. */
  remark?: string;
  /** How far the ends may lie apart: half of the last place that the uncertainty is shown to. */
  tolerance: number;
  /** Whether the two intervals agree (JCGM 101:2008, clause 8). */
  verdict: IntervalVerdict;
}

/** The new sheet, and the way back. */
export interface EditAnswer {
  /** Edits that lead back from it to the old one. */
  inverse: SheetChange[];
  /** Everything wrong with the new sheet as a cell; none where it holds together. */
  problems: Diagnostic[];
  /** The new sheet. */
  sheet: Sheet;
}

/** A change as it is written: one of its verbs (set, clear, remove, add, reorder, replace, rename, fix, scale) with the key it is about. */
export interface EditEntries {
  /** Puts `item` into this list, `at` a place counted from 0 or `after` the item of that name. */
  add?: string;
  /** Name of the item that it follows. */
  after?: string;
  /** A place in the list, counted from 0. */
  at?: number;
  /** The factor. */
  by?: number;
  /** Leaves out what stands under this key. */
  clear?: string;
  /** Makes this quantity exact, at `value` where that is given. */
  fix?: string;
  /** The item to add. */
  item?: unknown;
  /** Takes this item out of its list: `parts[lid]`. */
  remove?: string;
  /** Calls this part or material `to`. */
  rename?: string;
  /** Moves this item to the place `at`. */
  reorder?: string;
  /** Puts `with` in the place of this item. */
  replace?: string;
  /** Multiplies this quantity and its uncertainty `by` a number. */
  scale?: string;
  /** Writes `to` under this key. */
  set?: string;
  /** What to write, or the new name. */
  to?: unknown;
  /** The exact value. */
  value?: string;
  /** The item that comes. */
  with?: unknown;
}

/** A sheet, and what is to be changed in it. */
export interface EditQuestion {
  /** Changes, made in turn. */
  edits?: SheetChange[];
  /** The sheet. */
  sheet?: Sheet;
}

/** The electrolyte. */
export interface Electrolyte {
  /** Ionic conductivity at 25 °C. */
  conductivity?: Entry;
  /** Density. */
  density?: Entry;
  /** Free electrolyte over that in the pores. */
  excess?: Entry;
  /** All of it, weighed or stated. */
  mass?: Entry;
  /** All of it for each ampere-hour of the cell's capacity. */
  per_capacity?: Entry;
  /** Mass fraction of it that is lithium hexafluorophosphate; the rest counts as carbonates. */
  salt?: Entry;
  /** Diffusion coefficient of the salt in it at 25 °C. */
  salt_diffusion?: Entry;
  /** Share of the current that the lithium ions carry. */
  transference_number?: Entry;
}

/** One element of two cells. */
export interface ElementChange {
  /** Its symbol, or "unresolved". */
  id: string;
  /** Its name. */
  label: string;
  /** Mass in the cell. */
  mass: FigureChange;
  /** That mass over the cell's energy. */
  per_energy: FigureChange;
}

/** The mass of each element in a cell. */
export interface ElementLedger {
  /** All rows less the mass of the ledger: rounding. */
  closure: Figure;
  /** On which basis. */
  note: string;
  /** Elements of which there is any, then what has no formula, where anything has none. */
  rows: ElementRow[];
  /** All rows together. */
  total: Figure;
}

/** One element of a cell. */
export interface ElementRow {
  /** Its symbol, or "unresolved". */
  id: string;
  /** Its name. */
  label: string;
  /** Mass in the cell. */
  mass: Figure;
  /** That mass over the cell's energy. */
  per_energy: Figure;
}

/** A quantity with its unit, or that with where it comes from and a remark. */
export type Entry = string | Noted;

/** Answer about one cell. */
export interface EstimateAnswer {
  /** In one sentence. */
  answer: Sentence;
  /** What to keep in mind where readings come from an opened cell. */
  cautions: Caution[];
  /** The cell's name. */
  cell: string;
  /** Cathode active materials that the sheet gives by their metals. */
  compositions?: CompositionAnswer[];
  /** Discharge at open circuit and under load, where half-cell curves were used. */
  curve: CurveDrawing | null;
  /** The same by elements. */
  elements: ElementLedger;
  /** The figures that come first. */
  headline: Row[];
  /** All inputs. */
  inputs: InputRow[];
  /** The ledger. */
  ledger: Ledger;
  /** The way of the current, element by element. */
  path: PathTable;
  /** What to know of this answer. */
  remarks: string[];
  /** The roll across the axis. */
  roll: RollDrawing;
  /** Version of this crate. */
  roulade: string;
  /** The axial section. */
  section: Section;
  /** All others. */
  tables: Table[];
}

/** Where the current leaves a foil, as the sheet says it. */
export type FeedKind = "edge" | "tabs";

/** One number as people read it and as programs do. */
export interface Figure {
  /** Upper end. */
  high?: number;
  /** Lower end of the 95 % interval in `unit`: 1.96 standard uncertainties below the value, or as drawn. */
  low?: number;
  /** Rounded by its uncertainty, with its unit. */
  text: string;
  /** Standard uncertainty in `unit`; absent where nothing uncertain reaches it. */
  u?: number;
  /** Unit of the trade. */
  unit: string;
  /** In `unit`, unrounded. */
  value: number;
}

/** One figure of two cells. */
export interface FigureChange {
  /** Second less first. */
  change: Figure;
  /** Of the first cell. */
  first: Figure;
  /** Stable name. */
  id: string;
  /** What it is. */
  label: string;
  /** The change over the first; absent where the first is zero. */
  percent: Figure | null;
  /** Of the second. */
  second: Figure;
}

/** How the fit went. */
export interface FitRow {
  /** Squares of all normalised residuals, of readings and of what was known beforehand. */
  chi_square: number;
  /** Whether the parameters are the best there are nearby. */
  converged: boolean;
  /** Degrees of freedom. */
  degrees: number;
  /** Why it ended, in words. */
  ending: string;
  /** By how much the sum of squares could still fall, by its slopes; none to speak of where it converged. */
  left: number;
  /** How dear a residual was: "normal", "huber" or "student". */
  loss: string;
  /** Probability of a χ² at least as large if all uncertainties are right. */
  probability: number | null;
  /** χ² per degree of freedom. */
  reduced: number | null;
  /** How far the readings see: singular values of the sensitivities in units of what was known beforehand and of the readings' uncertainties, the largest first. */
  singular: number[];
  /** Steps taken. */
  steps: number;
  /** Where it ended: "settled", "at the edge" of what designs are possible, "at a corner" of a prediction, or "out of steps". */
  stopped: string;
}

/** The foil. */
export interface Foil {
  /** Metal: a material of the table. */
  material?: string;
  /** Thickness. */
  thickness?: Entry;
}

/** The foil in the middle of an electrode. */
export interface FoilLook {
  /** Its look. */
  look: Look;
  /** Thickness, mm. */
  thickness: number;
}

/** An input that a search may choose, and between what. */
export interface Free {
  /** One end, with its unit. */
  from?: string;
  /** Its key in the sheet. */
  key?: string;
  /** The other. */
  to?: string;
}

/** An input with its range. */
export interface FreeRow {
  /** One end. */
  from: number;
  /** Its key. */
  key: string;
  /** What it is, with its section. */
  label: string;
  /** Both, with their unit. */
  text: string;
  /** The other. */
  to: number;
  /** Its unit. */
  unit: string;
}

/** What left and what came in its place. */
export interface Freed {
  /** Parts of the second cell that the first does not have. */
  came: string[];
  /** Parts that both have but not alike. */
  changed: string[];
  /** Height freed: what left less what came. */
  height: Figure;
  /** Parts of the first cell that the second does not have. */
  left: string[];
  /** Mass of it. */
  mass: Figure;
  /** Solid volume of the hardware that left less that which came: smaller. */
  solid_volume: Figure;
  /** That height times the inner cross-section. */
  volume: Figure;
  /** Axial place of what left, in the first cell, mm. */
  z: [number, number] | null;
}

/** A reading that is further off than the others, but not beyond chance. */
export interface FurthestRow {
  /** Probability that the worst of so many readings is as far off by chance. */
  chance: number;
  /** What was read, off what. */
  label: string;
  /** Line of the bench sheet. */
  line: number;
  /** Probability of so much by chance, of one reading. */
  probability: number;
  /** In words. */
  text: string;
  /** How far it is off, in standard deviations of the difference to what the others leave. */
  z: number;
}

/** How far a half-cell curve can be trusted. */
export type Grade = "A" | "B" | "C";

/** A figure over the grid. */
export interface GridFigure {
  /** Lines at round levels, over two axes. */
  contours?: Contour[];
  /** The greatest. */
  greatest: number | null;
  /** Its name. */
  id: string;
  /** What it is. */
  label: string;
  /** The least of them; `null` where there is none. */
  least: number | null;
  /** What is meant; may be empty. */
  note: string;
  /** Its unit. */
  unit: string;
  /** Values to seven digits, the first axis running fastest; `null` where there is none. */
  values: (number | null)[];
}

/** The five basic components of a cell, and the spaces between them. */
export type Group = "anode" | "cathode" | "separator" | "electrolyte" | "enclosure" | "space";

/** A half-cell curve. */
export interface HalfRow {
  /** The metal that its potentials are against. */
  against: string;
  /** What it was checked against. */
  check: string;
  /** Where it goes on past its window. */
  continued: string;
  /** Volts against lithium at both ends. */
  ends: [number, number];
  /** Standard uncertainty of its potential, and what stands behind it. */
  error: Sourced;
  /** How well it is attested: A measured, or with its partner it gives its paper's voltage limits; B plausible; C uncertain. */
  grade: Grade;
  /** What is added to that shape, V. */
  raised: number;
  /** Whose scale the stoichiometry is on. */
  scale: string;
  /** Material whose shape it has, where it is a neighbour's. */
  shape_of: string | null;
  /** Where it comes from. */
  source: string;
  /** Stoichiometry it is valid for. */
  window: [number, number];
}

/** One thing that is held. */
export interface HeldItem {
  /** Whether the question asked for it; otherwise it is that of the sheet. */
  asked: boolean;
  /** The key of a question's `hold` that would hold it otherwise; none for what cannot be. */
  key?: string;
  /** Its value, or what it goes with. */
  text: string;
  /** What it is. */
  what: string;
}

/** How the draws lie, in the unit of the claim. */
export interface HistogramAnswer {
  /** Draws in each bar; a draw beyond either end counts in the last bar there. */
  counts: number[];
  /** Their standard deviation. */
  deviation: number;
  /** Draws asked for. */
  draws: number;
  /** Lower edge of the first bar. */
  from: number;
  /** Those whose cell held together. */
  held: number;
  /** Mean of the draws. */
  mean: number;
  /** Shares of the draws, and the value that so many lie below. */
  quantiles: ([number, number])[];
  /** Width of each bar. */
  step: number;
}

/** What stays as it is where a recipe goes into another can. What is left out is that of the sheet, and hardware grows with the diameter. */
export interface HoldEntries {
  /** Bottom thickness. */
  bottom?: string;
  /** Core diameter. */
  core_diameter?: string;
  /** Wall, bottom, core, radial clearance, and heights of parts: "grows" with the diameter as from cell to cell, or "stays". */
  hardware?: string;
  /** Masses and volumes of parts: "with the inner diameter", or "as they are". */
  parts?: string;
  /** Mean radial clearance. */
  radial_clearance?: string;
  /** Empty height above the roll. */
  void_height?: string;
  /** Wall thickness, or "with the diameter". */
  wall?: string;
}

/** How a line was obtained. */
export type How = "computed" | "weighed";

/** Draws in which the cell does not hold together. */
export interface ImpossibleTrials {
  /** The place in the sheet where that shows. */
  place: string;
  /** Their share of all draws. */
  share: number;
}

/** A reading that could settle the claim. */
export interface InformationRow {
  /** Its cell, where there are two and they do not share it. */
  cell: string | null;
  /** How it would be read. */
  how: string;
  /** Its name in a bench sheet. */
  key: string;
  /** What it is called, in full. */
  label: string;
  /** The figure's standard uncertainty after it. */
  leaves: string;
  /** Standard uncertainty now. */
  now: string;
  /** Whether the cell must be opened for it. */
  opens: boolean;
  /** Path of the input. */
  path: string;
  /** That of the reading: common practice, no source. */
  reading: string;
  /** Chance that the claim is supported or contradicted after it. */
  settles: Chance;
  /** Share of the figure's variance that it takes away. */
  takes: number;
  /** The same after this one and all above it. */
  together: Chance;
}

/** An input as it is shown. */
export interface InputRow {
  /** What it is called. */
  label: string;
  /** Where it comes from. */
  origin: Origin;
  /** Path in the sheet. */
  path: string;
  /** What looks like a slip in it, in a sentence. */
  plausibility?: string;
  /** The user's remark. */
  remark?: string;
  /** Heading. */
  section: string;
  /** Source of a default. */
  source?: string;
  /** As written, or the default. */
  text: string;
  /** Unit of the trade. */
  unit: string;
}

/** An instrument's shared error, as the readings show it. */
export interface InstrumentRow {
  /** Its name; of an ordinary one with what it read. */
  instrument: string;
  /** How many readings share it. */
  readings: number;
  /** Relative error of its scale. */
  scale?: Figure;
  /** Standard uncertainty of the error that an ordinary instrument's readings of this quantity were supposed to share, where no instrument file says it. */
  supposed?: Figure;
  /** Error of its zero. */
  zero?: Figure;
}

/** What the comparison of two intervals says. */
export type IntervalVerdict = "agrees" | "differs" | "open";

/** A figure that a search must keep within bounds. */
export interface Keep {
  /** It is this or more, with its unit. */
  at_least?: string;
  /** It is this or less. */
  at_most?: string;
  /** Its id. */
  figure?: string;
}

/** A figure that was to be kept. */
export interface KeepRow {
  /** It is this or more. */
  at_least?: number;
  /** It is this or less. */
  at_most?: number;
  /** Its id. */
  id: string;
  /** What it is. */
  label: string;
  /** "holds", "binds" where it stands at its bound, or "broken". */
  state: string;
  /** Its unit. */
  unit: string;
}

/** Every gram and every cubic millimetre. */
export interface Ledger {
  /** All lines. */
  lines: LedgerLine[];
  /** Computed less weighed mass, where the cell was weighed. */
  mass_residual?: Figure;
  /** Groups, then the cell. */
  totals: Total[];
  /** Sum of all volumes less the envelope: rounding. */
  volume_closure: Figure;
}

/** A ledger line of both cells. */
export interface LedgerChange {
  /** Its group. */
  group: Group;
  /** What it is. */
  line: string;
  /** Mass; absent for spaces. */
  mass: FigureChange | null;
  /** Volume. */
  volume: FigureChange;
}

/** A line of the ledger. */
export interface LedgerLine {
  /** Its group. */
  group: Group;
  /** How its mass was obtained. */
  how: How;
  /** What it is. */
  line: string;
  /** Mass; absent for spaces. */
  mass?: Figure;
  /** Volume. */
  volume: Figure;
}

/** A quantity as it is listed. */
export interface Listed {
  /** Heading. */
  group: string;
  /** Path of the input it reads directly; empty for none. */
  input: string;
  /** That instrument. */
  instrument: string;
  /** Its name. */
  key: string;
  /** What is meant by it. */
  note: string;
  /** Standard uncertainty of an ordinary instrument, as one would write it: common practice, no source. */
  typical: string;
  /** Unit of the trade. */
  unit: string;
}

/** What a thing looks like. */
export type Look = "steel" | "copper" | "aluminium" | "nickel" | "anode" | "cathode" | "roll" | "separator" | "polymer" | "space";

/** A map or a sweep. */
export interface MapAnswer {
  /** Figures that were asked for, or are usual, and are not there. */
  absent?: AbsentRow[];
  /** One axis or two; the first runs fastest. */
  axes: AxisRow[];
  /** Why cells are blank. */
  blank?: BlankRow[];
  /** Name of the cell. */
  cell: string;
  /** How many cells the grid has. */
  cells: number;
  /** Common sizes inside the map. */
  common?: SizeRow[];
  /** The figures. */
  figures: GridFigure[];
  /** What is held; empty where all else is as the sheet has it. */
  held?: HeldItem[];
  /** The cell in its own can, by the same rules. */
  own?: SizeRow;
  /** What looks wrong with entries of the sheet, each in a sentence. */
  plausibility?: string[];
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
}

/** The recipe of a sheet in cans of other diameters and heights. */
export interface MapQuestion {
  /** Outer diameters. */
  diameter?: Span;
  /** Figures, by id. */
  figures?: string[];
  /** Outer heights. */
  height?: Span;
  /** What is held. */
  hold?: HoldEntries;
  /** The sheet. */
  sheet?: Sheet;
}

/** A material of the user's own, or other figures for one of the table. */
export interface Material {
  /** Practical reversible capacity, over the window of its curve. */
  capacity?: Entry;
  /** Half-cell potential: pairs of stoichiometry and volts against lithium (against sodium for its hosts). */
  curve?: ([number, number])[];
  /** True density. */
  density?: Entry;
  /** Volume that a host gains from free of lithium to full. */
  expansion?: Entry;
  /** How long the curve's continuation past its window is, over what the table states: "1 ± 0.3". */
  extension?: Entry;
  /** Chemical formula, for the ledger of elements: "LiMn0.6Fe0.4PO4". */
  formula?: string;
  /** Initial coulombic efficiency. */
  initial_coulombic_efficiency?: Entry;
  /** Measured composition of a cathode active material. What the entries below leave out then comes from the table's nearest. */
  metals?: Metals;
  /** Its name; that of a material of the table changes that one in this sheet. */
  name: string;
  /** Error of its half-cell potential: a shift with its uncertainty, "0 ± 15 mV"; "0 mV" takes the curve as exact. */
  potential?: Entry;
  /** Anything worth keeping. */
  remark?: string;
  /** Resistivity of a metal at 20 °C. */
  resistivity?: Entry;
  /** What it does in a cell. */
  role?: Role;
  /** Stoichiometries that the practical capacity stands for, [low, high]; points of the curve beyond them continue it. The whole curve where left out. */
  window?: number[];
}

/** A material. */
export interface MaterialRow {
  /** Other spellings. */
  aliases: string[];
  /** Practical reversible capacity. */
  capacity: Sourced | null;
  /** True density. */
  density: Sourced;
  /** Volume that a host of the anode gains, from free of lithium to full. */
  expansion: Sourced | null;
  /** Chemical formula, where one describes it, and what it stands for where that is a mixture. */
  formula: Sourced | null;
  /** Half-cell curve. */
  half: HalfRow | null;
  /** Initial coulombic efficiency. */
  initial_coulombic_efficiency: Sourced | null;
  /** As the trade calls it. */
  name: string;
  /** Its temperature coefficient at 20 °C, per kelvin. */
  per_kelvin: Sourced | null;
  /** Resistivity of a metal at 20 °C. */
  resistivity: Sourced | null;
  /** What it does in a cell. */
  role: Role;
}

export type MaterialsAnswer = MaterialRow[];

/** Mole fractions of the metals of a layered oxide, Li(Ni, Co, Mn, Al)O2; one left out is none. */
export interface Metals {
  /** Aluminium. */
  aluminium?: Entry;
  /** Cobalt. */
  cobalt?: Entry;
  /** Lithium for one of all these metals together. */
  lithium?: Entry;
  /** Manganese. */
  manganese?: Entry;
  /** Nickel. */
  nickel?: Entry;
}

/** How it was found. */
export interface Method {
  /** Those that could be built. */
  answered: number;
  /** How many of them cannot be built. */
  cannot_be: number;
  /** Cells between the two, these included, that were worked out. */
  corners: number;
  /** Pairs of cells drawn from the uncertainties; 0 for first order. */
  draws: number;
  /** Whether all orders of the changes were taken; otherwise some were drawn. */
  exact: boolean;
  /** Seed of all that was drawn. */
  seed: number;
  /** The first of those. */
  shown: CannotBe[];
  /** Cells between the two with N/P below 1, where both ends have more. */
  unbalanced: number;
}

/** One component of a coating. */
export interface Mixed {
  /** A material of the table or of this sheet. */
  material: string;
  /** Mass fraction in the dry coating; one component may leave it out and takes the rest. */
  share?: Entry;
}

/** What the model as a whole may be off by, beside all that is uncertain of the cell. */
export interface Model {
  /** Capacity over that of the estimate, less one: "0 %" switches it off. */
  capacity?: Entry;
}

/** An entry that moves with a change. */
export interface Move {
  /** In the first sheet; empty where it has none. */
  first: string;
  /** Its key, names in the place of list indices. */
  key: string;
  /** In the second. */
  second: string;
}

/** Entries of the sheet that move together. */
export interface NamedChange {
  /** Keys of the sheet, names in the place of list indices, or beginnings of keys: `parts[lid]`, `cathode.mix`. */
  keys?: string[];
  /** What it is called. */
  name?: string;
}

/** A change by its name. */
export interface NamedMoves {
  /** What moves with it. */
  moves: Move[];
  /** What it is called. */
  name: string;
}

/** The most probable cell that just meets the claim: what would have to be true. */
export interface NearestAnswer {
  /** Its distance from the middle of what is known, standard deviations. */
  beta: number;
  /** What would have to be true, the furthest from its middle first. */
  rows: NearestRow[];
  /** In a sentence. */
  text: string;
}

/** One quantity of that cell. */
export interface NearestRow {
  /** By how many of its standard deviations it moves. */
  deviations: number;
  /** What it is called, in full. */
  label: string;
  /** What it would have to be. */
  needed: string;
  /** Path of the input. */
  path: string;
  /** As it is known. */
  prior: string;
}

/** Where the current leaves the can. */
export type NegativeAt = "top" | "bottom";

/** What to read next for a figure. */
export interface NextAnswer {
  /** Every reading by what it alone would do, the best first. */
  alone: ChoiceRow[];
  /** In one sentence. */
  answer: Sentence;
  /** Names of the cells: one, or the two whose difference is asked for. */
  cells: string[];
  /** Id of the figure. */
  figure: string;
  /** The best to take one after another, each knowing those before it. */
  in_turn: ChoiceRow[];
  /** What it is called. */
  label: string;
  /** The figure, or its difference, as it is known now. */
  now: Figure;
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
}

/** The question of what to read next. */
export interface NextQuestion {
  /** Id of the figure. */
  figure?: string;
  /** The uncertainties of the instruments: CSV text or JSON text. */
  instruments?: string;
  /** Readings there are already: CSV text. */
  readings?: string;
  /** A second one, where the difference between two cells is asked for. */
  second?: Sheet;
  /** The design sheet. */
  sheet?: Sheet;
}

/** A quantity, where it comes from, and a remark. */
export interface Noted {
  /** Measured, assumed or stated by the maker; assumed where left out. */
  from?: WrittenOrigin;
  /** Anything worth keeping beside it. */
  remark?: string;
  /** The quantity with its unit. */
  value: string;
}

/** What a share may be written as. */
export type NumberOrText = number | string;

/** A quantity whose readings are more likely off as a whole than not. */
export interface OffsetRow {
  /** Probability that they are. */
  chance: number;
  /** Name of the quantity. */
  key: string;
  /** In plain words. */
  label: string;
  /** By how much, if they are. */
  off: Figure;
  /** In words. */
  text: string;
}

/** By how much an opened cell differs from the cell as built, beside what follows from its design: for readings that were taken in another state. */
export interface Opened {
  /** The same of an anode's coating, without its lithium. */
  anode_spring_back?: Entry;
  /** By how much of its thickness a cathode's coating springs back from the press as it is wetted and cycled first. */
  cathode_spring_back?: Entry;
  /** Share of the electrolyte that evaporates from an open cell before it is weighed. */
  evaporated?: Entry;
  /** Mass of the film on the anode, besides the lithium in it, for the capacity that was lost in it. */
  film?: Entry;
  /** Residue of unwashed pores over the salt that was in them. */
  residue?: Entry;
  /** Growth of an anode's coating by its lithium over that which is computed. */
  swelling?: Entry;
}

/** Where an entry of a sheet comes from. */
export type Origin = "measured" | "stated" | "assumed" | "default";

/** A suspect reading. */
export interface OutlierRow {
  /** Lines of readings that are suspect with it. */
  also?: number[];
  /** What all others expect of it. */
  expected: Figure;
  /** What was read, off what. */
  label: string;
  /** It was left out of the fit. */
  left_out: boolean;
  /** What that may be for the worst of so many readings. */
  limit: number;
  /** Line of the bench sheet. */
  line: number;
  /** The value that it would then have. */
  meant?: Figure;
  /** What was read less that; of a whole quantity the mean of what was read. */
  off: Figure;
  /** Lines of readings that could be wrong in its place. */
  or: number[];
  /** Probability of so much by chance, of one reading. */
  probability: number;
  /** How much is suspect: "reading", all readings of a "specimen" or of the "quantity", two in "exchange", or all readings of a specimen that is another "cell". */
  scope: Scope;
  /** A typical slip that would explain it, in words. */
  slip?: string;
  /** In words. */
  text: string;
  /** How far it is off, in standard deviations of the difference to what the others leave. */
  z: number;
}

/** Two changes that depend on one another. */
export interface PairRow {
  /** One change. */
  a: string;
  /** The other. */
  b: string;
  /** How much more each contributes with the other than without. */
  more: Amount;
  /** In words. */
  text: string;
}

/** An entry of the sheet before and after. */
export interface ParameterRow {
  /** After the readings. */
  after: Figure;
  /** What was known beforehand, as it went into the fit. */
  before: Figure;
  /** Whether the readings say anything of it. */
  determined: boolean;
  /** It stood as exact, and moves because it was read. */
  freed?: boolean;
  /** What it is called. */
  label: string;
  /** How far it moved, in standard uncertainties from before. */
  moved: number;
  /** Where it came from. */
  origin: Origin;
  /** Path in the sheet. */
  path: string;
  /** Share of its variance that the readings took off, 0 to 1. */
  read: number;
  /** Heading. */
  section: string;
  /** "lower" or "upper" where a bound of its range stopped it. */
  stopped?: string;
  /** As it was written, or the default. */
  text: string;
}

/** A piece of hardware: plate, insulator, lid, spring, weld. */
export interface Part {
  /** Further height that is lost to it. */
  axial_clearance?: Entry;
  /** Axial height of the part itself. */
  height?: Entry;
  /** Its mass. */
  mass?: Entry;
  /** What it is made of: a material of the table. Links mass and volume. */
  material?: string;
  /** What it is called; parts of two cells with one name are the same part. */
  name: string;
  /** Where it sits. */
  place: Place;
  /** Anything worth keeping. */
  remark?: string;
  /** Share of the room it takes (its height times the area inside the can) that is solid. */
  solid_fraction?: Entry;
  /** Its solid volume. */
  volume?: Entry;
}

/** An element of two cells' ways; zero where a cell does not have it. */
export interface PathChange {
  /** Heat, each at the rate its own sheet states. */
  heat: FigureChange;
  /** What it is. */
  line: string;
  /** Resistance. */
  resistance: FigureChange;
}

/** One element of the way. */
export interface PathLine {
  /** Heat in it at the stated rate. */
  heat: Figure;
  /** What it is. */
  line: string;
  /** Its resistance. */
  resistance: Figure;
  /** Resistivity of its metal at the stated temperature, where one metal makes it. */
  resistivity?: Figure;
  /** Its share of the whole. */
  share: Figure;
}

/** The way of the current from terminal to terminal. */
export interface PathTable {
  /** The current at the stated rate. */
  current: Figure;
  /** Its elements, one after another. */
  lines: PathLine[];
  /** Temperature of the metals. */
  temperature: Figure;
  /** All metals, then the whole cell. */
  totals: PathLine[];
}

/** Where a part sits. */
export type Place = "below roll" | "above roll" | "beside roll" | "in core";

/** A ply of the roll's cross-section. */
export interface PlyLook {
  /** The foil in the middle of an electrode. */
  foil?: FoilLook;
  /** Its look. */
  look: Look;
  /** What it is called. */
  name: string;
  /** Thickness, mm. */
  thickness: number;
}

/** A design and its figures. */
export interface Point {
  /** What is wanted, then what is kept. */
  figures: Value[];
  /** What was chosen. */
  inputs: Chosen[];
}

/** Two suspected variants in one quantity. */
export interface PopulationRow {
  /** The second less the first. */
  difference: Figure;
  /** Both, the design's first: a name and the specimens. */
  groups: [[string, string[]], [string, string[]]];
  /** Name of the quantity. */
  key: string;
  /** In plain words. */
  label: string;
  /** Whether the bench sheet tells the variants apart; otherwise they were split by their values. */
  labelled: boolean;
  /** Probability of so large a difference if all were of one kind. */
  probability?: number;
  /** In words. */
  text: string;
  /** What the data say: "two", "one", "open" or "untested". */
  verdict: VariantsVerdict;
}

/** Lithium put in beside that of the cathode: metal on the anode, or a compound in the cathode that gives up its lithium in the first charge. */
export interface Prelithiation {
  /** Lithium that takes part, for each cm² where the electrodes face: on one side of the foil. */
  areal_capacity: Entry;
  /** What it comes from: lithium metal, `Li5FeO4`, `Li2NiO2`, `Li2O`, `Li3N`, `Li2C2O4`. */
  source: string;
  /** Share of the source's lithium that takes part; the rest stays unused. */
  utilisation?: Entry;
}

/** Prices by name. */
export type PriceList = Record<string, number>;

/** What prices were used for. */
export interface Priced {
  /** As written after a price. */
  currency: string;
  /** Materials and parts without a price: left out of the cost. */
  unpriced: string[];
  /** Prices that neither cell has a use for. */
  unused: string[];
}

/** What things cost. */
export interface Prices {
  /** As it is written after a price. */
  currency?: string;
  /** Price of a kilogram, by the name of the material; "electrolyte" for the electrolyte. */
  per_kg?: PriceList;
  /** Price of one part, by its name; it then stands for the part's material too. */
  per_part?: PriceList;
  /** Anything worth keeping. */
  remark?: string;
}

export type Problems = Diagnostic[];

export type QuantitiesAnswer = QuantityRow[];

/** A quantity of the sheet. */
export interface QuantityRow {
  /** What it may be, in words that follow "is". */
  bound: string;
  /** What stands in for it where it is left out. */
  default: string | null;
  /** What it is called. */
  label: string;
  /** Its path, list indices left out: `parts[].height`. */
  path: string;
  /** Where it lies in wound cells at large, where that is more than the default says. */
  plausible: string | null;
  /** Where that comes from. */
  plausible_source: string | null;
  /** Heading. */
  section: string;
  /** Why that. */
  source: string | null;
  /** Unit of the trade. */
  unit: string;
}

export type ReadableAnswer = Listed[];

/** A reading and what became of it. */
export interface ReadingRow {
  /** Cell, where it was named. */
  cell?: string;
  /** How far the design follows it, 0 to 1. */
  counted?: number;
  /** The date. */
  date?: string;
  /** Reading less prediction. */
  difference?: Figure;
  /** "used", "left out", "unfit", "unreadable", or "other" for one of another cell; "read" where nothing was held against it yet. */
  fate: string;
  /** The instrument. */
  instrument?: string;
  /** Name of the quantity. */
  key: string;
  /** The same in plain words. */
  label: string;
  /** Line of the bench sheet. */
  line: number;
  /** Whether it is of a variant that the design is not. */
  other_variant?: boolean;
  /** Whether it is among the readings that are suspect. */
  outlier?: boolean;
  /** Its variant. */
  population?: string;
  /** What the reconciled design predicts. */
  predicted?: Figure;
  /** In the trade's unit; its uncertainty is the one that was taken, where it was used. */
  reading: Figure;
  /** The remark. */
  remark?: string;
  /** That over the reading's uncertainty, scatter between specimens and shared errors included. */
  residual?: number;
  /** Specimen; may be empty. */
  specimen: string;
  /** As it was written. */
  text: string;
  /** Where its uncertainty comes from: "stated", "instrument" or "typical". */
  uncertainty_from?: UncertaintySource;
  /** Weight under a robust loss; absent where it is one. */
  weight?: number;
  /** Why it was not used. */
  why?: string;
  /** That over the standard deviation of the difference after the fit; absent for one nothing else speaks of. */
  z?: number;
}

/** A bench sheet as it was read. */
export interface ReadingsAnswer {
  /** Names of the cells. */
  cells: string[];
  /** Everything wrong with the other rows. */
  problems: Diagnostic[];
  /** Every reading. */
  readings: ReadingRow[];
}

/** What the hardware alone buys, for one share of the freed height that becomes coated width. */
export interface Reclaim {
  /** In words. */
  label: string;
  /** The first cell against the first cell with the second's hardware. */
  rows: FigureChange[];
  /** Share of the freed height. */
  share: number;
}

/** A share of the freed height. */
export type Reclaimed = NumberOrText;

/** A bench sheet held against a design sheet. */
export interface ReconcileAnswer {
  /** In one sentence. */
  answer: Sentence;
  /** What to keep in mind where readings come from an opened cell. */
  cautions: Caution[];
  /** Name of the cell. */
  cell: string;
  /** How many tests the limit of the outliers allows for, in words. */
  correction: string;
  /** Figures of the cell before and after. */
  figures: BeforeAfter[];
  /** How the fit went. */
  fit: FitRow;
  /** Up to three readings that are furthest off of those not in doubt: within chance, and worth a second look. */
  furthest: FurthestRow[];
  /** Shared errors of instruments. */
  instruments: InstrumentRow[];
  /** Quantities whose readings are more likely off as a whole than not, though no test names them. */
  offsets: OffsetRow[];
  /** Readings that are suspect, the worst first. */
  outliers: OutlierRow[];
  /** Every entry that could move. */
  parameters: ParameterRow[];
  /** Suspected variants. */
  populations: PopulationRow[];
  /** Rows of the bench sheet that could not be read. */
  problems: Diagnostic[];
  /** Every reading. */
  readings: ReadingRow[];
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
  /** Scatter between specimens. */
  scatter: ScatterRow[];
  /** The reconciled sheet. */
  sheet: Sheet;
  /** Labels of entries that the readings say nothing of. */
  undetermined: string[];
  /** "agree"; "contradicted" by χ² or by an outlier; or "unfinished" where the fit did not come to its end. */
  verdict: string;
}

/** A bench sheet to hold against a design sheet. */
export interface ReconcileQuestion {
  /** Name of the cell whose readings are used; that of the sheet where left out. */
  cell?: string;
  /** The uncertainties of the instruments: CSV text or JSON text. */
  instruments?: string;
  /** "normal", "huber" or "student"; normal where left out. */
  loss?: string;
  /** Quantities in which specimens may be of two kinds. */
  populations?: string[];
  /** The bench sheet: CSV text. */
  readings?: string;
  /** What readings of an instrument that no file describes have in common: "ordinary" (what ordinary ones have) or "none"; ordinary where left out. */
  shared?: string;
  /** The design sheet to start from. */
  sheet?: Sheet;
}

/** What is claimed of a figure. */
export type Relation = "at least" | "at most" | "about";

/** What some figures make of another by arithmetic. */
export interface RelationshipRow {
  /** What is declared of the same figure. */
  declared: string;
  /** The same in standard uncertainties of both; nothing where a declared bound holds. */
  deviations: number;
  /** What it gives, its tolerance as standard uncertainty: rounding, and what is not stated. */
  gives: Figure;
  /** What is declared, over what the arithmetic gives, less one. */
  off: number;
  /** The arithmetic: "26 Ah × 3.66 V ÷ 355 g". */
  text: string;
}

/** The question for a report. */
export interface ReportQuestion {
  /** A declared figure: of the second cell over the first where there are two. */
  claim?: Said;
  /** As it is to be printed. */
  date?: string;
  /** How many draws for it. */
  draws?: number;
  /** The sheet of the cell, or of the first of two. */
  first?: Sheet;
  /** The uncertainties of the instruments, CSV or JSON text. */
  instruments?: string;
  /** A bench sheet, CSV text: readings to be held against the sheets. */
  readings?: string;
  /** The second. */
  second?: Sheet;
  /** Where they begin. */
  seed?: number;
}

/** What one input alone would have to be. */
export interface RequiredRow {
  /** Its cell, where there are two and they do not share it. */
  cell: string | null;
  /** What that value would make of another quantity, where that is not plausible: "cathode porosity 8.2 %". */
  implies?: string;
  /** What it is called, in full. */
  label: string;
  /** The value that would do; absent where none does. */
  needed: Figure | null;
  /** Its path in the sheet. */
  path: string;
  /** Where it lies: "uncertain", "plausible", "beyond" or "never". */
  place: Where;
  /** The same in words. */
  place_text: string;
  /** Its plausible range; absent where none is stated. */
  plausible: string | null;
  /** As it is known. */
  prior: string;
  /** Where that comes from. */
  source: string | null;
}

/** One cell. Only the can's size and what the two coatings are mixed from must be there. */
export interface ResizeAnswer {
  /** The anode. */
  anode: Anode;
  /** The can. */
  can: Can;
  /** The cathode. */
  cathode: Cathode;
  /** Name of the cell. */
  cell?: string;
  /** The whole cell on the balance. */
  cell_mass?: Entry;
  /** How the current is collected: by tabs, or along the whole edge of each foil; by the size where left out. */
  collection?: Collection;
  /** Which quantities of this sheet move together. */
  correlated?: Correlated;
  /** How the current leaves the foils and reaches the terminals. */
  current_path?: CurrentPath;
  /** The electrolyte. */
  electrolyte?: Electrolyte;
  /** Name of the cell whose sheet this one was made from: what the two have in common is then one quantity, and its uncertainty mostly leaves their difference. */
  made_from?: string;
  /** Materials of the user's own, or other figures for materials of the table. */
  materials?: Material[];
  /** What the model as a whole may be off by. */
  model?: Model;
  /** What readings of an opened cell show otherwise than the cell as built. */
  opened?: Opened;
  /** Hardware, in axial order from the bottom. */
  parts?: Part[];
  /** Lithium put in beside that of the cathode. */
  prelithiation?: Prelithiation;
  /** What the cell is made for: "energy", "middle" or "power"; a mixture of cells where left out. */
  purpose?: Entry;
  /** The state in which what is "measured" was read, where the cell was not as built: "after formation, discharged, washed, dried", in any order. Thicknesses, loadings and masses are then changed to those of the cell as built. */
  readings_state?: string;
  /** Anything worth keeping. */
  remark?: string;
  /** Version of the format: 1. */
  roulade_sheet?: number;
  /** The separator. */
  separator?: Separator;
  /** A sleeve around the can, where mass and volume shall count it. */
  sleeve?: Sleeve;
  /** Empty height between the roll and the parts above it. */
  void_height?: Entry;
  /** Where charge and discharge end. */
  voltage?: Voltage;
  /** The winding. */
  winding?: Winding;
}

/** A can of another size. */
export interface ResizeEntries {
  /** Outer diameter of the other can. */
  diameter?: string;
  /** Its outer height. */
  height?: string;
  /** What is held. */
  hold?: HoldEntries;
}

/** A sheet in a can of another size. */
export interface ResizeQuestion {
  /** Outer diameter of the other can. */
  diameter?: string;
  /** Its outer height. */
  height?: string;
  /** What is held. */
  hold?: HoldEntries;
  /** The sheet. */
  sheet?: Sheet;
}

/** What a material does in a cell. */
export type Role = "cathode" | "anode" | "binder" | "conductive" | "metal" | "polymer" | "ceramic" | "electrolyte";

/** The roll across the axis. */
export interface RollDrawing {
  /** Ply, mid-line radius in mm, from and to in turns. */
  arcs: ([number, number, number, number])[];
  /** Inner radius of the can, mm. */
  bore: number;
  /** Radius of the core hole, mm. */
  core: number;
  /** Mean outer radius, mm. */
  outer: number;
  /** The plies, inside out within a turn. */
  plies: PlyLook[];
  /** Turns of cathode. */
  turns: number;
}

/** A figure with a name. */
export interface Row {
  /** The figure. */
  figure: Figure;
  /** Stable name. */
  id: string;
  /** What it is. */
  label: string;
  /** What is meant, on which basis. */
  note?: string;
}

/** A stretch of a sentence. */
export interface Run {
  /** Whether they are the answer's numbers. */
  strong?: boolean;
  /** The words. */
  text: string;
}

/** A claim as it is given: a line of text, or its parts. */
export type Said = string | Claimed;

/** Answer about how far figures spread. */
export interface SampledAnswer {
  /** In a sentence. */
  answer: Sentence;
  /** Share of the draws in which the cell does not hold together, by the place in the sheet where that shows. */
  apart: ImpossibleTrials[];
  /** Names of the cells. */
  cells: string[];
  /** How many draws. */
  draws: number;
  /** Each figure. */
  figures: DrawnFigure[];
  /** Share of the draws in which an input is no longer what it may be. */
  impossible: number;
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
  /** Their seed. */
  seed: number;
  /** The sensitivity of the main figure, where that was asked for. */
  sensitivity?: SensitivityAnswer;
}

/** The question of how far a cell's figures spread, or those of two cells, drawn at random. */
export interface SampledQuestion {
  /** How many draws; 100 000 where left out. */
  draws?: number;
  /** Figures by their ids; those that come first where left out. */
  figures?: string[];
  /** A second sheet, to be compared with it. */
  second?: Sheet;
  /** Seed of the draws; 1 where left out. */
  seed?: number;
  /** The sheet. */
  sheet?: Sheet;
}

/** Scatter between specimens in one quantity. */
export interface ScatterRow {
  /** What that is not above, with a probability of 95 %. */
  at_most?: Figure;
  /** Standard deviation between them; absent from one specimen, which says nothing of it. */
  between?: Figure;
  /** Name of the quantity. */
  key: string;
  /** In plain words. */
  label: string;
  /** The specimens. */
  specimens: SpecimenRow[];
  /** In words. */
  text: string;
}

/** How much is suspect at once. */
export type Scope = "reading" | "specimen" | "quantity" | "exchange" | "cell";

/** What a search found. */
export interface SearchAnswer {
  /** The best design; where none holds, the one that breaks the least. */
  best: Point;
  /** Name of the cell. */
  cell: string;
  /** What was free. */
  free: FreeRow[];
  /** Designs of which none beats another in both figures, in order of the first, where two were wanted. */
  front?: Point[];
  /** What is held where the can changes its size. */
  held?: HeldItem[];
  /** Whether a design was found that keeps everything. */
  holds: boolean;
  /** What was to be kept, and whether the best design does. */
  keep: KeepRow[];
  /** The sheet as it is, where it holds together. */
  own?: Point;
  /** What looks wrong with entries of the sheet, each in a sentence. */
  plausibility?: string[];
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
  /** Seed of the random numbers. */
  seed: number;
  /** How many designs were tried. */
  tried: number;
  /** What was wanted, in words. */
  wanted: string[];
}

/** The search for the best design within ranges and constraints. */
export interface SearchQuestion {
  /** A second such figure: the trade-off between the two is found too. */
  against?: string;
  /** The figure to make as great as can be, by id; "least mass" to make one small. */
  best?: string;
  /** What may be chosen. */
  free?: Free[];
  /** What is held where the can changes its size. */
  hold?: HoldEntries;
  /** What must be kept. */
  keep?: Keep[];
  /** Anything worth keeping. */
  remark?: string;
  /** Seed of the random numbers; the same seed finds the same. */
  seed?: number;
  /** The sheet. */
  sheet?: Sheet;
  /** How many designs are tried for each of the two answers. */
  trials?: number;
}

/** The axial half section. */
export interface Section {
  /** Its blocks, in drawing order. */
  blocks: Block[];
  /** Outer diameter, mm. */
  diameter: number;
  /** Outer height, mm. */
  height: number;
}

/** Answer about the sensitivity of a figure. */
export interface SensitivityAnswer {
  /** Names of the cells. */
  cells: string[];
  /** The figure to first order. */
  figure: Figure;
  /** Stable name of the figure. */
  id: string;
  /** Sobol's indices, where draws were asked for. */
  indices?: SobolIndices;
  /** What it is called. */
  label: string;
  /** Of the cell, or what lies between two. */
  of: WhichCell;
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
  /** Inputs with their shares, the largest first. */
  shares: SensitivityRow[];
}

/** The question of a figure's sensitivity. */
export interface SensitivityQuestion {
  /** How many draws for Sobol's indices; shares of first order alone where left out. */
  draws?: number;
  /** The figure by its id; "volumetric" where left out. */
  figure?: string;
  /** A second sheet: the figure is then what lies between the two. */
  second?: Sheet;
  /** Seed of the draws; 1 where left out. */
  seed?: number;
  /** The sheet. */
  sheet?: Sheet;
}

/** An input and its share to first order. */
export interface SensitivityRow {
  /** What it is called. */
  label: string;
  /** Its path in the sheet. */
  path: string;
  /** Its share of the variance; negative where what it moves with takes away more than it brings. */
  share: number;
  /** As it was written. */
  text: string;
}

/** A sentence and what it rests on. */
export interface Sentence {
  /** How much of it was supposed. */
  assumed: string;
  /** The sentence in runs. */
  runs: Run[];
  /** What its uncertainty comes from, the most first. */
  sensitivity: VarianceShare[];
  /** The same as one text. */
  text: string;
}

/** The separator, each of the two. */
export interface Separator {
  /** Ceramic: a material of the table. */
  ceramic?: string;
  /** Porosity of the ceramic layer. */
  ceramic_porosity?: Entry;
  /** Thickness of the ceramic layer, both sides together. */
  ceramic_thickness?: Entry;
  /** How far it reaches past the anode's coating at each edge. */
  margin?: Entry;
  /** Polymer: a material of the table. */
  material?: string;
  /** Porosity of the film. */
  porosity?: Entry;
  /** Thickness of the polymer film. */
  thickness?: Entry;
  /** Exponent α by which its tortuosity follows from the porosity ε, τ = ε^−α. */
  tortuosity_exponent?: Entry;
}

/** One cell. Only the can's size and what the two coatings are mixed from must be there. */
export interface Sheet {
  /** The anode. */
  anode: Anode;
  /** The can. */
  can: Can;
  /** The cathode. */
  cathode: Cathode;
  /** Name of the cell. */
  cell?: string;
  /** The whole cell on the balance. */
  cell_mass?: Entry;
  /** How the current is collected: by tabs, or along the whole edge of each foil; by the size where left out. */
  collection?: Collection;
  /** Which quantities of this sheet move together. */
  correlated?: Correlated;
  /** How the current leaves the foils and reaches the terminals. */
  current_path?: CurrentPath;
  /** The electrolyte. */
  electrolyte?: Electrolyte;
  /** Name of the cell whose sheet this one was made from: what the two have in common is then one quantity, and its uncertainty mostly leaves their difference. */
  made_from?: string;
  /** Materials of the user's own, or other figures for materials of the table. */
  materials?: Material[];
  /** What the model as a whole may be off by. */
  model?: Model;
  /** What readings of an opened cell show otherwise than the cell as built. */
  opened?: Opened;
  /** Hardware, in axial order from the bottom. */
  parts?: Part[];
  /** Lithium put in beside that of the cathode. */
  prelithiation?: Prelithiation;
  /** What the cell is made for: "energy", "middle" or "power"; a mixture of cells where left out. */
  purpose?: Entry;
  /** The state in which what is "measured" was read, where the cell was not as built: "after formation, discharged, washed, dried", in any order. Thicknesses, loadings and masses are then changed to those of the cell as built. */
  readings_state?: string;
  /** Anything worth keeping. */
  remark?: string;
  /** Version of the format: 1. */
  roulade_sheet?: number;
  /** The separator. */
  separator?: Separator;
  /** A sleeve around the can, where mass and volume shall count it. */
  sleeve?: Sleeve;
  /** Empty height between the roll and the parts above it. */
  void_height?: Entry;
  /** Where charge and discharge end. */
  voltage?: Voltage;
  /** The winding. */
  winding?: Winding;
}

/** One change. As JSON, an [`Edit`], or `{"resize": {"diameter": "21 mm", "height": "70 mm"}}`. */
export type SheetChange = EditEntries | {
  /** The other can. */
  resize: ResizeEntries;
};

/** One size with its figures. */
export interface SizeRow {
  /** As a standard names it. */
  designation: string;
  /** Outer diameter, mm. */
  diameter: number;
  /** A figure for each of the grid's, with its uncertainty; `null` where the cell has none. */
  figures: (Figure | null)[];
  /** Outer height, mm. */
  height: number;
  /** "21 × 70", or the cell's name for its own size. */
  label: string;
  /** Why there is no cell of that size. */
  why?: string;
}

/** A shrink sleeve or label around the can. Without this section the cell is bare. */
export interface Sleeve {
  /** Whether it counts into both mass and volume; it does where left out. */
  counts?: Counts;
  /** Its film: a material of the table. */
  material?: string;
  /** Thickness of its film. */
  thickness?: Entry;
}

/** Sobol's indices of an input, or of inputs that are correlated. */
export interface SobolIndex {
  /** Share of the variance that would go if it were known, and its standard error. */
  first: [number, number];
  /** What they are called. */
  labels: string[];
  /** Paths in the sheet. */
  paths: string[];
  /** Share that would stay if all others were known, and its standard error. */
  total: [number, number];
}

/** Sobol indices of all inputs, the largest total first. */
export interface SobolIndices {
  /** How often the cell was worked out. */
  asked: number;
  /** Each input. */
  rows: SobolIndex[];
  /** How often it had no answer. */
  without: number;
}

/** A figure of a material with its source. */
export interface Sourced {
  /** Where it comes from, and how well. */
  source: string;
  /** With its spread and unit. */
  text: string;
}

/** A stretch of one quantity. */
export interface Span {
  /** Where it begins, with its unit. */
  from?: string;
  /** How many steps it is walked in; one value more than steps. */
  steps?: number;
  /** Where it ends, with its unit. */
  to?: string;
}

/** A specimen in one quantity. */
export interface SpecimenRow {
  /** Mean of its readings. */
  mean: Figure;
  /** Its variant, where variants are kept apart. */
  population?: string;
  /** How many. */
  readings: number;
  /** Its name. */
  specimen: string;
}

/** A map or a sweep. */
export interface SweepAnswer {
  /** Figures that were asked for, or are usual, and are not there. */
  absent?: AbsentRow[];
  /** One axis or two; the first runs fastest. */
  axes: AxisRow[];
  /** Why cells are blank. */
  blank?: BlankRow[];
  /** Name of the cell. */
  cell: string;
  /** How many cells the grid has. */
  cells: number;
  /** Common sizes inside the map. */
  common?: SizeRow[];
  /** The figures. */
  figures: GridFigure[];
  /** What is held; empty where all else is as the sheet has it. */
  held?: HeldItem[];
  /** The cell in its own can, by the same rules. */
  own?: SizeRow;
  /** What looks wrong with entries of the sheet, each in a sentence. */
  plausibility?: string[];
  /** What to know of this answer. */
  remarks: string[];
  /** Version of this crate. */
  roulade: string;
}

/** A cell along one input, or over two. */
export interface SweepQuestion {
  /** One input or two. */
  along?: Along[];
  /** Figures, by id. */
  figures?: string[];
  /** What is held where the can changes its size; the sizes of the can are held to it without this too. */
  hold?: HoldEntries;
  /** The sheet. */
  sheet?: Sheet;
}

/** A strip of metal on the foil. */
export interface Tab {
  /** Its middle, as a share of the foil's length from the core. */
  at?: Entry;
  /** Its length past the foil. */
  length?: Entry;
  /** Its metal: a material of the table. */
  material?: string;
  /** Thickness of the insulating tape over it, on each side. */
  tape?: Entry;
  /** Its thickness. */
  thickness?: Entry;
  /** Stretch of foil that is left bare for it, on both sides. */
  uncoated?: Entry;
  /** Across the whole width of the foil or at its edge alone. */
  welded?: Welded;
  /** Its width along the foil. */
  width?: Entry;
}

/** Rows under one heading. */
export interface Table {
  /** Its rows. */
  rows: Row[];
  /** The heading. */
  title: string;
}

/** A sum over a group, or over the cell. */
export interface Total {
  /** The group, or "cell". */
  group: string;
  /** Its mass. */
  mass: Figure;
  /** Its volume. */
  volume: Figure;
}

/** Where the uncertainty of a reading comes from. */
export type UncertaintySource = "stated" | "instrument" | "typical";

/** A number with its name. */
export interface Value {
  /** Key of an input, or id of a figure. */
  id: string;
  /** What it is. */
  label: string;
  /** Rounded, with its unit. */
  text: string;
  /** Its unit. */
  unit: string;
  /** Its value, unrounded; `null` for a figure that the cell has not. */
  value: number | null;
}

/** An input from which the uncertainty of the answer comes. */
export interface VarianceShare {
  /** What it is called. */
  label: string;
  /** Its path in the sheet. */
  path: string;
  /** Its share of the variance of the main figure. */
  share: number;
}

/** What the data say of two suspected variants. */
export type VariantsVerdict = "two" | "one" | "open" | "untested";

/** What becomes of a claim. */
export type Verdict = "supported" | "likely" | "open" | "unlikely" | "contradicted";

/** Where charge and discharge end. */
export interface Voltage {
  /** Charge cut-off voltage. */
  charge_cut_off?: Entry;
  /** Discharge cut-off voltage. */
  discharge_cut_off?: Entry;
  /** Stands in the place of the half-cell curves. */
  nominal?: Entry;
}

/** How far across the foil a tab is welded. */
export type Welded = "across" | "edge";

/** Where a value lies beside what is known and what is plausible. */
export type Where = "uncertain" | "plausible" | "beyond" | "never";

/** Which cell a figure is of. */
export type WhichCell = "first" | "second" | "change" | "hardware";

/** How the roll is wound. */
export interface Winding {
  /** Measured length of the anode; the tail then follows. */
  anode_length?: Entry;
  /** Turns of anode after the cathode ends. */
  anode_overhang_end?: Entry;
  /** Turns of anode before the cathode begins. */
  anode_overhang_start?: Entry;
  /** Measured length of the cathode; the radial clearance then follows. */
  cathode_length?: Entry;
  /** Diameter of the hole the mandrel left. */
  core_diameter?: Entry;
  /** Separator-only turns at the core. */
  core_turns?: Entry;
  /** Separator-only turns outside. */
  outer_turns?: Entry;
  /** Mean distance from the roll to the can's wall. */
  radial_clearance?: Entry;
  /** Slack between turns, per turn. */
  slack?: Entry;
  /** Thickness of the tape around the roll. */
  tape_thickness?: Entry;
  /** Turns of tape. */
  tape_turns?: Entry;
}

/** Answer about two cells. */
export interface WithoutAnswer {
  /** In a sentence or two. */
  answer: Sentence;
  /** The same by elements. */
  elements: ElementChange[];
  /** The whole difference. */
  figures: FigureChange[];
  /** The first cell by itself. */
  first: EstimateAnswer;
  /** What left; absent where the hardware is alike or the cans are not. */
  freed: Freed | null;
  /** Inputs that differ. */
  inputs: Differing[];
  /** Both ledgers. */
  ledger: LedgerChange[];
  /** Both ways of the current. */
  path: PathChange[];
  /** What the hardware alone buys: none of the height reclaimed, as designed, all of it. */
  reclaim: Reclaim[];
  /** Version of this crate. */
  roulade: string;
  /** The second. */
  second: EstimateAnswer;
  /** The second sheet, where it was made for this answer. */
  sheet?: Sheet;
}

/** The question of what parts cost: a sheet, and the part or parts to take out of it. */
export interface WithoutQuestion {
  /** What comes in the place of the first. */
  instead?: Part;
  /** Name of the part to take out. */
  part?: string;
  /** Names of several parts to take out at once; those beside `part`. */
  parts?: string[];
  /** Share of the freed height that becomes coated width, 0 to 1 or a text such as "85 %"; all of it where left out. */
  reclaim?: Reclaimed;
  /** The sheet. */
  sheet?: Sheet;
}

/** Where an entry comes from, as a sheet says it. */
export type WrittenOrigin = "measured" | "stated" | "assumed";
