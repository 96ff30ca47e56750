/** Lays the entries of one or two sheets out as rows: the sheets as they stand, with the model's words and defaults. */
import { catalogue, ESSENTIAL, partEntries, wordsFor } from "./catalogue";
import { entries, mixOf, named, originOf, partsOf, read, remarkOf, textOf, type Electrode, type Side } from "./entry";
import type { Input, Origin, Sheet } from "./model/contract";
import { estimateOf, placeOf, sheetOf, sidesOf, type State } from "./state";

export interface Field {
  side: Side;
  /** Where it stands in this side's sheet as it is now. */
  path: string;
  label: string;
  section: string;
  unit: string;
  /** What the user wrote; "" where the sheet leaves it out. */
  text: string;
  /** What the model takes where the sheet leaves it out. */
  standard: string;
  /** What follows for it from the other entries, where it is neither written nor a default. */
  follows: string;
  origin: Origin | undefined;
  remark: string;
  source: string;
  /** What looks like a slip. */
  plausibility: string;
  problems: string[];
}

export interface Row {
  key: string;
  label: string;
  unit: string;
  fields: Partial<Record<Side, Field>>;
}

/** A part stands in a row group of its own, with the place in each sheet's list, -1 where that cell has none. */
export interface PartRows {
  key: string;
  name: string;
  at: Partial<Record<Side, number>>;
  rows: Row[];
  more: SheetSection["more"];
}

export interface MixRows {
  electrode: Electrode;
  /** One per component; the field holds its share. */
  rows: Row[];
}

export interface SheetSection {
  name: string;
  rows: Row[];
  mix?: MixRows;
  /** Entries that could be added. */
  more: { path: string; label: string }[];
}

/** Figures that say what an entry would be, where they are not called as it is. */
const FOLLOWS: Record<string, string> = { "cathode.width": "stack.cathode_width", "anode.n_to_p": "balance.n_to_p", cell_mass: "mass" };

export interface Laid {
  /** About a dozen, in their order. */
  essential: Row[];
  sections: SheetSection[];
  parts: PartRows[];
  /** Problems that no field shows. */
  elsewhere: { side: Side; text: string }[];
}

/** Parts are matched between cells by name, since their number changes when one is taken out. */
function keyOf(sheet: Sheet, path: string): string {
  return named(sheet, path).replace(/^parts\[(\d+)\]/, (all, at: string) => {
    const names = partsOf(sheet).map(({ name }) => name);
    const name = names[Number(at)];
    if (name === undefined) return all;
    const same = names.slice(0, Number(at)).filter((one) => one === name).length;
    return `parts<${name}${same ? `#${same}` : ""}>`;
  });
}

/** Objects and lists of a sheet; a problem about one of these is not about an entry. */
const isGroup = (path: string): boolean => !path || /(^|\.)(parts|mix|foil|materials|can|winding|cathode|anode|separator|electrolyte|voltage|curve|name|place)(\[\d+\])?$/.test(path);

function fieldsOf(state: State, side: Side): Map<string, Field> {
  const sheet = sheetOf(state, side);
  const fields = new Map<string, Field>();
  if (!sheet) return fields;
  const asked = state.result?.asked[side] ?? sheet;
  const pathAt = new Map(partsOf(sheet).map((_, at) => [keyOf(sheet, `parts[${at}]`), `parts[${at}]`]));
  const computed = new Map([...(estimateOf(state, side)?.headline ?? []), ...(estimateOf(state, side)?.tables ?? []).flatMap(({ rows }) => rows)].map(({ id, figure }) => [id, figure.text]));
  const add = (key: string, path: string, described: Pick<Input, "label" | "section" | "unit"> & Partial<Input>): void => {
    const entry = read(sheet, path);
    const text = textOf(entry);
    fields.set(key, {
      side, path, text,
      label: described.label, section: described.section, unit: described.unit,
      standard: described.origin === "default" ? (described.text ?? "") : "",
      origin: text ? (originOf(entry) ?? (described.origin === "default" ? undefined : described.origin)) : described.origin === "default" ? "default" : undefined,
      follows: text || described.origin === "default" ? "" : (computed.get(FOLLOWS[path] ?? path) ?? ""),
      remark: remarkOf(entry) ?? described.remark ?? "",
      source: described.source ?? "",
      // An entry that was changed since is looked at anew with the next answer.
      plausibility: described.plausibility ?? "",
      problems: [],
    });
  };
  for (const input of estimateOf(state, side)?.inputs ?? []) {
    const key = keyOf(asked, input.path);
    const part = /^parts<.*>(?=\.)/.exec(key)?.[0];
    const path = part ? pathAt.get(part) : "";
    if (path === undefined || /\.(name|place)$/.test(key)) continue;
    const here = part ? path + key.slice(part.length) : key;
    // An entry that was written then and is gone now has no default to show.
    if (input.origin !== "default" && read(sheet, here) === undefined && part === undefined) {
      if (/\.mix\[/.test(here)) continue;
      add(key, here, { label: input.label, section: input.section, unit: input.unit });
    } else add(key, here, input);
  }
  for (const [path] of entries(sheet)) {
    const key = keyOf(sheet, path);
    if (!fields.has(key)) add(key, path, wordsFor(path));
  }
  partsOf(sheet).forEach((_, at) => {
    for (const { path: name } of partEntries()) {
      const path = `parts[${at}].${name}`;
      const key = keyOf(sheet, path);
      const wanted = name === "height" || state.shown.added.includes(key) || state.problems.some((one) => placeOf(one).side === side && placeOf(one).path === path);
      if (wanted && !fields.has(key)) add(key, path, wordsFor(path));
    }
  });
  for (const { path } of ESSENTIAL) if (!fields.has(path)) add(path, path, wordsFor(path));
  for (const path of state.shown.added) if (!path.startsWith("parts<") && !fields.has(path)) add(path, path, wordsFor(path));
  for (const { path } of state.problems.map(placeOf).filter((one) => one.side === side)) {
    const key = keyOf(sheet, path);
    if (!isGroup(path) && !fields.has(key) && catalogue().some((one) => one.path === path)) add(key, path, wordsFor(path));
  }
  return fields;
}

function complain(state: State, fields: Record<Side, Map<string, Field>>): Laid["elsewhere"] {
  const elsewhere: Laid["elsewhere"] = [];
  for (const problem of state.problems) {
    const { side, path: described } = placeOf(problem);
    const path = named(sheetOf(state, side) ?? state.first, described);
    const field = [...fields[side].values()].find((one) => one.path === path);
    // Beside its field a problem need not say where it is.
    if (field) field.problems.push(problem.text.replace(`${problem.place}: `, ""));
    else elsewhere.push({ side, text: problem.text });
  }
  return elsewhere;
}

export function lay(state: State): Laid {
  const sides = sidesOf(state);
  const fields: Record<Side, Map<string, Field>> = { first: fieldsOf(state, "first"), second: fieldsOf(state, "second") };
  const elsewhere = complain(state, fields);
  const rows = new Map<string, Row>();
  for (const side of sides) {
    for (const [key, field] of fields[side]) {
      const row = rows.get(key) ?? { key, label: field.label, unit: field.unit, fields: {} };
      row.fields[side] = field;
      rows.set(key, row);
    }
  }
  for (const row of rows.values()) complete(row, sides);
  const kept = [...rows.values()].filter((row) => fits(row, state));
  const plain = kept.filter(({ key }) => !/^parts[<[]|\.mix\[/.test(key));
  const essential = ESSENTIAL.flatMap(({ path }) => (isOther(rows, path) ? [] : (rows.get(path) ?? [])));
  return { essential, sections: inSections(plain, kept, state, sides), parts: parts(kept, state, sides), elsewhere };
}

/** Of the two ways to say how much anode there is, the one that is written; the ratio where neither is. */
function isOther(rows: Map<string, Row>, key: string): boolean {
  const has = (one: string): boolean => Object.values(rows.get(one)?.fields ?? {}).some(({ text }) => text !== "");
  return (key === "anode.loading" && !has("anode.loading")) || (key === "anode.n_to_p" && has("anode.loading") && !has("anode.n_to_p"));
}

/** A plain row has a field for each cell, so that what one cell leaves out can be written there too. */
function complete(row: Row, sides: Side[]): void {
  // Not every cell has every part and every material.
  if (/^(parts|materials)[<[]|\.mix\[/.test(row.key)) return;
  const other = row.fields.first ?? row.fields.second;
  for (const side of sides) {
    if (!row.fields[side] && other) row.fields[side] = { ...other, side, text: "", standard: "", follows: "", origin: undefined, remark: "", source: "", plausibility: "", problems: [] };
  }
}

function fits({ key, label, fields: { first, second } }: Row, { shown: { filter, search }, second: cell }: State): boolean {
  const all = [first, second].filter((field) => field !== undefined);
  if (search.trim()) {
    const words = `${key.replaceAll(/[._]/g, " ")} ${label} ${all.map(({ section }) => section).join(" ")}`.toLowerCase();
    return search.trim().toLowerCase().split(/\s+/).every((word) => words.includes(word));
  }
  if (all.some(({ problems }) => problems.length > 0)) return true;
  if (filter === "differs") return cell === null || (first?.text || first?.standard) !== (second?.text || second?.standard);
  if (filter === "assumed") return all.some(({ origin }) => origin === "assumed" || origin === "default");
  return true;
}

function inSections(plain: Row[], kept: Row[], state: State, sides: Side[]): SheetSection[] {
  const sections = new Map<string, SheetSection>();
  const section = (name: string): SheetSection => {
    const found = sections.get(name) ?? { name, rows: [], more: [] };
    sections.set(name, found);
    return found;
  };
  for (const row of plain) section((row.fields.first ?? row.fields.second)?.section ?? "").rows.push(row);
  for (const electrode of ["cathode", "anode"] as const) {
    const rows = mix(electrode, kept, state, sides);
    if (rows.length > 0 || (state.shown.filter === "all" && !state.shown.search.trim())) section(electrode === "cathode" ? "Cathode" : "Anode").mix = { electrode, rows };
  }
  if (state.shown.filter === "all") {
    const there = new Set(plain.map(({ key }) => key));
    for (const { path, section: of, label } of catalogue()) if (!there.has(path)) section(of).more.push({ path, label });
  }
  // As the sheet reads from outside to inside; materials, mostly the table's, stand last.
  const order = [...new Set(catalogue().map(({ section }) => section))];
  const rank = (name: string): number => order.indexOf(name) + 1 || order.length + (name === "Materials" ? 2 : 1);
  const place = new Map(catalogue().map(({ path }, i) => [path, i]));
  for (const one of sections.values()) one.rows.sort((a, b) => (place.get(a.key) ?? Infinity) - (place.get(b.key) ?? Infinity) || 0);
  return [...sections.values()].sort((a, b) => rank(a.name) - rank(b.name));
}

function mix(electrode: Electrode, kept: Row[], state: State, sides: Side[]): Row[] {
  const most = Math.max(0, ...sides.map((side) => mixOf(sheetOf(state, side) ?? state.first, electrode).length));
  const all = state.shown.filter === "all" && !state.shown.search.trim();
  return Array.from({ length: most }, (_, at): Row[] => {
    const path = `${electrode}.mix[${at}].share`;
    const row = kept.find(({ key }) => key === path) ?? (all ? { key: path, label: "", unit: "", fields: {} } : null);
    if (!row) return [];
    const fields: Row["fields"] = { ...row.fields };
    for (const side of sides) {
      const sheet = sheetOf(state, side);
      if (!fields[side] && sheet && mixOf(sheet, electrode)[at]) {
        fields[side] = { side, ...wordsFor(path), text: "", standard: "", follows: "", origin: undefined, remark: "", source: "", plausibility: "", problems: [] };
      }
    }
    return [{ ...row, label: `component ${at + 1}, share`, fields }];
  }).flat();
}

function parts(kept: Row[], state: State, sides: Side[]): PartRows[] {
  const groups = new Map<string, PartRows>();
  for (const side of sides) {
    const sheet = sheetOf(state, side);
    for (const [at, { name }] of (sheet ? partsOf(sheet) : []).entries()) {
      const key = keyOf(sheet ?? state.first, `parts[${at}]`);
      const rows = kept.filter((row) => row.key.startsWith(`${key}.`));
      const more = partEntries().filter(({ path }) => !rows.some((row) => row.key === `${key}.${path}`));
      const group = groups.get(key) ?? { key, name, at: {}, rows, more: more.map(({ path, label }) => ({ path: `${key}.${path}`, label })) };
      group.at[side] = at;
      groups.set(key, group);
    }
  }
  const order = ["height", "axial_clearance", "material", "mass", "volume", "solid_fraction"];
  const rank = ({ key }: Row): number => (order.indexOf(key.split(".").at(-1) ?? "") + 9) % 9;
  const list = [...groups.values()].map((group) => ({ ...group, rows: group.rows.toSorted((a, b) => rank(a) - rank(b)) }));
  return state.shown.filter === "all" && !state.shown.search.trim() ? list : list.filter(({ rows }) => rows.length > 0).map((one) => ({ ...one, more: [] }));
}
