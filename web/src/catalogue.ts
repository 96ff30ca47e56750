/** Entries that a sheet may hold, in the contract's order: words for those the model has not named (yet). */
import type { Electrode } from "./entry";

export interface Known {
  path: string;
  section: string;
  label: string;
  unit: string;
}

const known = (section: string, under: string, list: [name: string, label: string, unit: string][]): Known[] =>
  list.map(([name, label, unit]) => ({ path: under ? `${under}.${name}` : name, section, label, unit }));

const electrode = (section: string, under: Electrode): Known[] =>
  known(section, under, [
    ["foil.material", "foil, material", ""],
    ["foil.thickness", "foil, thickness", "µm"],
    ["loading", "loading, one face", "mg/cm²"],
    ["thickness", "coating thickness, one face", "µm"],
    ["porosity", "porosity", ""],
    ["first_cycle_efficiency", "first-cycle efficiency", ""],
    ["width", "coated width", "mm"],
    ["bare_edge", "bare edge of the foil", "mm"],
    ["fold_height", "folded edge, height", "mm"],
  ]);

/** Entries of each part, without the part's path. */
export const PART_ENTRIES: Known[] = known("Parts", "", [
  ["height", "height", "mm"],
  ["stand_off", "stand-off", "mm"],
  ["material", "material", ""],
  ["mass", "mass", "g"],
  ["volume", "volume", "cm³"],
]);

export const CATALOGUE: Known[] = [
  ...known("Can", "can", [
    ["diameter", "diameter", "mm"],
    ["height", "height", "mm"],
    ["wall", "wall", "mm"],
    ["bottom", "bottom", "mm"],
    ["material", "material", ""],
    ["mass", "mass", "g"],
  ]),
  ...known("Winding", "", [["head_space", "head space", "mm"]]),
  ...known("Winding", "winding", [
    ["core_diameter", "core hole, diameter", "mm"],
    ["radial_gap", "gap to the can", "mm"],
    ["slack", "slack in each turn", "µm"],
    ["core_turns", "separator turns at the core", ""],
    ["anode_lead", "anode before the cathode", "mm"],
    ["anode_tail", "anode after the cathode", "mm"],
    ["outer_turns", "separator turns outside", ""],
    ["tape_thickness", "tape, thickness", "µm"],
    ["tape_turns", "tape, turns", ""],
    ["cathode_length", "cathode, length", "mm"],
    ["anode_length", "anode, length", "mm"],
  ]),
  ...electrode("Cathode", "cathode"),
  ...electrode("Anode", "anode"),
  ...known("Anode", "anode", [
    ["overhang", "overhang at each edge", "mm"],
    ["n_to_p", "anode to cathode, by capacity", ""],
  ]),
  ...known("Separator", "separator", [
    ["material", "material", ""],
    ["thickness", "thickness", "µm"],
    ["porosity", "porosity", ""],
    ["margin", "margin past the anode", "mm"],
    ["ceramic_thickness", "ceramic layer, thickness", "µm"],
    ["ceramic_porosity", "ceramic layer, porosity", ""],
  ]),
  ...known("Electrolyte", "electrolyte", [
    ["density", "density", "g/cm³"],
    ["excess", "excess over the pores", ""],
    ["mass", "mass", "g"],
  ]),
  ...known("Voltage", "voltage", [
    ["upper", "upper limit", "V"],
    ["lower", "lower limit", "V"],
    ["nominal", "nominal voltage", "V"],
  ]),
  ...known("Weighing", "", [["cell_mass", "the whole cell", "g"]]),
];

export const rootOf = (path: string): string => path.split(/[.[]/)[0] ?? "";

/** Words for an entry by its path; the last name of the path where it is none of these. */
export function wordsFor(path: string): Known {
  const part = /^parts\[\d+\]\.(.+)$/.exec(path)?.[1];
  const found = part ? PART_ENTRIES.find((one) => one.path === part) : CATALOGUE.find((one) => one.path === path);
  if (found) return { ...found, path };
  const material = /^materials\.(.+)\.([^.]+)$/.exec(path);
  const label = material ? `${material[1]}: ${plain(material[2] ?? "")}` : plain(path.split(".").at(-1) ?? path);
  return { path, section: CATALOGUE.find((one) => rootOf(one.path) === rootOf(path))?.section ?? plain(rootOf(path)), label, unit: "" };
}

function plain(name: string): string {
  const words = name.replaceAll("_", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}
