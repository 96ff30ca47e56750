/** Entries that a sheet may hold, in the order of the sheet: words for those that the model has not named in its answer. The words are the model's. */
import { FIGURE_OF } from "./entry";
import type { Quantity } from "./model/contract";
import { ends } from "./number";

export type Known = Pick<Quantity, "path" | "section" | "label" | "unit">;

/** Names of materials: they are no quantities, so the model has no words for them. Each stands before the quantity that it is `of`. */
const NAMES: { path: string; of: string; label: string }[] = [
  { path: "can.material", of: "can.mass", label: "material" },
  { path: "parts[].material", of: "parts[].mass", label: "material" },
  { path: "cathode.foil.material", of: "cathode.foil.thickness", label: "foil, material" },
  { path: "anode.foil.material", of: "anode.foil.thickness", label: "foil, material" },
  { path: "separator.material", of: "separator.thickness", label: "material" },
  { path: "separator.ceramic", of: "separator.ceramic_thickness", label: "ceramic layer, material" },
];

interface Words {
  quantities: Quantity[];
  /** Entries that stand once in a sheet. */
  single: Known[];
  /** Entries of each part, without the part's path. */
  ofPart: Known[];
}

let words: Words = { quantities: [], single: [], ofPart: [] };

/** Takes the model's list of quantities. */
export function learnQuantities(quantities: Quantity[]): void {
  const all = quantities.flatMap(({ path, section, label, unit }): Known[] => {
    const name = NAMES.find(({ of }) => of === path);
    // Both electrodes have a way to their terminal, in the same words.
    const side = /^current_path\.(cathode|anode)\./.exec(path)?.[1];
    return [...(name ? [{ path: name.path, section, label: name.label, unit: "" }] : []), { path, section, label: side ? `${side}: ${label}` : label, unit }];
  });
  words = {
    quantities,
    single: all.filter(({ path }) => !path.includes("[]")),
    ofPart: all.filter(({ path }) => path.startsWith("parts[].")).map((one) => ({ ...one, path: one.path.slice("parts[].".length) })),
  };
}

export const catalogue = (): Known[] => words.single;
export const partEntries = (): Known[] => words.ofPart;

/** Cans have no default to take a range from: these hold all that are common. */
const CANS: Record<string, { low: number; high: number; unit: string }> = {
  "can.diameter": { low: 10, high: 60, unit: "mm" },
  "can.height": { low: 30, high: 150, unit: "mm" },
  "cathode.width": { low: 20, high: 140, unit: "mm" },
  cell_mass: { low: 10, high: 600, unit: "g" },
};

/** Where a quantity lies in cells at large, by its path in a sheet: what is plausible, or else the default. */
export function rangeOf(path: string): { low: number; high: number; unit: string } | null {
  const bare = path.replaceAll(/\[[^\]]*\]/g, "[]");
  const found = words.quantities.find((one) => one.path === bare);
  const range = CANS[bare] ?? ends(found?.plausible ?? "") ?? ends(found?.default ?? "");
  if (!range) return null;
  return { ...range, unit: range.unit.replace(/cm([23])/g, (_all, power) => `cm${power === "2" ? "²" : "³"}`) };
}

const rootOf = (path: string): string => path.split(/[.[]/)[0] ?? "";

/** Words for an entry by its path; the last name of the path where it is none of these. */
export function wordsFor(path: string): Known {
  const part = /^parts\[\d+\]\.(.+)$/.exec(path)?.[1];
  const found = part ? words.ofPart.find((one) => one.path === part) : words.single.find((one) => one.path === path);
  if (found) return { ...found, path };
  const material = FIGURE_OF.exec(path);
  const section = words.quantities.find((one) => rootOf(one.path) === rootOf(path))?.section ?? plain(rootOf(path));
  if (!material) return { path, section, label: plain(path.split(".").at(-1) ?? path), unit: "" };
  const figure = words.quantities.find((one) => one.path === `materials[].${material[2]}`);
  return { path, section, label: `${material[1]}: ${figure?.label ?? plain(material[2] ?? "")}`, unit: figure?.unit ?? "" };
}

function plain(name: string): string {
  const words = name.replaceAll("_", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}
