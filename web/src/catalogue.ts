/** Entries that a sheet may hold, in the order of the sheet: words for those that the model has not named in its answer. The words are the model's. */
import { FIGURE_OF } from "./entry";
import type { Quantity } from "./model/contract";

export type Known = Pick<Quantity, "path" | "section" | "label" | "unit">;

/**
 * What a cell is known by, with where it lies in cells at large. It is on the screen before the model has answered, so the model's
 * words for it stand here too, and a test holds them to the model's. The ranges of can, width and mass hold all that are common.
 */
export const ESSENTIAL = (
  [
    ["can.diameter", "Can", "outer diameter", "mm", 10, 60],
    ["can.height", "Can", "outer height", "mm", 30, 150],
    ["can.wall", "Can", "wall thickness", "mm", 0.15, 0.35],
    ["winding.core_diameter", "Winding", "core diameter", "mm", 1, 5],
    ["cathode.loading", "Cathode", "areal mass loading, per side", "mg/cm²", 9, 34],
    ["cathode.thickness", "Cathode", "coating thickness, per side", "µm", 40, 100],
    ["cathode.width", "Cathode", "coated width", "mm", 20, 140],
    ["anode.n_to_p", "Anode", "N/P ratio, reversible areal capacities", "", 1.02, 1.25],
    ["anode.loading", "Anode", "areal mass loading, per side", "mg/cm²", 4, 20],
    ["anode.thickness", "Anode", "coating thickness, per side", "µm", 40, 120],
    ["separator.thickness", "Separator", "film thickness", "µm", 7, 20],
    ["cell_mass", "Can", "mass of the whole cell", "g", 10, 600],
  ] as const
).map(([path, section, label, unit, low, high]) => ({ path, section, label, unit, low, high }));

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

let words: Words = { quantities: [], single: ESSENTIAL, ofPart: [] };

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

const rootOf = (path: string): string => path.split(/[.[]/)[0] ?? "";

/** Words for an entry by its path; the last name of the path where it is none of these. */
export function wordsFor(path: string): Known {
  const part = /^parts\[\d+\]\.(.+)$/.exec(path)?.[1];
  const found = part ? words.ofPart.find((one) => one.path === part) : words.single.find((one) => one.path === path);
  if (found) return { ...found, path };
  const listed = words.quantities.find((one) => one.path === path.replaceAll(/\[\d+\]/g, "[]"));
  if (listed) return { path, section: listed.section, label: listed.label, unit: listed.unit };
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
