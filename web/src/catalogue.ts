/** Entries that a sheet may hold, in the contract's order: words for those the model has not named (yet). */
import { FIGURE_OF, type Electrode } from "./entry";

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
    ["foil.thickness", "foil", "µm"],
    under === "cathode" ? ["width", "coated width", "mm"] : ["overhang", "overhang at each edge", "mm"],
    ["loading", "loading, one face", "mg/cm²"],
    ["thickness", "coating, one face", "µm"],
    ["porosity", "porosity", "%"],
    ["first_cycle_efficiency", "first-cycle efficiency", "%"],
    ["bare_edge", "bare foil edge, as cut", "mm"],
    ["fold_height", "height of the folded edge", "mm"],
  ]);

/** Entries of each part, without the part's path. */
export const PART_ENTRIES: Known[] = known("Parts", "", [
  ["height", "height", "mm"],
  ["stand_off", "stand-off", "mm"],
  ["material", "material", ""],
  ["mass", "mass", "g"],
  ["volume", "solid volume", "cm³"],
  ["filling", "solid share of its room", "%"],
]);

export const CATALOGUE: Known[] = [
  ...known("Can", "can", [
    ["diameter", "outer diameter", "mm"],
    ["height", "outer height", "mm"],
    ["wall", "wall", "mm"],
    ["bottom", "bottom", "mm"],
    ["material", "material", ""],
    ["mass", "mass of the empty can", "g"],
  ]),
  ...known("Can", "", [["cell_mass", "mass of the whole cell", "g"]]),
  ...known("Parts", "", [["head_space", "head-space", "mm"]]),
  ...known("Winding", "winding", [
    ["core_diameter", "core diameter", "mm"],
    ["radial_gap", "gap between roll and wall", "mm"],
    ["slack", "slack per turn", "µm"],
    ["core_turns", "separator turns at the core", "turns"],
    ["anode_lead", "anode turns before the cathode", "turns"],
    ["anode_tail", "anode turns after the cathode", "turns"],
    ["outer_turns", "separator turns outside", "turns"],
    ["tape_thickness", "tape", "µm"],
    ["tape_turns", "turns of tape", "turns"],
    ["cathode_length", "length of the cathode", "mm"],
    ["anode_length", "length of the anode", "mm"],
  ]),
  ...electrode("Cathode", "cathode"),
  ...electrode("Anode", "anode"),
  ...known("Anode", "anode", [["n_to_p", "N/P, reversible areal capacities", ""]]),
  ...known("Separator", "separator", [
    ["material", "material", ""],
    ["thickness", "film", "µm"],
    ["porosity", "porosity", "%"],
    ["margin", "margin past the anode at each edge", "mm"],
    ["ceramic", "ceramic layer, material", ""],
    ["ceramic_thickness", "ceramic layer, both sides together", "µm"],
    ["ceramic_porosity", "porosity of the ceramic layer", "%"],
  ]),
  ...known("Electrolyte", "electrolyte", [
    ["density", "density", "g/cm³"],
    ["excess", "free electrolyte over that in the pores", "%"],
    ["mass", "mass, all of it", "g"],
  ]),
  ...known("Voltage", "voltage", [
    ["upper", "upper limit", "V"],
    ["lower", "lower limit", "V"],
    ["nominal", "nominal voltage, in place of curves", "V"],
  ]),
];

const rootOf = (path: string): string => path.split(/[.[]/)[0] ?? "";

/** Words for an entry by its path; the last name of the path where it is none of these. */
export function wordsFor(path: string): Known {
  const part = /^parts\[\d+\]\.(.+)$/.exec(path)?.[1];
  const found = part ? PART_ENTRIES.find((one) => one.path === part) : CATALOGUE.find((one) => one.path === path);
  if (found) return { ...found, path };
  const material = FIGURE_OF.exec(path);
  const label = material ? `${material[1]}: ${plain(material[2] ?? "")}` : plain(path.split(".").at(-1) ?? path);
  return { path, section: CATALOGUE.find((one) => rootOf(one.path) === rootOf(path))?.section ?? plain(rootOf(path)), label, unit: "" };
}

function plain(name: string): string {
  const words = name.replaceAll("_", " ");
  return words.charAt(0).toUpperCase() + words.slice(1);
}
