/** Reads one entry of a sheet by its path, such as "parts[1].mass" or "materials[NMC811].density". */
import { canonical } from "./materials";
import type { Entry, Origin, Sheet } from "./model/contract";

export type Side = "first" | "second";
export type Part = NonNullable<Sheet["parts"]>[number];
export type Electrode = "cathode" | "anode";

type Held = Record<string | number, unknown>;

const isHeld = (value: unknown): value is Held => typeof value === "object" && value !== null;

/** A material's figure, whose material the model names while the sheet has no entry for it: "materials[NMC811].density". */
export const FIGURE_OF = /^materials\[(.*[^\d].*)\]\.([^.\]]+)$/;

/** The same path with a material's place in its list replaced by its name, which stays as entries come and go. */
export const named = (sheet: Sheet, path: string): string =>
  path.replace(/^materials\[(\d+)\]/, (all, at: string) => {
    const name = materialsOf(sheet)[Number(at)]?.name;
    return name === undefined || !/[^\d]/.test(name) ? all : `materials[${canonical(name)}]`;
  });

/** The names and places along a path. Materials are found by name, and a name may hold dots. */
function steps(sheet: Sheet, path: string): (string | number)[] {
  const material = FIGURE_OF.exec(path);
  if (material) {
    const list = materialsOf(sheet);
    const at = list.findIndex(({ name }) => canonical(name) === canonical(material[1] ?? ""));
    return ["materials", at < 0 ? list.length : at, material[2] ?? ""];
  }
  return path.split(/[.[\]]+/).filter(Boolean).map((step) => (/^\d+$/.test(step) ? Number(step) : step));
}

export function read(sheet: Sheet, path: string): unknown {
  return steps(sheet, path).reduce<unknown>((held, step) => (isHeld(held) ? held[step] : undefined), sheet);
}

export function isEntry(value: unknown): value is Entry {
  return typeof value === "string" || (isHeld(value) && typeof value["value"] === "string");
}

/** The name of a material is chosen, not read off anything, and is no entry with an origin. */
export const isName = (path: string): boolean => /\.(material|ceramic)$/.test(path);

export const textOf = (value: unknown): string => (isEntry(value) ? (typeof value === "string" ? value : value.value) : "");

export const originOf = (value: unknown): Origin | undefined => (isEntry(value) && typeof value !== "string" ? value.from : undefined);

export const remarkOf = (value: unknown): string | undefined => (isEntry(value) && typeof value !== "string" ? value.remark : undefined);

export const partsOf = (sheet: Sheet): Part[] => sheet.parts ?? [];
export const materialsOf = (sheet: Sheet): NonNullable<Sheet["materials"]> => sheet.materials ?? [];
export const mixOf = (sheet: Sheet, electrode: Electrode): { material: string; share?: Entry }[] => sheet[electrode].mix ?? [];

/** Every entry that the sheet holds, with its path. Names, places and remarks are not entries. */
export function* entries(sheet: Sheet): Generator<[path: string, entry: Entry]> {
  const passed = new Set(["cell", "remark", "made_from", "readings_state", "name", "place", "role", "curve"]);
  function* walk(held: Held, path: string): Generator<[string, Entry]> {
    for (const [key, value] of Object.entries(held)) {
      const here = Array.isArray(held) ? `${path}[${key}]` : path ? `${path}.${key}` : key;
      if (passed.has(key) || /\.mix\[\d+\]\.material$/.test(here)) continue;
      if (isEntry(value)) yield [named(sheet, here), value];
      else if (isHeld(value)) yield* walk(value, here);
    }
  }
  yield* walk(sheet as unknown as Held, "");
}
