/**
 * What was typed, kept in this browser at each keystroke: for the tab, which a reload or a crash must not empty, and as the last
 * work of all tabs. A browser that keeps nothing (private windows, a full disk) is no reason to stop.
 */

const TAB = "roulade.tab";
const LAST = "roulade.last";

interface Kept {
  /** The part of the address after `#` when this was kept: another address asks for something else. */
  hash: string;
  state: unknown;
}

/** Whether it could be kept. */
export function keepHere(hash: string, state: unknown): boolean {
  try {
    const text = JSON.stringify({ hash, state } satisfies Kept);
    sessionStorage.setItem(TAB, text);
    localStorage.setItem(LAST, text);
    return true;
  } catch {
    return false;
  }
}

function read(storage: () => Storage, name: string): Kept | null {
  try {
    const told = JSON.parse(storage().getItem(name) ?? "null") as Partial<Kept> | null;
    return told && typeof told.hash === "string" && "state" in told ? { hash: told.hash, state: told.state } : null;
  } catch {
    return null;
  }
}

/** What this tab last kept. */
export const keptInTab = (): Kept | null => read(() => sessionStorage, TAB);
/** What any tab last kept. */
export const keptLast = (): Kept | null => read(() => localStorage, LAST);
