/** Spellings of materials: an entry for "nickel-rich 811" and one for "NMC811" must be one. The table is the model's. */
import type { Material } from "./model/contract";

const spellings = new Map<string, string>();

const plain = (name: string): string => name.trim().toLowerCase();

let known: Material[] = [];

/** Names of the materials that a coating of this electrode can be made of. */
export const hosts = (role: Material["role"]): string[] => known.filter((one) => one.role === role).map(({ name }) => name);

export function learn(table: Material[]): void {
  known = table;
  for (const { name, aliases } of table) for (const one of [name, ...aliases]) spellings.set(plain(one), name);
}

/** The table's spelling of a name, or the name as it stands. */
export const canonical = (name: string): string => spellings.get(plain(name)) ?? name.trim();
