/** Declared figures as they are pasted from a data sheet: "46 × 80, 26 Ah, 355 g, 300 Wh/kg, 750 Wh/L". Size and mass are entries, the rest is to be checked. */
import { sidesFrom } from "./demo";
import { write } from "./entry";
import type { Sheet } from "./model/contract";

export interface Declared {
  size: { diameter: string; height: string } | null;
  mass: string | null;
  /** Each a claim of its own. */
  claims: string[];
}

export function declaredFrom(text: string): Declared {
  const told: Declared = { size: null, mass: null, claims: [] };
  // A comma inside a number is its decimal mark.
  for (const piece of text.split(/[;\n]|,(?!\d)|,(?=\d+\s*[×x*])/).map((one) => one.trim()).filter(Boolean)) {
    const size = sidesFrom(piece);
    if (size) told.size = size;
    else if (/^(?:about|at most|at least)?\s*[\d.,]+\s*k?g$/.test(piece)) told.mass = piece.replace(/^[a-z ]+/, "");
    // What begins with no figure goes on with the one before: "300 Wh/kg, at 0.2 C".
    else if (told.claims.length > 0 && !/^(?:[a-z]+ ){0,2}[≥≤<>~≈]?\s*\d/i.test(piece)) told.claims.push(`${told.claims.pop()}, ${piece}`);
    else told.claims.push(piece);
  }
  return told;
}

/** The sheet with the size and the mass as they were declared. */
export function withDeclared(sheet: Sheet, { size, mass }: Declared): Sheet {
  const from = "stated" as const;
  let told = sheet;
  if (size) told = write(write(told, "can.diameter", { value: size.diameter, from }), "can.height", { value: size.height, from });
  if (mass) told = write(told, "cell_mass", { value: mass, from });
  return told;
}
